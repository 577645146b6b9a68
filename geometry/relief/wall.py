"""How thick the metal is behind a ground surface.

From points of the ground surface the nearest surface that faces the other way is sought inward:
the bore of the cap, the outside of the ear, the far side of the web. Where the ground surface
runs out into that surface at an edge, the edge is no wall: there the metal ends beside the place,
no farther off than the surface is behind it. Own derivation.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import KDTree

from geometry.field import DistanceField
from geometry.mesh import Booleans, Labels, Mesh
from geometry.triangles import dot, strewn

Array = NDArray[np.float64]
Index = NDArray[np.intp]

GROUND = "ground"
"""Name of the surface that grinding leaves."""

SPACING = 1.5
"""mm between the points strewn on the surfaces; the wall is then true to about 0.1 mm."""

RIM = 0.5
"""mm between the points that stand for the rim of the ground surface."""

PLACES = 500
"""Places of the ground surface that are looked behind, at most: one every 2 mm or so."""

KEPT = 0.8
"""Share of a wall that has to stay where the yoke is hardly thicker than the least allowed."""

FARTHEST = 15.0
"""mm; what lies farther behind is no wall to worry about."""

OPPOSITE = -0.3
"""Cosine of the angle between two normals under which surfaces face away from each other."""

INWARD = 0.5
"""Cosine of the angle, against straight inward, within which an opposite surface counts."""

EDGE = 0.8
"""A surface that the ground one runs out into counts where the edge is farther off than the
surface over this."""


@dataclass(frozen=True)
class Wall:
    """The wall at the most critical place behind a ground surface.

    thickness : mm; inf where there is no wall
    limit : mm, what has to stay there
    place : (3,) mm, on the ground surface
    """

    thickness: float
    limit: float
    place: Array

    @property
    def sound(self) -> bool:
        """Whether it, and so every other, is thick enough."""
        return self.thickness >= self.limit


def thinnest(body: Mesh, own: DistanceField, least: float) -> Wall:
    """Find the wall that grinding has brought nearest to its limit.

    body : the ground metal; own : signed distance of the yoke as it was; least : mm allowed.
    Where the yoke was hardly thicker than that to begin with, as at a bevelled edge over a bore,
    `KEPT` of what was there has to stay instead.
    """
    places, wall = walls(body)
    before = wall - own.exact(places)
    limit = np.minimum(least, KEPT * before)
    margin = np.where(np.isfinite(wall), wall - limit, np.inf)
    worst = int(np.argmin(margin))
    return Wall(float(wall[worst]), float(limit[worst]), places[worst])


def walls(body: Mesh) -> tuple[Array, Array]:
    """Places (n, 3) on the ground surface, and the wall (n,) mm behind each.

    inf where none is within `FARTHEST`. Raises MeshError when nothing is ground.
    """
    ground = body.on(GROUND)
    size = np.linalg.norm(body.area_vectors, axis=1, keepdims=True)
    normal = body.area_vectors / np.maximum(size, 1e-300)
    points, owner = _one_a_cell(*strewn(body.triangles, SPACING), body.labels)
    on_ground = np.flatnonzero(ground[owner])
    chosen = on_ground[:: 1 + len(on_ground) // PLACES]
    places, outward = points[chosen], normal[owner[chosen]]
    room = _room(body, ground, places)[:, body.labels[owner]]
    wall = np.full(len(places), np.inf)
    for i, near in enumerate(KDTree(points).query_ball_point(places, FARTHEST)):
        away = points[near] - places[i]
        far = np.sqrt(dot(away, away))
        faces_away = normal[owner[near]] @ outward[i] < OPPOSITE
        behind = -away @ outward[i] > INWARD * far
        counts = faces_away & behind & (far < EDGE * room[i, near])
        wall[i] = far[counts].min(initial=np.inf)
    return places, wall


def _one_a_cell(points: Array, owner: Index, labels: Labels) -> tuple[Array, Index]:
    """Thin points out to one for each surface in each cell of the spacing."""
    cell = np.floor(points / SPACING).astype(np.int64) - np.floor(points / SPACING).min(axis=0)
    size = cell.max(axis=0).astype(np.int64) + 1
    key = ((cell[:, 0] * size[1] + cell[:, 1]) * size[2] + cell[:, 2]).astype(np.int64)
    _, first = np.unique(key * 64 + labels[owner], return_index=True)
    return points[first], owner[first]


def _room(body: Mesh, ground: Booleans, places: Array) -> Array:
    """How far the ground surface goes on beside each place before it meets each surface.

    (n, number of surfaces); inf for a surface that it does not run out into.
    """
    room = np.full((len(places), len(body.label_names)), np.inf)
    own = _edges(body, ground)
    for number, name in enumerate(body.label_names):
        edge = np.intersect1d(own, _edges(body, body.on(name) & ~ground))
        if len(edge):
            a, b = (body.vertices[end] for end in np.divmod(edge, len(body.vertices)))
            room[:, number], _ = KDTree(_along(a, b)).query(places)
    return room


def _edges(body: Mesh, faces: Booleans) -> Index:
    """Edges of some faces, each as one number made of its two vertices."""
    ends = body.faces[faces][:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2).astype(np.intp)
    ends = np.sort(ends, axis=1)
    return np.unique(ends[:, 0] * len(body.vertices) + ends[:, 1])


def _along(a: Array, b: Array) -> Array:
    """Points (n, 3) along segments (m, 3), no farther apart than `RIM`."""
    count = np.ceil(np.linalg.norm(b - a, axis=1) / RIM).astype(int) + 1
    which = np.repeat(np.arange(len(a)), count)
    place = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
    share = place / np.maximum(count[which] - 1, 1)
    return np.asarray(a[which] + share[:, None] * (b - a)[which])
