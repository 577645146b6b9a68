"""A whole binary tree of boxes over pieces, read column by column: each box holds what is below."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.intp]

TOP = 6
"""Levels split at the median across the longest side; below, pieces lie in the order of a curve
through their cells, which takes one sort and makes boxes hardly larger."""

CELLS = 1 << 10
"""Cells of that curve along each side."""


@dataclass(frozen=True)
class BoxTree:
    """Nodes of a whole binary tree: 1 is all of it, 2i and 2i + 1 the halves of i.

    Attributes
    ----------
    first : number of the first leaf; leaf i holds piece `order[i - first]`.
    depth : levels below the top.
    centre, half : (3, 2 first) mm, box around each node along the axes of the body.
    order : (first,) numbers of pieces, some of them twice.
    twin : (first,) which leaves only repeat a piece.
    """

    first: int
    depth: int
    centre: Array
    half: Array
    order: Index
    twin: NDArray[np.bool_]

    def level(self, most: int) -> Index:
        """Nodes of a level, at most `most` below the top."""
        down = min(most, self.depth)
        return np.arange(1 << down, 2 << down)


def box_tree(hulls: Array) -> BoxTree:
    """Grow the tree over at least one piece, each in the hull of its points, (n, k, 3) mm."""
    order, twin = _leaves(hulls)
    low = upward(hulls.min(axis=1)[order], np.minimum)
    high = upward(hulls.max(axis=1)[order], np.maximum)
    centre, half = (np.ascontiguousarray(0.5 * each.T) for each in (high + low, high - low))
    return BoxTree(len(order), len(order).bit_length() - 1, centre, half, order, twin)


def _leaves(hulls: Array) -> tuple[Index, NDArray[np.bool_]]:
    """Order of pieces in the leaves, and which leaves only repeat the piece before."""
    count = len(hulls)
    depth = (count - 1).bit_length()
    leaves = 1 << depth
    middle = 0.5 * (hulls.min(axis=1) + hulls.max(axis=1))
    repeated = np.arange(leaves) * count // leaves
    order = np.argsort(along_curve(middle), kind="stable")[repeated]
    for level in range(min(TOP, depth)):
        runs = order.reshape(1 << level, -1)
        at = middle[runs]
        longest = np.ptp(at, axis=1).argmax(axis=1)
        place = np.take_along_axis(at, longest[:, None, None], axis=2)[..., 0]
        halves = np.argpartition(place, runs.shape[1] // 2, axis=1)
        for side in np.split(halves, 2, axis=1):
            side.sort(axis=1)  # keeps the order of the curve
        order = np.take_along_axis(runs, halves, axis=1).ravel()
    twin = np.ones(leaves, dtype=bool)
    twin[np.unique(order, return_index=True)[1]] = False
    return order, twin


def along_curve(points: Array) -> NDArray[np.int64]:
    """Number of the cell of each point, (n, 3), along a curve that stays near itself.

    It has the bits of the cell's three coordinates by turns.
    """
    low = points.min(axis=0)
    side = max(float(np.ptp(points, axis=0).max()), 1e-300)
    cell = ((points - low) * ((CELLS - 1) / side)).astype(np.int64)
    for shift, mask in ((16, 0x030000FF), (8, 0x0300F00F), (4, 0x030C30C3), (2, 0x09249249)):
        cell = (cell | (cell << shift)) & mask
    return np.asarray(cell[:, 0] | (cell[:, 1] << 1) | (cell[:, 2] << 2))


def upward(leaves: Array, joined: np.ufunc) -> Array:
    """Values of all nodes from those of the leaves; node 0 is none."""
    levels = [leaves]
    while len(levels[0]) > 1:
        levels.insert(0, joined(levels[0][::2], levels[0][1::2]))
    return np.concatenate([leaves[:1], *levels])
