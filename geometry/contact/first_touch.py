"""First touch of a pair: a bend at which it is seen, and a proof for all below.

Where a pair touches is narrowed down by asking whether its surfaces cut, which takes a tenth of a
millisecond, each line from where the last one touched. That is a bend at which contact is seen,
and no more: it may touch before. One search over rows (`geometry.contact.row_search`) then proves
all lines up to just below that, and all that lies between them up to just below the lowest; or it
finds where the pair does touch, and proves up to there.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, radians
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from geometry.contact.pair import Pair
from geometry.contact.row_search import MOST, Closes, Stretches, search
from geometry.contact.touching import Closeness, Touch
from geometry.tolerances import TOL

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Bracket:
    """Where a pair touches on one line of poses.

    clear : rad, no contact is seen here; once it is proved, none at any bend up to here.
    touch : rad, contact is seen here; inf where none is.
    """

    clear: float
    touch: float


BELOW = 0.9
"""Share of the allowed bracket used between the contact and the proof; the rest covers the bracket
of the contact itself."""

CLOSE = 0.1
"""The same of a single line, which is proved up to closer."""

STRIDE = radians(2.0)
"""Step to a first contact where nothing is known yet. What it jumps over the proof finds."""

LEAST_WIDTH, MOST_WIDTH = radians(0.02), radians(1.0)
"""Bracket first tried about where the next line should touch."""

OFF = 1.5
"""How much farther off than at full speed a touch is thought to be."""

NARROW = 0.49
"""Share of the bracket wanted that each step narrows at least; less than half closes it."""

CELL = radians(11.25)
"""Width of the cells that the area below the lowest touch is cut into at first."""


class Asked(Closes, Protocol):
    """Two bodies that close on each other, with how exactly that is found."""

    @property
    def near(self) -> Closeness:
        """How near counts as touching."""

    @property
    def arm(self) -> float:
        """About how fast one comes nearer to the other at most, mm per rad of the first number."""

    def room(self, first: float, second: float) -> float:
        """What is left to touching at a pose, mm; less than 0 where they are seen to touch.

        A graze either way where bodies are only asked whether they cut.
        """


def seen_first(pair: Asked, lines: Sequence[float], top: float = TOL.bend_limit) -> list[Bracket]:
    """Brackets of what is seen to touch on neighbouring lines; not yet proved.

    lines : the second number of the poses of each, by size.
    """
    found: list[Bracket] = []
    guess: float | None = None
    width = MOST_WIDTH
    for line in lines:
        bracket = _first(pair, line, top) if guess is None else _near(pair, line, guess, width, top)
        if bracket.touch < inf and found and found[-1].touch < inf:
            change = bracket.touch - found[-1].touch
            error = abs(bracket.touch - guess) if guess is not None else abs(change)
            width = min(max(LEAST_WIDTH, error), MOST_WIDTH)
            guess = bracket.touch + change
        else:
            guess, width = bracket.touch if bracket.touch < inf else None, MOST_WIDTH
        found.append(bracket)
    return found


@dataclass(frozen=True)
class _Seen:
    """What is left at a bend."""

    bend: float
    room: float


def _at(pair: Asked, bend: float, line: float) -> _Seen:
    return _Seen(bend, pair.room(bend, line))


def _first(pair: Asked, line: float, top: float) -> Bracket:
    clear = here = _at(pair, 0.0, line)
    while here.room >= 0.0:
        if here.bend >= top:
            return Bracket(top, inf)
        stride = max(STRIDE, here.room / pair.arm)
        clear, here = here, _at(pair, min(here.bend + stride, top), line)
    return _narrowed(pair, line, clear, here)


def _near(pair: Asked, line: float, guess: float, width: float, top: float) -> Bracket:
    here = _at(pair, min(max(guess, 0.0), top), line)
    if here.room < 0.0:
        return _below(pair, line, here, width)
    width = _width(pair, here, width)
    while here.bend < top:
        clear, here = here, _at(pair, min(here.bend + width, top), line)
        if here.room < 0.0:
            return _narrowed(pair, line, clear, here)
        width *= 3.0
    return Bracket(top, inf)


def below(
    pair: Asked, line: float, bend: float, width: float = MOST_WIDTH, fine: float | None = None
) -> Bracket | None:
    """Bracket downward of a bend (rad) at which contact is seen; None where it is not.

    width : rad, of the first step down. fine : rad, of the bracket; that of the pair if left out.
    """
    here = _at(pair, bend, line)
    return _below(pair, line, here, width, fine) if here.room < 0.0 else None


def _below(
    pair: Asked, line: float, touch: _Seen, width: float, fine: float | None = None
) -> Bracket:
    width = _width(pair, touch, width)
    while touch.bend > 0.0:
        here = _at(pair, max(touch.bend - width, 0.0), line)
        if here.room >= 0.0:
            return _narrowed(pair, line, here, touch, fine)
        touch, width = here, 3.0 * width
    return Bracket(0.0, 0.0)


def _width(pair: Asked, here: _Seen, width: float) -> float:
    """How far off (rad) the touch is thought to be, where what is left tells of it."""
    if pair.near.gap > 0.0:
        return 0.5 * pair.near.fine + OFF * abs(here.room) / pair.arm
    return width


def _narrowed(
    pair: Asked, line: float, clear: _Seen, touch: _Seen, fine: float | None = None
) -> Bracket:
    """Bracket between a bend that is clear and one that is not, as close as it has to be.

    Where a straight line through what is left comes to nothing; by halves where that gains less.
    """
    fine = fine or pair.near.fine
    halve = False
    while (wide := touch.bend - clear.bend) > fine:
        least = NARROW * fine / wide
        share = 0.5 if halve else clear.room / (clear.room - touch.room)
        here = _at(pair, clear.bend + min(max(share, least), 1.0 - least) * wide, line)
        clear, touch = (clear, here) if here.room < 0.0 else (here, touch)
        halve = not halve and touch.bend - clear.bend > 0.5 * wide
    return Bracket(clear.bend, touch.bend)


@dataclass(frozen=True)
class Proved:
    """What a proof comes to.

    lines : brackets of the lines, with what is proved.
    clear : rad, no contact at any second number of the area up to here; what was asked of none.
    hit : where the area touches before what was asked, as second number and bracket; None where
        it does not.
    finished : whether the search came to its end.
    rows : how many rows it took.
    """

    lines: list[Bracket]
    clear: float
    hit: tuple[float, Bracket] | None
    finished: bool
    rows: int


def prove(
    pair: Asked,
    lines: Sequence[float] = (),
    seen: Sequence[Bracket] = (),
    area: tuple[float, float] = (0.0, 0.0),
    top: float = 0.0,
    most: int = MOST,
) -> Proved:
    """Rule out contact on lines up to just below what is seen, and in an area up to a bend.

    lines, seen : second numbers, by size, and what is seen there.
    area, top : its first and last second number, and up to which bend (rad) it is asked; none
        without width.
    """
    margin = CLOSE * pair.near.certificate
    tops = [each.clear if each.touch == inf else each.touch - margin for each in seen]
    # A line that is seen to touch when straight is clear up to nowhere, and not asked.
    some = [i for i, to in enumerate(tops) if to > 0.0]
    count, own = len(some), np.array([lines[i] for i in some], np.float64)
    cells = max(1, round((area[1] - area[0]) / CELL)) if area[1] > area[0] and top > 0.0 else 0
    edges = np.linspace(*area, cells + 1) if cells else np.zeros(1)
    most_of = np.array([tops[i] for i in some], np.float64)
    asked = Stretches(
        low=np.concatenate([np.minimum(top, most_of), np.zeros(cells)]),
        high=np.concatenate([most_of, np.full(cells, top)]),
        side=np.concatenate([np.stack([own, own], 1), np.stack([edges[:-1], edges[1:]], 1)]),
        group=np.concatenate([np.arange(count) // pair.motion.together, count + np.arange(cells)]),
    )
    proof = search(pair, asked, most)
    clear = np.maximum(proof.clear, 0.0)
    proved = [replace(each, clear=0.0) for each in seen]
    for i, to, where in zip(some, clear.tolist(), proof.where, strict=False):
        settled = replace(seen[i], clear=to)
        proved[i] = settled if np.isnan(where) else _settled(pair, lines[i], to)
    hit, to = None, top
    if cells:
        lowest = count + int(np.argmin(clear[count:]))
        to, where = float(clear[lowest]), float(proof.where[lowest])
        hit = None if np.isnan(where) else (where, _settled(pair, where, to))
    return Proved(proved, to, hit, proof.finished, proof.rows)


def _settled(pair: Asked, line: float, clear: float) -> Bracket:
    """Bracket of a line that is proved up to a bend at which it seems to touch."""
    for share in LOOKS:
        past = _at(pair, clear + share * pair.near.look, line)
        if past.room < 0.0:
            here = _at(pair, clear, line)
            if here.room < 0.0:
                break
            return replace(_narrowed(pair, line, here, past), clear=clear)
    # Nearer than a graze, or not finished: it counts as touching, on the safe side.
    return Bracket(clear, clear)


LOOKS = (0.04, 0.2, 1.0)
"""Shares of the look ahead at which contact is asked for; what is thin may be past it at the end of
it."""


def touch_of(pair: Pair, line: float, bracket: Bracket) -> Touch | None:
    """A bracket with the nearest points just before it touches; None where it does not."""
    if not bracket.touch < inf:
        return None
    near = pair.nearest_at(bracket.clear, line)
    surfaces = pair.meshes.surfaces(near, pair.at(bracket.clear, line))
    return Touch(bracket.clear, bracket.touch, near, surfaces)


def first_touches(
    pair: Pair, lines: Sequence[float], top: float = TOL.bend_limit
) -> list[Touch | None]:
    """First touch on each of some lines (their second numbers, by size) up to a bend (rad)."""
    proved = prove(pair, lines, seen_first(pair, lines, top))
    return [touch_of(pair, line, each) for line, each in zip(lines, proved.lines, strict=True)]


def certify(pair: Asked, low: float, high: float, target: float, most: int = MOST) -> Proved:
    """Rule out contact at every second number in [low, high] at every bend up to `target`, rad."""
    return prove(pair, area=(low, high), top=target, most=most)
