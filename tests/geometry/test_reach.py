import numpy as np
import pytest

from geometry.mesh import Mesh
from geometry.reach import Outskirts, reach, within
from tests.simple_shapes import ball, box, hub

TUBE = hub(20.0, 15.0, 48, thick=300.0)


def test_cone_of_a_tube_closes_with_radius() -> None:
    """Beyond radius r a tube of radius a lies within asin(a / r) of its axis."""
    outside = float(np.linalg.norm(TUBE.vertices[:, 1:], axis=1).max())
    for radius in (40.0, 80.0, 200.0):
        assert Outskirts(TUBE).cone_beyond(radius) == pytest.approx(
            np.arcsin(outside / radius), abs=1e-9
        )
    assert Outskirts(TUBE).cone_beyond(1000.0) == 0.0


def test_metal_behind_the_cross_counts_as_all_round() -> None:
    assert Outskirts(ball((-30, 0, 0), 3.0, "ball")).cone_beyond(20.0) == np.pi


def test_reach_leaves_out_the_tubes_but_not_the_ears() -> None:
    ear = box((-20, 30, -10), (30, 40, 10), "ear")
    body = Mesh.join([TUBE, ear])
    radius = reach(body, body, np.radians(60.0))
    far_ear = np.linalg.norm(ear.vertices[ear.vertices[:, 0] < 0], axis=1).max()
    assert far_ear - 0.1 <= radius < 60.0
    assert within(body, radius).bounds[0, 0] == pytest.approx(-20.0)


def test_what_is_left_out_is_farther_than_the_reach() -> None:
    near = within(TUBE, 50.0)
    assert 0 < len(near.faces) < len(TUBE.faces)
    kept = {tuple(t.ravel()) for t in near.triangles}
    rng = np.random.default_rng(1)
    for triangle in TUBE.triangles:
        if tuple(triangle.ravel()) not in kept:
            w = rng.dirichlet(np.ones(3), 200)
            assert np.linalg.norm(w @ triangle, axis=1).min() > 50.0
