"""What moved between two readings of the same numbers, by the errors of both."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import hypot
from typing import Final, Literal

from scipy.special import ndtr

from sim.accuracy.source import SURE

Reading = Literal["length", "shaft_down", "pinion_up", "output_down", "frame_to_axle", "slip_shows"]
"""What was read; angles are positive the way their name says."""

Move = Literal["moved", "perhaps", "stayed"]
"""moved: of 100 comparisons in which nothing moved, 95 call nothing so. perhaps: that number by
itself is farther apart than 95 of 100, which with several numbers one often is."""

FALSE_ALARMS: Final = 0.05
"""Share of comparisons that call something moved where nothing did."""


@dataclass(frozen=True)
class Known:
    """A number and how far off 95 of 100 such readings are, mm or rad."""

    value: float
    off: float


@dataclass(frozen=True)
class Moved:
    """One number read twice.

    Attributes
    ----------
    reading : which.
    was, now : mm or rad.
    off : 95 of 100 differences of readings of the same are no farther from none.
    move : what is to be said of it.
    """

    reading: Reading
    was: float
    now: float
    off: float
    move: Move = "stayed"

    @property
    def by(self) -> float:
        """How much more it is now."""
        return self.now - self.was

    @property
    def unit(self) -> Literal["mm", "rad"]:
        """Of all its numbers."""
        return "rad" if self.reading in ("shaft_down", "pinion_up", "output_down") else "mm"

    @property
    def by_chance(self) -> float:
        """Chance of reading so large a difference where nothing moved, either way."""
        return float(2.0 * ndtr(-abs(self.by) * SURE / self.off))

    @property
    def sure(self) -> float:
        """How sure it is that it moved, by itself."""
        return 1.0 - self.by_chance


def moved_between(was: Mapping[Reading, Known], now: Mapping[Reading, Known]) -> tuple[Moved, ...]:
    """Every number that both have, in the order of the first.

    Which of them moved is asked of all at once, the surest first, each against the chance that is
    left for it [HOLM]: so several numbers raise no more false alarms than one.
    """
    both = [
        Moved(reading, each.value, now[reading].value, hypot(each.off, now[reading].off))
        for reading, each in was.items()
        if reading in now
    ]
    left, moved = len(both), set[Reading]()
    for each in sorted(both, key=lambda each: each.by_chance):
        if each.by_chance > FALSE_ALARMS / left:
            break
        moved.add(each.reading)
        left -= 1
    return tuple(replace(each, move=_move(each, moved)) for each in both)


def _move(each: Moved, moved: set[Reading]) -> Move:
    if each.reading in moved:
        return "moved"
    return "perhaps" if each.by_chance < FALSE_ALARMS else "stayed"
