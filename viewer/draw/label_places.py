"""Where labels stand so that none covers another and none is cut off by the edge of the view.

All lengths are px, counted from the lower left corner of the view.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np

from viewer.draw.camera import Floats, Region

FREE = 3.0
"""px left free around a label."""

FAR = 2.5
"""Heights of its own that a label of less weight may be moved: farther off it would name what it
does not stand beside, and is left away instead."""


@dataclass(frozen=True, eq=False)
class Label:
    """A label as it would stand alone.

    Attributes
    ----------
    anchor : (2,) where what it names is seen.
    box : what it takes.
    weighty : whether it always has to be seen; such labels find their places first.
    """

    anchor: Floats
    box: Region
    weighty: bool = False


Move = tuple[float, float]
"""How far a label is moved to the right and up, px."""


def places(labels: Sequence[Label], size: tuple[int, int]) -> list[Move | None]:
    """Move labels, in a view of `size` (width, height), as little as keeps them apart and whole.

    None for one that is left away. What lies outside of the view keeps its label where it is, out
    of sight too. A weighty label for which there is no room stands over others rather than away.
    """
    view = Region(0.0, 0.0, *map(float, size))
    moves: list[Move | None] = [(0.0, 0.0)] * len(labels)
    taken: list[Region] = []
    for index in sorted(range(len(labels)), key=lambda i: not labels[i].weighty):
        label, box = labels[index], labels[index].box
        if not view.holds(Region.around(label.anchor, 0.0)):
            continue
        whole = _into(box, view)
        fitting = [
            (right, up)
            for right, up in (whole, *_beside(box, whole, taken))
            if view.holds(there := box.moved(right, up)) and not any(map(there.meets, taken))
        ]
        best = min(fitting, key=lambda move: hypot(*move), default=None)
        if not label.weighty and (best is None or hypot(*best) > FAR * box.height):
            moves[index] = None
            continue
        moves[index] = move = best or whole
        taken.append(box.moved(*move).grown(FREE))
    return moves


def _into(box: Region, view: Region) -> Move:
    """The least move that brings a box into the view; its left end first if it is too long."""
    low, high = box.corners
    back = np.maximum(np.minimum(view.corners[1] - high, 0.0), -low)
    right, up = np.where(low < 0.0, -low, back)
    return float(right), float(up)


def _beside(box: Region, whole: Move, taken: Iterable[Region]) -> Iterator[Move]:
    """Moves that put a box just above, below, right and left of each that stands already."""
    for other in taken:
        yield whole[0], other.top - box.bottom
        yield whole[0], other.bottom - box.top
        yield other.right - box.left, whole[1]
        yield other.left - box.right, whole[1]
