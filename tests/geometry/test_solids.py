from collections.abc import Callable
from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from geometry.contact.symmetry import HALF_TURN_X, MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.errors import MeshError, ShapeError
from geometry.facets import circle, facet_gap, facets_around, rounded_rectangle
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, hull, loft, prism, turned
from geometry.tolerances import TOL
from tests.geometry.metal import assert_holds_true_surface, assert_sound, ring, winding

SQUARE = np.array([[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]])


def box(low: tuple[float, float, float], high: tuple[float, float, float], name: str) -> Solid:
    (x0, y0, z0), (x1, y1, z1) = low, high
    return prism([[y0, z0], [y1, z0], [y1, z1], [y0, z1]], "x", x0, x1, name)


@pytest.mark.parametrize("axis", ["x", "y", "z"])
@given(radius=st.floats(1.0, 80.0), length=st.floats(0.1, 300.0))
@settings(max_examples=20)
def test_a_cylinder_is_its_prism(axis: str, radius: float, length: float) -> None:
    solid = cylinder(axis, radius, -1.0, length, "round", centre=(5.0, -2.0))  # type: ignore[arg-type]
    count = facets_around(radius)
    np.testing.assert_allclose(
        solid.volume, count * radius**2 * np.tan(pi / count) * (length + 1.0), rtol=1e-9
    )
    hole = cylinder(axis, radius, -1.0, length, "hole", hole=True)  # type: ignore[arg-type]
    count = facets_around(radius, hole=True)
    np.testing.assert_allclose(
        hole.volume, 0.5 * count * radius**2 * np.sin(2 * pi / count) * (length + 1.0), rtol=1e-9
    )


@pytest.mark.parametrize("axis", ["x", "y"])
def test_the_true_cylinder_lies_in_its_mesh(axis: str) -> None:
    mesh = cylinder(axis, 38.1, 0.0, 50.0, "round").mesh()  # type: ignore[arg-type]
    assert_sound(mesh)
    points, out = ring(38.1, [1.0, 30.0], np.linspace(-pi, pi, 181), axis)
    assert_holds_true_surface(mesh, points, out)


def test_the_mesh_hole_lies_in_the_true_hole() -> None:
    block = box((0.0, -30.0, -30.0), (20.0, 30.0, 30.0), "block")
    mesh = block.cut(cylinder("x", 13.5, -1.0, 21.0, "bore", hole=True)).mesh()
    points, out = ring(13.5, [3.0, 17.0], np.linspace(-pi, pi, 181), "x")
    assert_holds_true_surface(mesh, points, -out)


def test_volumes_of_union_and_intersection_make_the_sum() -> None:
    a = box((0.0, 0.0, 0.0), (2.0, 3.0, 4.0), "a")
    b = box((1.0, 1.0, 1.0), (5.0, 2.0, 7.0), "b")
    both, shared = Solid.union([a, b]), a.common(b)
    np.testing.assert_allclose(shared.volume, 1.0 * 1.0 * 3.0, rtol=1e-12)
    np.testing.assert_allclose(both.volume + shared.volume, a.volume + b.volume, rtol=1e-12)
    np.testing.assert_allclose(a.cut(b).volume, a.volume - shared.volume, rtol=1e-12)


def test_names_live_through_booleans() -> None:
    block = box((0.0, -9.0, -9.0), (5.0, 9.0, 9.0), "block")
    knob = cylinder("x", 4.0, 2.0, 8.0, "knob")
    bore = cylinder("x", 2.0, -1.0, 9.0, "bore", hole=True)
    mesh = Solid.union([block, knob]).cut(bore).mesh()
    assert set(mesh.label_names) == {"block", "knob", "bore"}
    middle = mesh.triangles.mean(axis=1)
    away = np.hypot(middle[:, 1], middle[:, 2])
    assert (away[mesh.on("bore")] < 2.0).all()
    assert (middle[mesh.on("knob"), 0] > 5.0).all()
    assert (middle[mesh.on("block"), 0] <= 5.0).all()


@given(
    inner=st.floats(1.0, 40.0),
    width=st.floats(0.5, 30.0),
    height=st.floats(0.5, 30.0),
)
@settings(max_examples=30)
def test_a_turned_ring_is_its_profile_times_its_way(
    inner: float, width: float, height: float
) -> None:
    """Pappus for facets: the area of the true circle grows as that of the tangent polygon."""
    outer = inner + height
    profile = [[0.0, inner], [width, inner], [width, outer], [0.0, outer]]
    solid = turned(profile, "y", "ring", centre=(3.0, 4.0))
    count = facets_around(outer)
    expected = pi * (outer**2 - inner**2) * width * np.tan(pi / count) / (pi / count)
    np.testing.assert_allclose(solid.volume, expected, rtol=1e-9)


def test_a_turned_body_may_reach_its_axis() -> None:
    cone = turned([[0.0, 0.0], [9.0, 0.0], [0.0, 6.0]], "x", "cone")
    assert_sound(cone.mesh())
    count = facets_around(6.0)
    np.testing.assert_allclose(
        cone.volume, count * 36.0 * np.tan(pi / count) * 9.0 / 3.0, rtol=1e-9
    )


def test_part_of_a_turn() -> None:
    profile = [[0.0, 5.0], [2.0, 5.0], [2.0, 8.0], [0.0, 8.0]]
    half = turned(profile, "y", "ring", sweep=(-pi, 0.0), facets=15, flats=True)
    assert half.chord == 0.0
    np.testing.assert_allclose(half.mesh().bounds[1, 2], 8.0 / np.cos(pi / 30), rtol=1e-12)
    np.testing.assert_allclose(half.mesh().bounds[1, 0], 0.0, rtol=0.0, atol=1e-9)
    # y leads to z then x: the sweep ran through -x, in the middle of a facet.
    np.testing.assert_allclose(half.mesh().bounds[0, 0], -8.0, rtol=1e-12)


def test_an_outline_need_not_be_convex() -> None:
    ell = [[0.0, 0.0], [3.0, 0.0], [3.0, 1.0], [1.0, 1.0], [1.0, 4.0], [0.0, 4.0]]
    solid = prism(ell, "z", -1.0, 1.5, "ell")
    assert_sound(solid.mesh())
    np.testing.assert_allclose(solid.volume, 6.0 * 2.5, rtol=1e-12)


def test_a_loft_is_a_frustum() -> None:
    solid = loft([(0.0, 3.0 * SQUARE), (6.0, SQUARE)], "x", "frustum")
    np.testing.assert_allclose(solid.volume, 6.0 / 3.0 * (36.0 + 12.0 + 4.0), rtol=1e-12)


@given(st.floats(5.0, 40.0), st.floats(5.0, 40.0), st.floats(0.05, 1.0), st.floats(5.0, 40.0))
@settings(max_examples=30)
def test_a_loft_between_unlike_outlines_is_their_hull(
    y: float, z: float, share: float, radius: float
) -> None:
    sections = [(0.0, rounded_rectangle(y, z, share * min(y, z), 3)), (7.0, circle(radius))]
    solid = loft(sections, "x", "root")
    points = np.concatenate(
        [np.column_stack([np.full(len(flat), x), flat]) for x, flat in sections]
    )
    np.testing.assert_allclose(solid.volume, hull(points, "root").volume, rtol=1e-9)


def test_a_hull_of_corners() -> None:
    corners = np.array([[x, y, z] for x in (0, 2) for y in (0, 3) for z in (0, 4)], dtype=float)
    solid = hull(np.vstack([corners, [[1.0, 1.0, 1.0]]]), "box")
    np.testing.assert_allclose(solid.volume, 24.0, rtol=1e-12)
    assert solid.mesh().label_names == ("box",)


def test_turning_keeps_the_volume() -> None:
    turn = Rotation.from_rotvec([0.4, -0.2, 1.0]).as_matrix()
    solid = box((0.0, 0.0, 0.0), (2.0, 3.0, 4.0), "a")
    turned_solid = solid.turned_to(turn)
    np.testing.assert_allclose(turned_solid.volume, 24.0, rtol=1e-12)
    inside = turn @ [1.9, 2.9, 3.9]
    np.testing.assert_allclose(winding(turned_solid.mesh(), inside[None]), 1.0, rtol=0.0, atol=1e-9)
    with pytest.raises(MeshError, match="not a rotation"):
        solid.turned_to(2.0 * np.eye(3))


def test_a_body_that_is_its_own_mirror_image_gets_a_mesh_that_is() -> None:
    block = box((0.0, -9.0, -7.0), (5.0, 9.0, 7.0), "block")
    bores = [
        cylinder("x", 1.5, -1.0, 6.0, "bore", (y, z), hole=True) for y in (5, -5) for z in (4, -4)
    ]
    solid = block.cut(*bores)
    mesh = solid.mirrored_mesh()
    assert_sound(mesh)
    np.testing.assert_allclose(mesh.volume, solid.volume, rtol=1e-12)
    for flip in (MIRROR_Y, MIRROR_Z, HALF_TURN_X):
        assert is_symmetric(mesh, flip)
    assert set(mesh.label_names) == {"block", "bore"}
    assert mesh.on("bore").sum() == 4 * 2 * facets_around(1.5, hole=True)


def test_a_lopsided_body_keeps_its_own_mesh() -> None:
    solid = box((0.0, -9.0, -7.0), (5.0, 8.0, 7.0), "block")
    np.testing.assert_allclose(solid.mirrored_mesh().volume, solid.volume, rtol=1e-12)
    np.testing.assert_allclose(solid.mirrored_mesh().bounds[:, 1], [-9.0, 8.0], rtol=1e-12)


def test_a_mesh_becomes_a_solid_again_with_its_names() -> None:
    block = box((0.0, -9.0, -9.0), (5.0, 9.0, 9.0), "block")
    bored = block.cut(cylinder("x", 2.0, -1.0, 9.0, "bore", hole=True))
    again = Solid.from_mesh(bored.mesh())
    assert again.chord == bored.chord
    np.testing.assert_allclose(again.volume, bored.volume, rtol=1e-12)
    mesh = Solid.union([again, cylinder("x", 3.0, 4.0, 8.0, "knob")]).mesh()
    assert set(mesh.label_names) == {"block", "bore", "knob"}
    assert mesh.on("bore").sum() > 0
    with pytest.raises(MeshError, match="a mesh"):
        Solid.from_mesh(Mesh(*_open(bored.mesh())))


def _open(mesh: Mesh) -> tuple[np.ndarray, np.ndarray, np.ndarray, tuple[str, ...]]:
    return mesh.vertices, mesh.faces[1:], mesh.labels[1:], mesh.label_names


def test_flakes_are_swept_away_and_true_pieces_are_counted() -> None:
    a = box((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), "a")
    far = box((5.0, 5.0, 5.0), (6.0, 6.0, 6.0), "far")
    flake = box((8.0, 0.0, 0.0), (8.001, 0.01, 0.01), "flake")
    three = Solid.union([a, far, flake])
    assert three.pieces == 3
    assert three.without_crumbs().pieces == 2
    np.testing.assert_allclose(three.without_crumbs().volume, 2.0, rtol=1e-12)


def test_the_worst_chord_is_stated() -> None:
    fine, coarse = (cylinder("x", r, 0.0, 9.0, "round") for r in (4.0, 38.0))
    stated = Solid.union([fine, coarse]).mesh().chord
    assert stated == max(fine.chord, coarse.chord)
    np.testing.assert_allclose(
        coarse.chord, np.sqrt(2.0) * facet_gap(38.0, facets_around(38.0)), rtol=1e-12
    )
    assert stated <= TOL.chord


def test_what_is_no_body_is_refused() -> None:
    corners = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float)
    sides = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]])
    np.testing.assert_allclose(Solid.of(corners, sides, "corner").volume, 1 / 6, rtol=1e-12)
    with pytest.raises(MeshError, match="making 'open'"):
        Solid.of(corners, sides[:3], "open")
    with pytest.raises(MeshError, match="making 'turned over'"):
        Solid.of(corners, sides[:, ::-1], "turned over")
    with pytest.raises(MeshError, match="hull 'flat'"):
        hull(np.vstack([corners[:3], corners[:3]]), "flat")


def test_booleans_that_leave_nothing_are_refused() -> None:
    a = box((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), "a")
    far = box((5.0, 5.0, 5.0), (6.0, 6.0, 6.0), "far")
    with pytest.raises(MeshError, match="intersection: nothing is left"):
        a.common(far)
    with pytest.raises(MeshError, match="cut: nothing is left"):
        a.cut(box((-1.0, -1.0, -1.0), (2.0, 2.0, 2.0), "all"))
    with pytest.raises(ShapeError, match="no solids given"):
        Solid.union([])
    with pytest.raises(ShapeError, match="two or more outlines; 1 came"):
        loft([(0.0, SQUARE)], "x", "one")


@pytest.mark.parametrize("mesh_of", [Solid.mesh, lambda solid: solid.quarter().unfolded_mesh()])
def test_a_skin_that_encloses_another_volume_is_refused(
    mesh_of: Callable[[Solid], Mesh], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A millionth too small is seen, closed and outward-facing though it is."""
    skin = Solid._skin

    def shrunk(self: Solid) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        vertices, faces, labels = skin(self)
        return vertices * (1.0 - 1e-6), faces, labels

    block = box((0.0, -9.0, -9.0), (5.0, 9.0, 9.0), "block")
    assert mesh_of(block).volume == pytest.approx(block.volume, rel=1e-12)
    monkeypatch.setattr(Solid, "_skin", shrunk)
    with pytest.raises(MeshError, match="expected the body's"):
        mesh_of(block)
