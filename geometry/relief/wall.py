"""How thick the metal is behind a ground surface.

From places of the ground surface the nearest surface that faces the other way is sought inward:
the bore of the cap, the outside of the ear, the far side of the web. Where the ground surface
runs out into that very surface at an edge, the edge is no wall: there the metal ends beside the
place, no farther off than the surface is behind it. Own derivation.
"""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import KDTree

from geometry.contact.field import Index, TriangleTable
from geometry.contact.triangles import dot, strewn
from geometry.edges import Edges
from geometry.mesh import Floats, Mesh
from geometry.nearest import NearSurface
from geometry.relief.parts import GROUND

SPACING = 1.5
"""mm between the points by which opposite surfaces are found; what is found is then measured."""

PLACE = 1.2
"""mm; of each cell of this size the deepest place of the ground surface is looked behind."""

RIM = 0.5
"""mm between the points that stand for the rim of the ground surface, and between the points
among which the deepest places are sought."""

KEPT = 0.8
"""Share of a wall that has to stay where the yoke is hardly thicker than the least allowed."""

SLIVER = 1.0
"""mm; what was thinner to begin with is an edge of the yoke and no wall."""

FARTHEST = 10.0
"""mm; what lies farther behind is no wall to worry about, unless one half as thick again as the
least allowed is."""

OPPOSITE = -0.3
"""Cosine of the angle between two normals under which surfaces face away from each other."""

INWARD = 0.5
"""Cosine of the angle, against straight inward, within which an opposite surface counts."""

EDGE = 0.8
"""An opposite surface that the ground one runs out into counts where the edge between them is
farther off than the surface over this."""

ALIKE, LEVEL = 0.8, 0.7
"""An edge belongs to an opposite surface where the faces' normals differ by no more than this
cosine, and where it lies no more than so many mm off the plane."""


@dataclass(frozen=True)
class Wall:
    """The wall at the most critical place behind a ground surface.

    thickness : mm; inf where there is no wall
    limit : mm, what has to stay there
    place : (3,) mm, on the ground surface
    """

    thickness: float
    limit: float
    place: Floats


def thinnest(body: Mesh, old: NearSurface, least: float, even: bool = False) -> Wall:
    """Find the wall that grinding has brought nearest to its limit.

    body : the ground metal; old : what was ground away; least : mm allowed
    even : whether the part where y and z are positive speaks for the whole
    Where the yoke was hardly thicker than that to begin with, as at a bevelled edge over a bore,
    `KEPT` of what was there has to stay instead; what was under `SLIVER` is no wall.

    Raises MeshError when nothing is ground.
    """
    places, outward, depth = _places(body, old, even)
    wall = _walls(body, places, outward, max(FARTHEST, 1.5 * least))
    before = wall + depth
    limit = np.minimum(least, KEPT * before)
    counts = np.isfinite(wall) & (before >= SLIVER)
    wall = np.where(counts, wall, np.inf)
    margin = np.where(counts, wall - limit, np.inf)
    worst = int(np.argmin(margin))
    return Wall(float(wall[worst]), float(limit[worst]), places[worst])


def _places(body: Mesh, old: NearSurface, even: bool) -> tuple[Floats, Floats, Floats]:
    """The deepest place of the ground surface in each cell, its normal and its depth."""
    ground = body.on(GROUND)
    points, owner = strewn(body.triangles[ground], RIM)
    if even:
        quarter = (points[:, 1:] >= -PLACE).all(axis=1)
        points, owner = points[quarter], owner[quarter]
    depth = old.foot(points).distance
    cell = _cells(points, PLACE)
    order = np.lexsort((-depth, cell))
    first = order[np.flatnonzero(np.diff(cell[order], prepend=-1))]
    return points[first], body.normals[ground][owner[first]], depth[first]


def _walls(body: Mesh, places: Floats, outward: Floats, farthest: float) -> Floats:
    """Wall (n,) mm behind each place; inf where none is within `farthest` mm."""
    points, owner = _one_a_cell(*strewn(body.triangles, SPACING), body)
    table = TriangleTable(body.triangles)
    rim, facing = _rim(body)
    beside = KDTree(rim).query_ball_point(places, farthest / EDGE) if len(rim) else None
    wall = np.full(len(places), np.inf)
    for i, near in enumerate(KDTree(points).query_ball_point(places, farthest)):
        away = points[near] - places[i]
        behind = -away @ outward[i] > INWARD * np.sqrt(dot(away, away))
        chosen = np.array(near)[(body.normals[owner[near]] @ outward[i] < OPPOSITE) & behind]
        if not len(chosen):
            continue
        triangle = owner[chosen]
        far = np.sqrt(table.square(triangle, np.repeat(places[i][:, None], len(chosen), axis=1)))
        if beside is not None and len(beside[i]):
            edge, n = rim[beside[i]], body.normals[triangle]
            off = np.abs(n @ edge.T - dot(n, points[chosen])[:, None])
            own = (n @ facing[beside[i]].T > ALIKE) & (off < LEVEL)
            room = np.linalg.norm(edge - places[i], axis=1)
            far[far > EDGE * np.where(own, room, np.inf).min(axis=1)] = np.inf
        wall[i] = far.min()
    return wall


def _one_a_cell(points: Floats, owner: Index, body: Mesh) -> tuple[Floats, Index]:
    """Thin points out to one for each surface in each cell of the spacing."""
    sound = body.areas[owner] > 1e-9
    points, owner = points[sound], owner[sound]
    cell = _cells(points, SPACING) * len(body.label_names) + body.labels[owner]
    _, first = np.unique(cell, return_index=True)
    return points[first], owner[first]


def _cells(points: Floats, size: float) -> Index:
    """Number of the cell of a cubic grid that each point, (n, 3), lies in."""
    place = np.floor((points - points.min(axis=0)) / size).astype(np.intp)
    _, long, short = place.max(axis=0) + 1
    return np.asarray((place[:, 0] * long + place[:, 1]) * short + place[:, 2])


def _rim(body: Mesh) -> tuple[Floats, Floats]:
    """Points along the rim of the ground surface, and the normal of the old surface there."""
    ground, edges = body.on(GROUND), Edges(np.asarray(body.faces, dtype=np.int64))
    pairs = edges.shared_by(2)
    pairs = pairs[ground[pairs[:, 0] // 3] != ground[pairs[:, 1] // 3]]
    a, b = np.moveaxis(body.vertices[edges.directed[pairs[:, 0]]], 1, 0)
    points, which = _along(a, b)
    old = np.where(ground[pairs[:, 0] // 3], pairs[:, 1], pairs[:, 0]) // 3
    return points, body.normals[old][which]


def _along(a: Floats, b: Floats) -> tuple[Floats, Index]:
    """Points (n, 3) along segments (m, 3), no farther apart than `RIM`, and whose each is."""
    count = np.ceil(np.linalg.norm(b - a, axis=1) / RIM).astype(int) + 1
    which = np.repeat(np.arange(len(a)), count)
    place = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
    share = place / np.maximum(count[which] - 1, 1)
    return np.asarray(a[which] + share[:, None] * (b - a)[which]), which
