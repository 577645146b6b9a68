"""A tree of boxes around the pieces of a thing, so that a search asks few of many."""

import numpy as np

from geometry.contact.box_tree import box_tree
from geometry.contact.convex import Boxes, Index, Pieces

FEW_LEVELS = 2
"""Levels at the bottom that are asked at once: pieces by fours rather than boxes round so few."""

ROUNDING = 1e-12
"""By how much a box is larger than its points, as a share of where it lies: rounding."""


class PieceTree:
    """Nodes and pieces of a thing under one numbering: nodes from 1 up, piece i is ~i.

    Attributes
    ----------
    pieces : what it is of.
    boxes : what is around each node; the first is of none.
    roots : where to begin: the topmost node, or the pieces where they are few.
    """

    def __init__(self, pieces: Pieces) -> None:
        self.pieces = pieces
        few = pieces.count <= 1 << FEW_LEVELS
        self.roots: Index = ~np.arange(pieces.count) if few else np.ones(1, np.intp)
        if pieces.count:
            self._tree = tree = box_tree(pieces.hulls())
            centre, half = (np.ascontiguousarray(each.T) for each in (tree.centre, tree.half))
            self.boxes = Boxes(centre, half + ROUNDING * (1.0 + np.abs(centre)))

    def below(self, nodes: Index) -> tuple[Index, Index]:
        """Children of nodes (n,), in one row, and the place in `nodes` of the parent of each."""
        few, tree = 1 << FEW_LEVELS, self._tree
        last = few * nodes >= tree.first
        count = np.where(last, few, 2)
        parent = np.repeat(np.arange(len(nodes)), count)
        child = count[parent] * nodes[parent] + _steps(count)
        leaf = np.where(last[parent], child - tree.first, 0)
        some = ~(last[parent] & tree.twin[leaf])
        found = np.where(last[parent], ~tree.order[leaf], child)
        return found[some], parent[some]


def _steps(count: Index) -> Index:
    """0, 1, ... up to each of the counts, one after the other."""
    return np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
