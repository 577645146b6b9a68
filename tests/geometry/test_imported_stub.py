"""The round behind the ears as a witness, on rough scans of bodies whose stub is known."""

import numpy as np
import pytest
import trimesh

from geometry.imported.cylinder import Cylinder
from geometry.imported.stub import stub_of
from geometry.imported.wall import runs_of, wall_faces
from geometry.mesh import Mesh
from tests.outside.test_bore_finder import fork, posed, scanned

ALONG_X = trimesh.transformations.rotation_matrix(np.pi / 2, [0, 1, 0])


def with_stub(aside: float, noise: float) -> trimesh.Trimesh:
    """A fork with a stub of 40 mm, `aside` along the bores."""
    stub = trimesh.creation.cylinder(20.0, 60.0, sections=64).apply_transform(ALONG_X)
    body = fork(14.0, 60.0, 16.0).union(stub.apply_translation([65.0, aside, 0.0]))
    return scanned(body, 3.0, noise, 3)


@pytest.mark.slow
@pytest.mark.parametrize("noise", [0.0, 0.1])
@pytest.mark.parametrize("aside", [0.0, 0.6, 2.0])
def test_the_stub_is_found_where_it_is(aside: float, noise: float) -> None:
    """To 0.01 mm, 0.05 mm with noise, from a start that is 1 mm and 2 deg off."""
    mesh, y, middle = posed(with_stub(aside, noise), 5)
    points = np.asarray(mesh.vertices)
    x = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)[2]
    way = next(v for v in x if abs(v @ y) < 0.2)
    way = way * np.sign(way @ (points.mean(axis=0) - middle))
    way = way - (way @ y) * y
    start = way / np.linalg.norm(way) + 0.03 * y
    stub = stub_of(mesh, mesh, middle + 1.0 * y, start / np.linalg.norm(start), 14.0)
    assert stub is not None
    few = 0.01 + 0.4 * noise
    # The facets between two of its 64 corners lie up to r (1 - cos(pi / 64)) inside.
    np.testing.assert_allclose(stub.round.radius, 20.0 - 0.012, rtol=0, atol=0.012 + few)
    np.testing.assert_allclose(stub.beside(middle) @ y, aside, rtol=0, atol=2.0 * few)
    assert abs(stub.round.axis @ y) < np.radians(0.01 + noise)
    assert stub.arc > 0.95
    assert stub.unsure_place < few
    np.testing.assert_allclose(
        stub.scaled(25.4).beside(25.4 * middle), 25.4 * stub.beside(middle), rtol=0, atol=1e-6
    )


def test_a_body_without_a_round_has_no_stub() -> None:
    mesh, y, middle = posed(fork(14.0, 60.0, 16.0), 5)
    x = np.cross(y, [0.3, 0.2, 0.9])
    assert stub_of(mesh, mesh, middle, x / np.linalg.norm(x), 14.0) is None


def test_a_wall_of_long_triangles_is_whole() -> None:
    """A pipe's wall has corners on its two rims alone: one stretch, all round, its area exact."""
    pipe = trimesh.creation.annulus(10.0, 14.0, 50.0, sections=48)
    mesh = Mesh.uniform(pipe.vertices, pipe.faces, "pipe")
    hole = Cylinder(np.array([0.0, 0.0, 1.0]), np.zeros(3), 10.0)
    (run,) = runs_of(mesh, wall_faces(mesh, hole, 0.1), hole)
    np.testing.assert_allclose([run.start, run.stop], [-25.0, 25.0], rtol=0, atol=0.4)
    assert run.arc == 1.0
    np.testing.assert_allclose(run.area, 2.0 * np.pi * 10.0 * 50.0, rtol=0.01)
    assert len(wall_faces(mesh, hole, 0.1, way=1.0)) == 0
