import numpy as np
import pytest

from geometry.contact.distance import MeshPair
from geometry.errors import MeshError
from geometry.mesh import Mesh
from tests.simple_shapes import ball, box

UNIT = box((-0.5, -0.5, -0.5), (0.5, 0.5, 0.5), "cube")


def test_nearest_points_are_in_the_frame_of_the_first() -> None:
    pair = MeshPair(UNIT, UNIT)
    near = pair.nearest(np.eye(3), np.array([3.0, 0.0, 0.0]))
    assert near.distance == pytest.approx(2.0, abs=1e-12)
    assert near.point_a[0] == pytest.approx(0.5, abs=1e-12)
    assert near.point_b[0] == pytest.approx(2.5, abs=1e-12)


def test_triangles_carry_the_nearest_points() -> None:
    pair = MeshPair(UNIT, ball((0, 0, 0), 1.0, "ball"))
    near = pair.nearest(np.eye(3), np.array([0.0, 0.0, 5.0]))
    assert UNIT.triangles[near.triangle_a][:, 2] == pytest.approx(0.5, abs=1e-12)


def test_overlap_says_zero_and_names_cut_triangles() -> None:
    pair = MeshPair(UNIT, UNIT)
    shift = np.array([0.7, 0.1, 0.0])
    assert pair.nearest(np.eye(3), shift).distance == 0.0
    assert pair.cut(np.eye(3), shift)
    assert pair.cut_triangles(np.eye(3), shift) is not None
    assert pair.cut_triangles(np.eye(3), np.array([5.0, 0.0, 0.0])) is None


def test_a_mesh_without_triangles_is_refused() -> None:
    empty = Mesh(np.zeros((0, 3)), np.zeros((0, 3), int), np.zeros(0, int), ("none",))
    with pytest.raises(MeshError, match="no triangles"):
        MeshPair(UNIT, empty)
