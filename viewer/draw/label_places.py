"""Where labels stand so that none covers another, what it speaks of, or is cut off by the edge.

All lengths are px, counted from the lower left corner of the view. A label stays on its side of
what pushes it until another side is clearly nearer, so that it does not jump while things move.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from viewer.draw.camera import Floats, Region

FREE = 3.0
"""px left free around a label, and around what one speaks of."""

FAR = 2.5
"""Heights of its own that a label of less weight may be moved: farther off it would name what it
does not stand beside, and is left away instead."""

BACK = 0.8
"""Share of that within which one that was left away comes back."""

STAYS = 0.5
"""What moving a label from where it stood costs, against standing off from its own place."""

STANDS_OFF = 14.0
"""px from what it speaks of from which on a line leads there."""


@dataclass(frozen=True, eq=False)
class Label:
    """A label as it would stand alone.

    Attributes
    ----------
    anchor : (2,) where what it names is seen.
    box : what it takes.
    weighty : whether it always has to be seen; such labels find their places first.
    about, clear : middle (2,) and radius of what it speaks of, which no label covers; None where
        that is the anchor, which may be covered.
    """

    anchor: Floats
    box: Region
    weighty: bool = False
    about: Floats | None = None
    clear: float = 0.0

    def is_in(self, view: Region) -> bool:
        """Whether what it speaks of is in a view."""
        places = (self.anchor,) if self.about is None else (self.anchor, self.about)
        return any(view.holds(Region.around(place, 0.0)) for place in places)


Move = tuple[float, float]
"""How far a label is moved to the right and up, px."""


def places(
    labels: Sequence[Label],
    size: tuple[int, int],
    before: Sequence[Move | None] = (),
    kept: Sequence[tuple[float, float, float]] = (),
) -> list[Move | None]:
    """Move labels, in a view of `size` (width, height), as little as keeps them apart and whole.

    None for one that is left away, as that of what is out of view. A weighty label for which there
    is no room stands over others rather than away.

    before : what came of the same labels last time, as far as that is known.
    kept : middles (2,) and radii of whatever else no label covers.
    """
    view = Region(0.0, 0.0, *map(float, size))
    stood = [*before, *[(0.0, 0.0)] * len(labels)]
    moves: list[Move | None] = [None] * len(labels)
    seen = [label.is_in(view) for label in labels]
    rounds = np.array(
        [
            [*label.about, label.clear + FREE]
            for label, is_seen in zip(labels, seen, strict=True)
            if is_seen and label.about is not None
        ]
        + [[x, y, radius + FREE] for x, y, radius in kept]
    ).reshape(-1, 3)
    taken = np.empty((0, 2, 2))
    for index in sorted(range(len(labels)), key=lambda i: not labels[i].weighty):
        label, last = labels[index], stood[index]
        if not seen[index]:
            continue
        home = last or (0.0, 0.0)
        # Where there is no room at all, what is spoken of is covered before other words are.
        best = _nearest(label.box, view, taken, rounds, home)
        if best is None and label.weighty:
            best = _nearest(label.box, view, taken, rounds[:0], home)
        far = FAR * label.box.height * (1.0 if last is not None else BACK)
        if not label.weighty and (best is None or np.hypot(*best) > far):
            moves[index] = None
            continue
        moves[index] = move = best or _into(label.box, view)
        taken = np.concatenate([taken, [label.box.moved(*move).grown(FREE).corners]])
    return moves


def leader(label: Label, move: Move) -> Floats | None:
    """Line, (2, 2), from a label that was moved to what it speaks of; None where it is beside it.

    It ends where what it speaks of begins.
    """
    about = label.anchor if label.about is None else label.about
    start = np.clip(about, *label.box.moved(*move).corners)
    along = about - start
    away = float(np.linalg.norm(along))
    if away - label.clear < STANDS_OFF:
        return None
    return np.stack([start, about - along * (label.clear / away)])


def _nearest(box: Region, view: Region, taken: Floats, rounds: Floats, last: Move) -> Move | None:
    """The least move to where a box is free, `last` being where it stood; None if nowhere.

    taken : (n, 2, 2) corners of what it must not cover. rounds : (n, 3) middles and radii.
    """
    whole = np.array(_into(box, view))
    low, high = box.corners
    # Along each axis it is where it would be, where it was, at an edge, or beside something.
    middles, radii = rounds[:, :2], rounds[:, 2:]
    edges = view.corners - box.corners
    above = np.concatenate([taken[:, 1], middles + radii]) - low
    below = np.concatenate([taken[:, 0], middles - radii]) - high
    ways = np.concatenate([[whole, last], edges, above, below])
    tried = np.stack(np.meshgrid(*ways.T), axis=-1).reshape(-1, 2)
    cost = np.hypot(*tried.T) + STAYS * np.hypot(*(tried - last).T)
    tried = tried[np.argsort(cost, kind="stable")]
    for few in np.array_split(tried, np.arange(FEW, len(tried), FEW)):
        free = _free(box, view, taken, rounds, few)
        if free.any():
            right, up = few[int(np.argmax(free))]
            return float(right), float(up)
    return None


FEW = 64
"""Moves looked at together: the cheapest first, and mostly one of those will do."""


def _free(
    box: Region, view: Region, taken: Floats, rounds: Floats, moves: Floats
) -> NDArray[np.bool_]:
    """Whether a box moved so, (m, 2), is in the view and covers nothing."""
    low, high = (corner + moves for corner in box.corners)
    least, most = view.corners
    inside: NDArray[np.bool_] = ((low >= least - NEXT) & (high <= most + NEXT)).all(axis=1)
    low, high = low[:, None], high[:, None]
    start, stop = taken[:, 0], taken[:, 1]
    inside &= ((low >= stop - NEXT) | (high <= start + NEXT)).any(axis=2).all(axis=1)
    middles = rounds[:, :2]
    aside = np.clip(middles, low, high) - middles
    inside &= (np.hypot(aside[..., 0], aside[..., 1]) >= rounds[:, 2] - NEXT).all(axis=1)
    return inside


NEXT = 1e-6
"""px. What is nearer than this is beside, not over."""


def _into(box: Region, view: Region) -> Move:
    """The least move that brings a box into the view; its left end first if it is too long."""
    low, high = box.corners
    back = np.maximum(np.minimum(view.corners[1] - high, 0.0), -low)
    right, up = np.where(low < 0.0, -low, back)
    return float(right), float(up)
