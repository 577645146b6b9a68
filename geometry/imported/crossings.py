"""Where a surface cuts itself: triangles that cross without sharing a corner."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.contact.box_tree import box_tree
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

    Pairs of nodes of a tree of boxes are split in halves until leaves are left.
    """
    tree = box_tree(triangles)
    low, high = (tree.centre - tree.half).T, (tree.centre + tree.half).T
    pairs, complete = np.ones((1, 2), dtype=np.int64), True
    for _ in range(tree.depth):
        i, j = (2 * pairs[:, None, :] + np.array([[0, 0], [0, 1], [1, 0], [1, 1]])).reshape(-1, 2).T
        near = (i <= j) & np.all((low[i] <= high[j]) & (low[j] <= high[i]), axis=1)
        pairs = np.stack([i[near], j[near]], axis=1)
        if len(pairs) > LIMITS.crossing_pairs:
            pairs, complete = pairs[: LIMITS.crossing_pairs], False
    leaves = pairs[pairs[:, 0] < pairs[:, 1]] - tree.first
    return tree.order[leaves[~tree.twin[leaves].any(axis=1)]], complete
