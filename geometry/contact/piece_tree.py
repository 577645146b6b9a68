"""A tree of boxes around the pieces of a thing, so that a search asks few of many.

Each node is a box turned along the directions in which its pieces spread, so that a smooth patch
of a mesh is held by a flat one; its pieces are halved across the longest side, down to a few. It
grows where it is asked: most searches look into little of a mesh.
"""

import numpy as np
from numpy.typing import NDArray

from geometry.contact.convex import Index, Pieces, TurnedBoxes

Array = NDArray[np.float64]

FEW = 4
"""Pieces that a last node has at most; these are asked one by one."""

LONG = 400
"""Pieces from which the boxes of a node are made by themselves; shorter runs many at once."""

ROUNDING = 1e-12
"""By how much a box is larger than its points, as a share of where it lies: rounding."""


class PieceTree:
    """Nodes and pieces of a thing under one numbering: nodes from 0 up, piece i is ~i.

    Attributes
    ----------
    pieces : what it is of.
    roots : where to begin: the topmost node, or the pieces where they are few.
    """

    def __init__(self, pieces: Pieces) -> None:
        self.pieces = pieces
        self._points = pieces.hulls()
        self._middle = self._points.mean(axis=1)
        self._order = np.arange(pieces.count)
        self._run = np.zeros((0, 2), np.intp)
        self._first = np.zeros(0, np.intp)
        self._boxes = TurnedBoxes(np.zeros((0, 3)), np.zeros((0, 3, 3)), np.zeros((0, 3)))
        self._known = 0
        self.roots: Index = ~self._order
        if pieces.count > FEW:
            self._grow(np.array([[0, pieces.count]]))
            self.roots = np.zeros(1, np.intp)

    @property
    def boxes(self) -> TurnedBoxes:
        """The boxes of the nodes that are known so far."""
        return self._boxes

    def below(self, nodes: Index) -> tuple[Index, Index]:
        """Children of nodes (n,), in one row, and the place in `nodes` of the parent of each."""
        size = self._run[nodes, 1] - self._run[nodes, 0]
        last = size <= FEW
        inner = np.flatnonzero(~last)
        self._split(np.unique(nodes[inner][self._first[nodes[inner]] < 0]))
        count = np.where(last, size, 2)
        parent = np.repeat(np.arange(len(nodes)), count)
        step = np.arange(len(parent)) - np.repeat(np.cumsum(count) - count, count)
        at = nodes[parent]
        pieces = ~self._order[np.where(last[parent], self._run[at, 0] + step, 0)]
        return np.where(last[parent], pieces, self._first[at] + step), parent

    def _split(self, nodes: Index) -> None:
        """Halve the pieces of nodes (n,), which have no children yet."""
        if not len(nodes):
            return
        self._first[nodes] = self._known + 2 * np.arange(len(nodes))
        runs = self._run[nodes]
        long = self._boxes.axes[nodes, np.argmax(self._boxes.half[nodes], axis=1)]
        half = runs[:, 0] + (runs[:, 1] - runs[:, 0]) // 2
        for (start, stop), middle, along in zip(runs, half, long, strict=True):
            run = self._order[start:stop]
            self._order[start:stop] = run[
                np.argpartition(self._middle[run] @ along, middle - start)
            ]
        self._grow(np.stack([runs[:, 0], half, half, runs[:, 1]], axis=1).reshape(-1, 2))

    def _grow(self, runs: Index) -> None:
        """Add nodes that hold runs (n, 2) of pieces."""
        size, n = runs[:, 1] - runs[:, 0], len(runs)
        if self._known + n > len(self._first):
            self._make_room(n)
        new = slice(self._known, self._known + n)
        self._known += n
        self._run[new], self._first[new] = runs, -1
        whole = self._boxes
        for i in np.flatnonzero(size >= LONG):
            one = self._known - n + int(i)
            points = self._points[self._order[slice(*runs[i])]].reshape(-1, 3)
            whole.centre[one], whole.axes[one], whole.half[one] = _box(points)
        short = np.flatnonzero(size < LONG)
        if len(short):
            at = self._known - n + short
            start = np.cumsum(size[short]) - size[short]
            which = np.arange(size[short].sum()) + np.repeat(runs[short, 0] - start, size[short])
            points = self._points[self._order[which]]
            k = points.shape[1]
            made = _many_boxes(points.reshape(-1, 3), k * start, k * size[short])
            whole.centre[at], whole.axes[at], whole.half[at] = made

    def _make_room(self, n: int) -> None:
        more = max(64, len(self._first), n)
        self._run = np.concatenate([self._run, np.zeros((more, 2), np.intp)])
        self._first = np.concatenate([self._first, np.full(more, -1)])
        old = self._boxes
        self._boxes = TurnedBoxes(
            np.concatenate([old.centre, np.zeros((more, 3))]),
            np.concatenate([old.axes, np.zeros((more, 3, 3))]),
            np.concatenate([old.half, np.zeros((more, 3))]),
        )


def _box(points: Array) -> tuple[Array, Array, Array]:
    """Centre, axes in rows and half sizes of the box around points (n, 3)."""
    mean = points.mean(axis=0)
    away = points - mean
    axes = np.linalg.eigh(away.T @ away)[1].T
    own = away @ axes.T
    low, high = own.min(axis=0), own.max(axis=0)
    return _rounded(mean + 0.5 * (low + high) @ axes, axes, 0.5 * (high - low))


def _many_boxes(points: Array, starts: Index, counts: Index) -> tuple[Array, Array, Array]:
    """The same around runs of points (n, 3), each from its start on."""
    mean = np.add.reduceat(points, starts) / counts[:, None]
    run = np.repeat(np.arange(len(counts)), counts)
    away = points - mean[run]
    square = away[:, :, None] * away[:, None, :]
    axes = np.linalg.eigh(np.add.reduceat(square, starts))[1].transpose(0, 2, 1)
    own = np.einsum("nij,nj->ni", axes[run], away)
    low, high = np.minimum.reduceat(own, starts), np.maximum.reduceat(own, starts)
    centre = mean + np.einsum("nji,nj->ni", axes, 0.5 * (low + high))
    return _rounded(centre, axes, 0.5 * (high - low))


def _rounded(centre: Array, axes: Array, half: Array) -> tuple[Array, Array, Array]:
    return centre, axes, half + ROUNDING * (1.0 + np.abs(centre))
