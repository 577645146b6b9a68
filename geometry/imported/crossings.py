"""Where a surface cuts itself: triangles that cross without sharing a corner."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.contact.box_tree import along_curve
from geometry.imported.raw import LIMITS
from geometry.mesh import Booleans, Floats, Indices, Mesh


@dataclass(frozen=True, eq=False)
class Crossings:
    """Triangles that cut each other without sharing a corner.

    faces : (k, 2) the pairs
    complete : whether all pairs that come near each other were asked
    """

    faces: Indices
    complete: bool


def crossings_of(mesh: Mesh) -> Crossings:
    """Return which triangles of a mesh cut each other.

    Bounded: after `LIMITS.crossing_pairs` pairs with overlapping boxes it stops and says so.
    """
    near, complete = _near_pairs(mesh.triangles)
    i, j = near.T
    strangers = ~(mesh.faces[i][:, :, None] == mesh.faces[j][:, None, :]).any(axis=(1, 2))
    near = near[strangers]
    found = [near[:0]]
    for start in range(0, len(near), _CHUNK):
        pairs = near[start : start + _CHUNK]
        one, other = mesh.triangles[pairs[:, 0]], mesh.triangles[pairs[:, 1]]
        found.append(pairs[_pierces(one, other) | _pierces(other, one)])
    return Crossings(np.concatenate(found), complete)


_CHUNK = 200_000


def _pierces(one: Floats, other: Floats) -> Booleans:
    """Whether an edge of the first triangle runs through the second, row by row."""
    a, b, c = (other[:, k] for k in range(3))
    through = np.zeros(len(one), dtype=bool)
    for k in range(3):
        p, q = one[:, k], one[:, (k + 1) % 3]
        sides = _six_volumes(a, b, c, p) * _six_volumes(a, b, c, q) < 0.0
        rounds = [_six_volumes(p, q, *edge) for edge in ((a, b), (b, c), (c, a))]
        same = np.all([r > 0.0 for r in rounds], axis=0) | np.all([r < 0.0 for r in rounds], axis=0)
        through |= sides & same
    return through


def _six_volumes(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats:
    """Six times the signed volume of each tetrahedron."""
    return np.asarray(np.einsum("ij,ij->i", np.cross(b - a, c - a), d - a))


def _near_pairs(triangles: Floats) -> tuple[Indices, bool]:
    """Return pairs of triangles whose boxes overlap, (k, 2), and whether that is all of them.

    The triangles are put in the order of a space-filling curve and boxes are drawn around runs
    of them, each twice as long as the one below; pairs of overlapping runs are split in halves
    until runs of one are left.
    """
    low, high = triangles.min(axis=1), triangles.max(axis=1)
    order = np.argsort(along_curve(triangles.mean(axis=1)), kind="stable")
    boxes = [(low[order], high[order])]
    while len(boxes[-1][0]) > 1:
        down, up = boxes[-1]
        half = np.arange(0, len(down), 2)
        boxes.append((np.minimum.reduceat(down, half), np.maximum.reduceat(up, half)))
    pairs = np.zeros((1, 2), dtype=np.int64)
    complete = True
    for level_low, level_high in reversed(boxes[:-1]):
        i, j = (2 * pairs[:, None, :] + np.array([[0, 0], [0, 1], [1, 0], [1, 1]])).reshape(-1, 2).T
        sound = (i <= j) & (j < len(level_low))
        i, j = i[sound], j[sound]
        overlap = np.all((level_low[i] <= level_high[j]) & (level_low[j] <= level_high[i]), axis=1)
        pairs = np.stack([i[overlap], j[overlap]], axis=1)
        if len(pairs) > LIMITS.crossing_pairs:
            pairs, complete = pairs[: LIMITS.crossing_pairs], False
    return order[pairs[pairs[:, 0] < pairs[:, 1]]], complete
