import numpy as np

from geometry.yoke import StrapYoke
from tests.geometry.yoke_samples import STRAP


def test_the_saddles_are_open_toward_the_cross() -> None:
    yoke = StrapYoke(**STRAP).build()
    body, caps = yoke.parts["body"], yoke.parts["caps"]
    np.testing.assert_allclose(body.bounds[0, 0], 0.8, rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(caps.bounds[0, 0], -13.5, rtol=0.0, atol=1e-9)
    assert set(yoke.parts) == {
        "body",
        "caps",
        "straps",
        "bolts",
        "nut",
        "seal guard",
        "seal housing",
    }
