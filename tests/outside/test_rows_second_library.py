"""What rows say is left between two triangles over a box of poses, against another library.

Source: Coal 3, a general collision library, asked for the distance at random poses of the box.
"""

import numpy as np
import pytest

from geometry.contact.moves import Boxes, YokesMotion
from geometry.contact.row_tree import row_tree
from geometry.contact.rows import bounds, nearest
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
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
