"""Points all over a body: what area they stand for, and that none is lost near something."""

import numpy as np
import pytest

from geometry.contact.skin import joined, skin
from geometry.mesh import Booleans, Floats, Mesh
from tests.simple_shapes import ball, box

LONG = box((0, 0, 0), (90, 7, 3), "bar")
RNG = np.random.default_rng(3)


def everywhere(places: Floats, _within: float) -> Booleans:
    return np.ones(places.shape[1], dtype=bool)


@pytest.mark.parametrize("mesh", [LONG, ball((5, 1, 2), 6.0, "ball")])
@pytest.mark.parametrize("spacing", [0.9, 2.5])
def test_the_areas_add_up_to_that_of_the_mesh(mesh: Mesh, spacing: float) -> None:
    found = skin(mesh, spacing, everywhere)
    whole = float(mesh.areas.sum())
    assert found.areas.sum() == pytest.approx(whole, rel=1e-9)
    corners = found.points[found.faces]
    sides = np.linalg.norm(corners[:, [1, 2, 0]] - corners, axis=2)
    assert sides.max() <= spacing + 1e-9
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    assert 0.5 * np.linalg.norm(across, axis=1).sum() == pytest.approx(whole, rel=1e-9)
    np.testing.assert_allclose(np.linalg.norm(found.normals, axis=1), 1.0, rtol=0.0, atol=1e-9)


def test_the_corners_of_a_body_are_among_the_points() -> None:
    found = skin(LONG, 1.5, everywhere)
    for corner in LONG.vertices:
        assert np.linalg.norm(found.points - corner, axis=1).min() < 1e-9


def test_nothing_is_lost_where_something_is_near() -> None:
    """Something at a place of the surface, by its exact distance: the triangle there is kept on
    every level, however slender the triangles are."""
    for place in RNG.uniform([0, 0, 3], [90, 7, 3], (60, 3)):

        def near(places: Floats, within: float, place: Floats = place) -> Booleans:
            return np.asarray(np.linalg.norm(places.T - place, axis=1) <= within)

        found = skin(LONG, 1.0, near)
        assert np.linalg.norm(found.points - place, axis=1).min() <= 1.0
        assert len(found) < 60


def test_the_tip_of_a_needle_is_not_lost() -> None:
    """A triangle's tip may be two thirds of its longest side from its middle."""
    tip = np.array([63.8, 0.0, 0.0])
    needle = Mesh.uniform([[0, 0, 0], tip, [0, 0.01, 0]], [[0, 1, 2]], "needle")

    def near(places: Floats, within: float) -> Booleans:
        return np.asarray(np.linalg.norm(places.T - tip, axis=1) <= within)

    assert np.linalg.norm(skin(needle, 1.0, near).points - tip, axis=1).min() < 1e-9


def test_an_edge_of_two_surfaces_has_points_of_either() -> None:
    two = LONG.named({"top": LONG.normals[:, 2] > 0.9})
    found = skin(two, 2.0, everywhere)
    edge = (np.abs(found.points[:, 2] - 3.0) < 1e-9) & (np.abs(found.points[:, 1]) < 1e-9)
    assert {found.names[label] for label in found.labels[edge]} == {"bar", "top"}
    top = found.only(found.labels == found.names.index("top"))
    assert top.areas.sum() == pytest.approx(90 * 7)
    np.testing.assert_allclose(top.normals, np.tile([0.0, 0.0, 1.0], (len(top), 1)), atol=1e-9)


def test_halves_joined_in_a_mirror_are_the_whole() -> None:
    whole = box((-4, -10, -5), (4, 10, 5), "block")
    found = skin(whole, 1.5, everywhere)
    half = found.only(found.points[:, 1] >= -1e-9)
    both, first = joined([half, half.flipped(np.array([1.0, -1.0, 1.0]))])
    assert len(first) == len(both)
    assert len(np.unique(np.round(both.points, 6), axis=0)) == len(both)
    faces = both.points[both.faces]
    out = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    assert (np.einsum("ij,ij->i", out, faces.mean(axis=1)) > 0.0).all()
