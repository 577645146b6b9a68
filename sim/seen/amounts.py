"""Amounts that only an inspection has: clock places, roads driven, readings in two directions."""

import re
from dataclasses import dataclass
from math import pi
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field

from sim.table.fields import OfAngle, OfLength, Size
from sim.table.kinds import Count, Range, Typed, refusal
from sim.units import Angle, Length

_CLOCK: Final = re.compile(
    r"\s*(?P<hour>1[0-2]|0?[1-9])(?::(?P<minute>[0-5][0-9]))?\s*(?:o\s*['\u2019]?\s*clock)?\s*",
    re.IGNORECASE,
)
_TURN: Final = 2.0 * pi
_HOURS: Final = 12.0
_MINUTES: Final = 60.0


def clock_angle(text: str) -> float:
    """The angle (rad) of a clock position, clockwise from 12, from 0 to under a turn.

    Raises ValueError for a text that is none.
    """
    found = _of(text)
    if found is None:
        raise ValueError(f'came "{text}", expected {CLOCK.expected}')
    return found


def _of(text: str) -> float | None:
    found = _CLOCK.fullmatch(text)
    if found is None:
        return None
    hours = int(found["hour"]) + int(found["minute"] or 0) / _MINUTES
    return _TURN * (hours % _HOURS) / _HOURS


@dataclass(frozen=True)
class ClockPlace(Typed):
    """A place on a clock, kept as typed; `of` and `sure` give the angle (rad) from 12."""

    def within(self, found: float) -> None:
        """Every place on a clock will do, 12 too."""
        del found


CLOCK: Final = ClockPlace(
    "Clock position",
    Range(0.0, _TURN, "rad", below=True),
    says="A place on the clock, clockwise from 12.",
    examples=("12 o'clock", "4:30"),
    expected='a place on the clock, such as "3 o\'clock" or "4:30"',
    number=_of,
    pattern=r"^\s*(1[0-2]|0?[1-9])(:[0-5][0-9])?\s*([oO]\s*['\u2019]?\s*[cC][lL][oO][cC][kK])?\s*$",
)


_ANY_ROAD: Final = Range(0.0, 2e12, "mm")
"""Up to 2,000,000 km: farther than any vehicle goes."""


@dataclass(frozen=True)
class OfRoad(OfLength):
    """A distance that a vehicle drives."""

    expected = 'a distance with its unit, such as "3000 mi" or "5000 km"'

    title: str = "Distance driven"
    range: Range = _ANY_ROAD
    units: tuple[str, ...] = ("mi", "km")
    says: str = "A distance driven, with its unit."
    examples: tuple[str, ...] = ("3000 mi", "5000 km")

    def within(self, found: Any) -> None:
        """Refuse what no vehicle drives."""
        if found.mm > self.range.most:
            raise refusal("farther than any vehicle goes", f"{self.expected}; is the unit right?")
        super().within(found)


def _one_or_two(value: Any) -> Any:
    expected = 'one or two lengths in [ ], such as ["1.0620 in", "1.0615 in"]'
    if not isinstance(value, list | tuple):
        raise refusal("not a list", expected)
    if len(value) not in {1, 2}:
        raise refusal(f"{len(value)} in place of one or two", expected)
    return tuple(value)


Clock = Annotated[str, CLOCK]
Road = Annotated[Length, OfRoad()]
FreePlay = Annotated[Angle, OfAngle(range=Range(0.0, 180.0, "deg", below=True))]
"""Play in turning: from 0 to under 180 deg."""
Pair = Annotated[tuple[Size, ...], Field(min_length=1, max_length=2), BeforeValidator(_one_or_two)]
"""A diameter read along the shaft, and another across it where it was read twice."""
Times = Annotated[int, Count("Count", Range(0, 100))]
PerTurn = Annotated[int, Count("Count", Range(0, 2))]
