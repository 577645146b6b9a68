import numpy as np

from geometry.yoke import WeldYoke
from tests.geometry.yoke_samples import WELD


def test_the_surfaces_are_where_their_names_say() -> None:
    mesh = WeldYoke(**WELD).build().contact
    middle = mesh.triangles.mean(axis=1)
    out = mesh.area_vectors / np.linalg.norm(mesh.area_vectors, axis=1, keepdims=True)
    assert (middle[mesh.on("ear tip"), 0] < 0.0).all()
    assert (middle[mesh.on("throat"), 0] > 0.0).all()
    assert (middle[mesh.on("tube end"), 0] > 54.0).all()
    inside = mesh.on("ear inside face")
    np.testing.assert_allclose(np.abs(middle[inside, 1]), 27.0, rtol=0.0, atol=1e-9)
    assert (out[inside, 1] * middle[inside, 1] < 0.0).all()
    np.testing.assert_allclose(
        np.abs(middle[mesh.on("ear outside face"), 1]).max(), 43.5, rtol=0.0, atol=1e-9
    )
