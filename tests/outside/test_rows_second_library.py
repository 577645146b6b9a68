"""What rows say is left over boxes of poses, and how far lines are clear, against another library.

Source: Coal 3, a general collision library, asked for the distance at random poses of the box.
"""

import numpy as np
import pytest

from geometry.contact.moves import Boxes, YokesMotion
from geometry.contact.pair import ClosingPair
from geometry.contact.row_search import Stretches, search
from geometry.contact.row_tree import row_tree
from geometry.contact.rows import bounds, nearest
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.random_bodies import random_yoke
from tests.outside.second_library import coal_distance, coal_mesh


def triangle(rng: np.random.Generator, middle: float, size: float) -> Mesh:
    """One triangle about a place at a distance from the centre; one in five is a sliver."""
    away = rng.normal(size=3)
    corners = middle * away / np.linalg.norm(away) + size * rng.normal(size=(3, 3))
    if rng.uniform() < 0.2:
        corners[2] = corners[0] + rng.uniform() * (corners[1] - corners[0])
    return Mesh.uniform(corners, [[0, 1, 2]], "triangle")


@pytest.mark.parametrize("leaf", [True, False])
@pytest.mark.parametrize("size", [0.2, 0.02, 0.0])
@pytest.mark.parametrize("gap", [0.0, 3.0])
def test_no_pose_of_a_box_leaves_less_than_its_row_says(
    leaf: bool, size: float, gap: float
) -> None:
    rng = np.random.default_rng(17)
    told = 0
    for number in range(150):
        a, b = triangle(rng, 40.0, 12.0), triangle(rng, 30.0, 6.0)
        one, other = row_tree(a), row_tree(b)
        low = np.array([[rng.uniform(0.0, 1.0) * (number % 9 > 0), rng.uniform(0.0, 6.3)]])
        box = Boxes(low, low + size * rng.uniform(0.0, 1.0, (1, 2)))
        rows = (np.array([1]), np.array([1]), np.array([0]))
        moves = YokesMotion().over(box)
        least = float(bounds((one, other), moves, rows, gap, gap, leaf)[0][0]) + gap
        shapes = coal_mesh(a), coal_mesh(b)
        share = np.concatenate([rng.uniform(0.0, 1.0, (20, 2)), [[0, 0], [0, 1], [1, 0], [1, 1]]])
        # Metal farther out than all of the first body by the gap is out of the row's concern.
        if b.radius > a.radius + gap:
            continue
        poses = box.low + share * (box.high - box.low)
        left = min(coal_distance(*shapes, driven_in_driving(*pose)) for pose in poses.tolist())
        assert least <= left + 1e-7
        told += least > 0.0
        if leaf and size == 0.0 and abs(left - gap) > 1e-6:
            assert (least > gap) == (left > gap)
    assert told > 40


def test_the_direction_is_that_of_the_nearest_points() -> None:
    """Along it two triangles are as far apart as they are at all."""
    rng = np.random.default_rng(5)
    pairs = [(triangle(rng, 10.0, 5.0), triangle(rng, 10.0, 5.0)) for _ in range(300)]
    P, Q = (np.array([pair[i].triangles[0] for pair in pairs]).transpose(1, 2, 0) for i in (0, 1))
    n, seen = nearest(P, Q)
    apart = np.einsum("kin,in->kn", Q, n).min(axis=0) - np.einsum("kin,in->kn", P, n).max(axis=0)
    true = np.array([coal_distance(coal_mesh(a), coal_mesh(b), np.eye(3)) for a, b in pairs])
    np.testing.assert_allclose(apart[true > 0.0], true[true > 0.0], atol=1e-6, rtol=0.0)
    np.testing.assert_allclose(seen[true > 0.0], true[true > 0.0], atol=1e-6, rtol=0.0)
    assert (true > 0.0).sum() > 150


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("together", [1, 8])
def test_a_line_is_clear_up_to_where_the_gap_is_just_left(seed: int, together: int) -> None:
    """Asked past the touch, alone or in one box with its neighbors: each ends at its own."""
    rng, gap, high = np.random.default_rng(seed), 2.0, 0.6
    a, b = random_yoke(rng), random_yoke(rng)
    pair, shapes = ClosingPair(a, b, gap=gap), (coal_mesh(a), coal_mesh(b))
    lines = np.linspace(0.0, 0.7, 8) + seed
    group, side = np.arange(8) // together, np.stack([lines, lines], 1)
    proof = search(pair, Stretches(np.zeros(8), np.full(8, high), side, group))
    assert proof.finished
    for line, clear, where in zip(lines, proof.clear, proof.where, strict=True):
        if clear < 0.0:
            assert coal_distance(*shapes, driven_in_driving(0.0, line)) <= gap
            continue
        for bend in np.linspace(0.0, clear, 40):
            assert coal_distance(*shapes, driven_in_driving(bend, line)) >= gap - 1e-6
        if clear < high:
            assert where == line
            left = coal_distance(*shapes, driven_in_driving(clear, line))
            assert left == pytest.approx(gap, abs=2.0 * TOL.graze)
