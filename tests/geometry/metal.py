"""Checks of meshes against the true surfaces they stand for, and random dimensions of parts."""

from typing import Any

import numpy as np
import numpy.typing as npt
import trimesh
from hypothesis import reject
from hypothesis import strategies as st

from geometry.contact.symmetry import HALF_TURN_X, MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.errors import BindpointError, ShapeError
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from geometry.yoke import Yoke, YokeShape

Points = npt.NDArray[np.float64]


def winding(mesh: Mesh, points: Points) -> Points:
    """How often the mesh goes round each point: 1 inside, 0 outside (van Oosterom, Strackee)."""
    corner = mesh.triangles[None] - points[:, None, None]
    a, b, c = corner[..., 0, :], corner[..., 1, :], corner[..., 2, :]
    la, lb, lc = (np.linalg.norm(side, axis=-1) for side in (a, b, c))
    top = np.einsum("...i,...i->...", a, np.cross(b, c))
    ab, bc, ca = (np.einsum("...i,...i->...", p, q) for p, q in ((a, b), (b, c), (c, a)))
    bottom = la * lb * lc + ab * lc + bc * la + ca * lb
    return np.asarray(2.0 * np.arctan2(top, bottom).sum(axis=1) / (4.0 * np.pi))


def assert_sound(mesh: Mesh) -> None:
    """Closed and outward by our own count and by an independent library's, chord as promised."""
    assert mesh.is_watertight
    assert mesh.volume > 0.0
    assert mesh.chord <= TOL.chord
    other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert other.is_watertight
    assert other.is_winding_consistent
    np.testing.assert_allclose(other.volume, mesh.volume, rtol=1e-9)


def assert_holds_true_surface(mesh: Mesh, points: Points, out: Points) -> None:
    """The true metal lies in the mesh and the mesh no further out than its chord.

    points, out : (n, 3) points of the true surface and its outward normals there
    """
    slack = 1e-6
    for step, around in ((-slack, 1.0), (mesh.chord + slack, 0.0)):
        found = winding(mesh, points + step * out)
        np.testing.assert_allclose(found, around, rtol=0.0, atol=1e-4)


def assert_sound_yoke(yoke: Yoke) -> None:
    """Sound in all its meshes, symmetric, and with nothing shown outside what can touch."""
    assert_sound(yoke.contact)
    other = trimesh.Trimesh(yoke.contact.vertices, yoke.contact.faces, process=False)
    assert other.body_count == 1
    for flip in (MIRROR_Y, MIRROR_Z, HALF_TURN_X):
        assert is_symmetric(yoke.contact, flip)
    for mesh in yoke.parts.values():
        assert mesh.is_watertight
        assert mesh.volume > 0.0


def built(shape: type[YokeShape], dims: dict[str, Any]) -> Yoke:
    """The yoke, or another try where chance drew arms with no metal left in them, or in pieces."""
    try:
        return shape(**dims).build()
    except ShapeError as error:
        if not any(words in str(error) for words in ("metal in the arms", "leave the yoke in")):
            raise
        reject()


def assert_sound_or_refused(shape: type[YokeShape], dims: dict[str, Any]) -> None:
    """Whatever the numbers: a sound yoke or one plain error, and nothing else."""
    try:
        yoke = shape(**dims).build()
    except BindpointError:
        return
    assert yoke.contact.is_watertight
    assert yoke.contact.volume > 0.0


def ring(
    radius: float, along: npt.ArrayLike, angles: npt.ArrayLike, axis: str
) -> tuple[Points, Points]:
    """Points and normals, (n, 3), of a true cylinder about x or y, at places `along` it."""
    place, angle = (a.ravel() for a in np.meshgrid(np.asarray(along), np.asarray(angles)))
    none = np.zeros_like(place)
    cos, sin = np.cos(angle), np.sin(angle)
    if axis == "x":
        out = np.stack([none, cos, sin], axis=-1)
        return radius * out + place[:, None] * [1.0, 0.0, 0.0], out
    out = np.stack([cos, none, sin], axis=-1)
    return radius * out + place[:, None] * [0.0, 1.0, 0.0], out


def throat(given: dict[str, Any], count: int = 24) -> tuple[Points, Points]:
    """Points and normals of the true throat, round between the ears, where no cap covers it."""
    angle = np.linspace(-0.49, 0.49, count) * np.pi
    corner, half = given["throat_radius"], 0.5 * given["inside_span"]
    into = np.stack([np.cos(angle), np.sin(angle), np.zeros(count)], axis=-1)
    middle = np.stack(
        [
            np.full(count, given["throat_depth"] - corner),
            np.sign(angle) * (half - corner),
            np.zeros(count),
        ],
        axis=-1,
    )
    points = middle + corner * into
    bare = points[:, 0] > 0.5 * given["bore"] + 0.1
    return points[bare], -into[bare]


@st.composite
def common(draw: st.DrawFn) -> dict[str, Any]:
    """Legal dimensions that all yokes share."""
    bore = draw(st.floats(20.0, 45.0))
    cap_length = bore * draw(st.floats(0.5, 0.7))
    cap_span = 2.0 * cap_length + bore * draw(st.floats(1.0, 2.2))
    inside = cap_span - 2.0 * cap_length + draw(st.floats(0.5, 8.0))
    lip = draw(st.floats(0.0, 4.0))
    thickness = 0.5 * (cap_span - inside) + lip
    return {
        "name": "random",
        "bore": bore,
        "cap_span": cap_span,
        "cap_length": cap_length,
        "inside_span": inside,
        "ear_thickness": thickness,
        "ear_edge": thickness * draw(st.floats(0.05, 0.35)),
        "throat_depth": bore * draw(st.floats(0.95, 2.0)),
        "throat_radius": 0.5 * inside * draw(st.floats(0.2, 1.0)),
        "saddle_radius": bore * draw(st.floats(1.5, 5.0)),
    }


@st.composite
def round_ears(draw: st.DrawFn) -> dict[str, Any]:
    """Legal dimensions of yokes with bores through their ears."""
    given = draw(common())
    radius = 0.5 * given["bore"] + draw(st.floats(2.5, 12.0))
    spread = 0.55 * 0.6 * given["throat_depth"] * draw(st.floats(0.0, 1.0))
    return given | {"ear_radius": radius, "ear_root_width": 2.0 * (radius + spread)}


@st.composite
def nudged(draw: st.DrawFn, given: dict[str, Any]) -> dict[str, Any]:
    """The same dimensions with three of them made up to half smaller or larger."""
    names = st.sampled_from([key for key in given if key != "name"])
    chosen = draw(st.lists(names, min_size=1, max_size=3, unique=True))
    return given | {key: given[key] * draw(st.floats(0.5, 1.5)) for key in chosen}


def assert_round_ears(mesh: Mesh, given: dict[str, Any]) -> None:
    """Check ends of the ears, caps and throat against their true surfaces, and their bounds."""
    radius, bore = given["ear_radius"], given["bore"]
    outer = 0.5 * given["inside_span"] + given["ear_thickness"]
    np.testing.assert_allclose(mesh.bounds[0, 0], -radius, rtol=0.0, atol=1e-9)
    end = np.pi + np.linspace(-0.32, 0.32, 17) * np.pi
    along = np.linspace(0.5 * given["inside_span"] + 0.01, outer - given["ear_edge"] - 0.01, 2)
    assert_holds_true_surface(mesh, *ring(radius, [*along, *-along], end, "y"))
    inner = 0.5 * given["cap_span"] - given["cap_length"]
    proud = 0.5 * (inner + 0.5 * given["inside_span"])
    away = np.pi + np.linspace(-0.5, 0.5, 15) * np.pi
    assert_holds_true_surface(mesh, *ring(0.5 * bore, [proud, -proud], away, "y"))
    assert_holds_true_surface(mesh, *throat(given))
