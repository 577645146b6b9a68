"""Signed distances from a mesh: closed forms on a ball and a box, bounds that hold."""

import numpy as np
import pytest

from geometry.contact.containment import holds
from geometry.contact.field import BAND, CELL, NODES, DistanceField, TriangleTable
from geometry.contact.triangles import distance_to_origin, strewn
from geometry.errors import MeshError
from geometry.mesh import Mesh
from tests.simple_shapes import ball, box


def cloud(size: float, count: int, seed: int = 0) -> np.ndarray:
    return np.random.default_rng(seed).uniform(-size, size, (count, 3))


def single(points: np.ndarray) -> np.ndarray:
    return points.T.astype(np.float32)


@pytest.mark.slow
def test_a_ball_of_20_mm() -> None:
    mesh = ball((0, 0, 0), 20.0, "ball")
    field = DistanceField(mesh, 40.0)
    points = cloud(25.0, 4000)
    true = np.clip(np.linalg.norm(points, axis=1) - 20.0, -BAND, BAND)
    assert field.exact(points) == pytest.approx(true, abs=mesh.chord + 1e-9)
    # Straight between nodes: off by up to step^2 / 8 times the curvature along each axis.
    curved = 3.0 * (CELL / NODES) ** 2 / 8.0 / (20.0 - BAND)
    within = np.abs(true) < BAND - 1.0
    near = field.at(single(points[within]))
    assert near == pytest.approx(true[within], abs=mesh.chord + curved)


def test_a_box_has_the_sign_of_its_inside_and_the_distance_of_its_surface() -> None:
    mesh = box((-20, -9, -5), (10, 9, 14), "box")
    field = DistanceField(mesh, 40.0)
    points = cloud(25.0, 3000)
    low, high = np.array([-20, -9, -5]), np.array([10, 9, 14])
    away = np.maximum(low - points, points - high)
    true = np.linalg.norm(np.maximum(away, 0.0), axis=1) + np.minimum(away.max(axis=1), 0.0)
    true = np.clip(true, -BAND, BAND)
    assert field.exact(points) == pytest.approx(true, abs=1e-6)
    assert np.array_equal(field.exact(points) < 0.0, holds(mesh, points))
    within = np.abs(true) < BAND - 1.0
    assert np.abs(field.at(single(points[within])) - true[within]).max() < 0.4 * CELL / NODES


def test_the_bound_is_never_more_than_the_distance() -> None:
    """Also far outside of the band; deep inside it is held to the band."""
    for mesh in (box((-9, -9, -9), (9, 9, 9), "cube"), box((-30, -30, 10), (30, 30, 13), "plate")):
        field = DistanceField(mesh, 60.0)
        points = cloud(40.0, 1200)
        points = points[np.linalg.norm(points, axis=1) < 60.0]
        outside = ~holds(mesh, points)
        true = np.array([distance_to_origin(mesh.triangles - p).min() for p in points[outside]])
        bound = field.bound(single(points[outside]))
        assert (bound <= true + 1e-4).all()
        assert np.median((true - bound)[true < BAND]) < CELL
        assert (field.bound(single(points[~outside])) <= 1e-4).all()


def test_point_and_triangle_against_a_fine_net_of_points() -> None:
    rng = np.random.default_rng(2)
    corners = rng.normal(size=(60, 3, 3)) * 10.0
    table = TriangleTable(corners)
    points = rng.normal(size=(60, 3)) * 10.0
    found = np.sqrt(table.square(np.arange(60), points.T))
    net, owner = strewn(corners, 0.2)
    far = np.linalg.norm(net - points[owner], axis=1)
    nearest = np.array([far[owner == i].min() for i in range(60)])
    assert (found <= nearest + 1e-9).all()
    assert nearest - found == pytest.approx(0.0, abs=0.25)
    n = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    n /= np.linalg.norm(n, axis=1, keepdims=True)
    height = np.einsum("ij,ij->i", points - corners[:, 0], n)
    assert table.height(np.arange(60), points.T) == pytest.approx(height, abs=1e-9)


def test_strewn_points_lie_on_their_triangles_and_cover_them() -> None:
    corners = np.random.default_rng(1).normal(size=(8, 3, 3)) * 20.0
    points, owner = strewn(corners, 1.0)
    for i in range(8):
        mine = points[owner == i]
        for p in mine[::7]:
            assert distance_to_origin(corners[i : i + 1] - p)[0] == pytest.approx(0.0, abs=1e-9)
        middle = corners[i].mean(axis=0)
        assert np.linalg.norm(mine - middle, axis=1).min() < 1.0


def test_a_surface_without_area_is_refused() -> None:
    flat = Mesh.uniform(np.zeros((3, 3)), [[0, 1, 2]], "nothing")
    with pytest.raises(MeshError, match="without area"):
        DistanceField(flat, 10.0)
