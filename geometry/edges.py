"""The edges of a surface: where it is open, and which pieces it consists of."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from geometry.mesh import Indices


@dataclass(frozen=True, eq=False)
class Edges:
    """The edges of triangles, each side of a triangle being one directed edge.

    faces : (m, 3) int64; the directed edge 3 i + k runs from corner k of face i to the next
    """

    faces: Indices

    @cached_property
    def directed(self) -> Indices:
        """Start and end of every directed edge, (3 m, 2)."""
        return self.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)

    @cached_property
    def _sorted(self) -> tuple[Indices, Indices, Indices]:
        """Directed edges in the order of their undirected edge; first and number of each."""
        start, end = self.directed.T
        low, high = np.minimum(start, end), np.maximum(start, end)
        key = low * (int(high.max(initial=0)) + 1) + high
        order = np.argsort(key, kind="stable")
        first = np.flatnonzero(np.concatenate([[True], np.diff(key[order]) != 0]))
        return order, first, np.diff(np.append(first, len(order)))

    def shared_by(self, count: int) -> Indices:
        """Directed edges of the undirected edges that `count` triangles share, (k, count)."""
        order, first, counts = self._sorted
        return np.asarray(order[first[counts == count][:, None] + np.arange(count)])

    @cached_property
    def open(self) -> Indices:
        """Directed edges that no other triangle shares, (k,)."""
        return self.shared_by(1)[:, 0]

    @cached_property
    def crowded(self) -> int:
        """Number of undirected edges that more than two triangles share."""
        return int((self._sorted[2] > 2).sum())

    @cached_property
    def shell(self) -> Indices:
        """Number of the piece each face belongs to, (m,); pieces are joined by shared edges."""
        order, first, _ = self._sorted
        inner = np.ones(len(order), dtype=bool)
        inner[first] = False
        there = np.flatnonzero(inner)
        return components(len(self.faces), order[there - 1] // 3, order[there] // 3)

    @cached_property
    def closed(self) -> bool:
        """Whether every edge is shared by two triangles that run along it in opposite ways."""
        pairs = self.shared_by(2)
        twice = 2 * len(pairs) == 3 * len(self.faces)
        start = self.directed[:, 0]
        return bool(twice and (start[pairs[:, 0]] != start[pairs[:, 1]]).all())


def components(count: int, one: npt.ArrayLike, other: npt.ArrayLike) -> Indices:
    """Return the number of the connected piece of each of `count` things linked in pairs."""
    a, b = np.asarray(one), np.asarray(other)
    graph = coo_array((np.ones(len(a), dtype=np.int8), (a, b)), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1], dtype=np.int64)
