"""Mesh distance against Coal on random poses. Source: Coal 3, a general collision library."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from geometry.contact.distance import MeshPair
from geometry.joint import driven_in_driving
from sim.parts.catalogue import yoke_shape
from tests.outside.second_library import coal_cuts, coal_distance, coal_mesh
from tests.simple_shapes import ball, box


def test_random_turns_of_yokes_agree() -> None:
    """The distance of the full contact meshes in poses of the joint, and beyond the joint."""
    rng = np.random.default_rng(20)
    weld = yoke_shape("weld yoke", "27 x 82").build().contact
    strap = yoke_shape("strap yoke", "27 x 82").build().contact
    ours, a, b = MeshPair(weld, strap), coal_mesh(weld), coal_mesh(strap)
    poses = [
        driven_in_driving(bend, spin)
        for bend, spin in zip(rng.uniform(0, 0.7, 60), rng.uniform(0, 7, 60), strict=True)
    ]
    poses += list(Rotation.random(20, random_state=5).as_matrix())
    seen = 0
    for R in poses:
        there = coal_distance(a, b, R)
        here = ours.nearest(R).distance
        assert ours.cut(R) == coal_cuts(a, b, R)
        if there > 0.0:
            seen += 1
            assert here == pytest.approx(there, abs=1e-7)
        else:
            assert here == 0.0
    assert seen > 20


def test_random_places_of_simple_bodies_agree() -> None:
    rng = np.random.default_rng(3)
    one, other = box((-5, -9, -2), (5, 9, 2), "box"), ball((40, 0, 0), 8.0, "ball")
    ours, a, b = MeshPair(one, other), coal_mesh(one), coal_mesh(other)
    for R in Rotation.random(100, random_state=rng.integers(1 << 30)).as_matrix():
        assert ours.nearest(R).distance == pytest.approx(coal_distance(a, b, R), abs=1e-7)
