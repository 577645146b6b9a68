"""Where labels stand so that none covers another and none is cut off by the edge of the view.

All lengths are px, counted from the lower left corner of the view.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from viewer.draw.camera import Floats

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
    low, high : (2,) corners of its box.
    weighty : whether it always has to be seen; such labels find their places first.
    """

    anchor: Floats
    low: Floats
    high: Floats
    weighty: bool = False


Move = tuple[float, float] | None
"""How far a label is moved to the right and up, px; None where it is left away."""


def places(labels: Sequence[Label], size: tuple[int, int]) -> list[Move]:
    """Move labels, in a view of `size` (width, height), as little as keeps them apart and whole.

    What lies outside of the view keeps its label where it is, out of sight too. A weighty label
    for which there is no room stands over others rather than away.
    """
    view = np.array([0.0, 0.0]), np.array(size, dtype=np.float64)
    moves: list[Move] = [(0.0, 0.0)] * len(labels)
    taken: list[tuple[Floats, Floats]] = []
    for index in sorted(range(len(labels)), key=lambda i: not labels[i].weighty):
        label = labels[index]
        if not _within(label.anchor, label.anchor, view):
            continue
        whole = _into(label, view)
        tries = [whole, *_beside(label, whole, taken)]
        fitting = [move for move in tries if _fits(label, move, view, taken)]
        best = min(fitting, key=lambda move: float(np.linalg.norm(move)), default=None)
        height = float(label.high[1] - label.low[1])
        if not label.weighty and (best is None or np.linalg.norm(best) > FAR * height):
            moves[index] = None
            continue
        move = whole if best is None else best
        moves[index] = float(move[0]), float(move[1])
        taken.append((label.low + move - FREE, label.high + move + FREE))
    return moves


def _into(label: Label, view: tuple[Floats, Floats]) -> Floats:
    """The least move that brings a label into the view; its left end first if it is too long."""
    short = np.maximum(view[0] - label.low, 0.0)
    return np.where(
        short > 0.0, short, np.maximum(np.minimum(view[1] - label.high, 0.0), -label.low)
    )


def _beside(
    label: Label, whole: Floats, taken: Iterable[tuple[Floats, Floats]]
) -> Iterable[Floats]:
    """Moves that put a label just above, below, right and left of each that stands already."""
    for low, high in taken:
        for up in (high[1] - label.low[1], low[1] - label.high[1]):
            yield np.array([whole[0], up])
        for right in (high[0] - label.low[0], low[0] - label.high[0]):
            yield np.array([right, whole[1]])


def _fits(
    label: Label,
    move: Floats,
    view: tuple[Floats, Floats],
    taken: Iterable[tuple[Floats, Floats]],
) -> bool:
    low, high = label.low + move, label.high + move
    apart = all(
        (high <= other_low).any() or (low >= other_high).any() for other_low, other_high in taken
    )
    return apart and _within(low, high, view)


def _within(low: Floats, high: Floats, view: tuple[Floats, Floats]) -> bool:
    return bool((low >= view[0]).all() and (high <= view[1]).all())
