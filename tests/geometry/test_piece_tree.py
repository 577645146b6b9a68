"""A tree over pieces: every piece is in it once, and every box holds what is below it."""

import numpy as np
import pytest
import trimesh

from geometry.contact.convex import Bars, Boxes, Pieces, Triangles
from geometry.contact.piece_tree import FEW_LEVELS, PieceTree

FEW = 1 << FEW_LEVELS
RNG = np.random.default_rng(1)


def kinds() -> dict[str, Pieces]:
    start, stop = RNG.normal(size=(2, 90, 3)) * 80.0
    flat = RNG.normal(size=(700, 3, 3)) * [100.0, 100.0, 0.0]
    return {
        "a fine sphere": Triangles(np.array(trimesh.creation.icosphere(4, 100.0).triangles)),
        "a plate in a plane": Triangles(flat),
        "one place many times": Triangles(np.tile(RNG.normal(size=(1, 3, 3)), (50, 1, 1))),
        "boxes": Boxes(start, np.abs(stop)),
        "bars": Bars(start, stop, np.abs(start[:, 0])),
        "as few as are asked one by one": Triangles(RNG.normal(size=(FEW, 3, 3))),
        "one more than these": Triangles(RNG.normal(size=(FEW + 1, 3, 3))),
    }


@pytest.mark.parametrize("name", kinds())
def test_every_piece_is_below_the_roots_once_and_in_every_box_above_it(name: str) -> None:
    pieces = kinds()[name]
    tree = PieceTree(pieces)
    points = pieces.hulls()
    assert (len(tree.roots) == 1) == (pieces.count > FEW)
    level, above, met = tree.roots, [np.zeros(0, np.intp)] * len(tree.roots), []
    while len(level):
        below, boxes = [], []
        for target, path in zip(level, above, strict=True):
            if target < 0:
                met.append(~target)
                for node in path:
                    away = points[~target] - tree.boxes.centre[node]
                    assert (np.abs(away) <= tree.boxes.half[node]).all()
                continue
            children, parent = tree.below(np.array([target]))
            assert (parent == 0).all()
            assert len(children) <= max(2, FEW)
            below += children.tolist()
            boxes += [np.append(path, target)] * len(children)
        level, above = np.array(below, np.intp), boxes
    assert sorted(met) == list(range(pieces.count))


def test_children_of_many_nodes_at_once_are_those_of_each() -> None:
    """Asked together, in any order and twice, and asked one by one."""
    tree = PieceTree(Triangles(np.array(trimesh.creation.icosphere(4, 100.0).triangles)))
    level = tree.roots
    for _ in range(9):
        level, _ = tree.below(level)
        level = level[level >= 0]
    asked = np.concatenate([level[::-1], level[:3]])
    children, parent = tree.below(asked)
    assert (np.diff(parent) >= 0).all()
    lists = [children[parent == i].tolist() for i in range(len(asked))]
    assert lists == [tree.below(asked[i : i + 1])[0].tolist() for i in range(len(asked))]
