import numpy as np
import pytest

from geometry.errors import ShapeError
from geometry.yoke import FlangeYoke
from tests.geometry.yoke_samples import FLANGE


def test_the_bolts_straddle_the_ears_and_stand_out() -> None:
    yoke = FlangeYoke(**FLANGE)
    places = np.array(yoke.bolt_places())
    np.testing.assert_allclose(np.abs(places), 42.5 * np.sqrt(0.5), rtol=1e-12)
    mesh = yoke.build().contact
    heads = mesh.triangles[mesh.on("bolt")]
    np.testing.assert_allclose(heads[..., 0].min(), 36.0 - 6.5, rtol=0.0, atol=1e-9)


@pytest.mark.parametrize("bolts", [4, 6, 8])
def test_more_bolts_find_their_room_or_say_why_not(bolts: int) -> None:
    dims = FLANGE | {"bolts": bolts}
    if bolts == 4:
        assert len(FlangeYoke(**dims).bolt_places()) == 4
    else:
        with pytest.raises(ShapeError, match="bolt_circle"):
            FlangeYoke(**dims)
        wide = dims | {"bolt_circle": 170.0, "flange_diameter": 190.0}
        assert len(FlangeYoke(**wide).bolt_places()) == bolts
