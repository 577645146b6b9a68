"""One thing seen on the truck as a number that can be computed, and what it has to be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians
from typing import Final, Literal

from sim.accuracy.read_off import read_off
from sim.rig import Rig
from sim.rig.measured_with import MeasuredWith
from sim.rig.seen_on_truck import SeenOnTruck
from sim.vehicle import Joint, Pose

Sense = Literal["is", "at least", "at most"]
"""What the computed number has to be of the seen one."""

Axis = Literal["at", "roll", "wrap", "seen"]
"""What of it may be off by itself: height, roll and wrap of its pose; what was read."""

HEIGHT: Final = 6.35
"""mm. The height of an axle on a lift, against where it stands at ride height: 1/4 in (from
memory)."""

WRAP: Final = radians(1.0)
"""rad. Wrap under a torque that is held by hand (from memory)."""

SENSES: Final[dict[str, Sense]] = {
    "slip_opened": "is",
    "slip_closed": "is",
    "paint_ran": "at least",
    "paint_ran_in": "at least",
}
"""By what was seen. A drive need not use all of the travel: paint tells the least of it."""


@dataclass(frozen=True)
class Observed:
    """One thing seen.

    Attributes
    ----------
    number : which of the file's, from 1.
    entry : as the file has it.
    at : the pose it was seen in; None of what is left of a whole drive.
    sense : what the computed number has to be of `seen`.
    seen : mm by which the slip stood open or closed; of a touch 0, rad past where it touches.
    """

    number: int
    entry: SeenOnTruck
    at: Pose | None
    sense: Sense
    seen: float

    @property
    def what(self) -> str:
        """Key that says what was seen."""
        return self.entry.what

    @property
    def joint(self) -> Joint | None:
        """Which joint touched or was free; None for whichever does first."""
        return self.entry.joint

    @property
    def key(self) -> str:
        """Key path of the entry."""
        return f"seen_on_truck[{self.number}]"

    @property
    def unit(self) -> Literal["mm", "rad"]:
        """Of `seen` and of what is computed for it."""
        return "rad" if self.what == "turned" else "mm"

    def offs(self, said: MeasuredWith | None) -> Iterator[tuple[Axis, str, float, float]]:
        """What of it may be off by itself: axis, key path, value, and how far off (95 of 100).

        said : with what the rig was measured.
        """
        entry = self.entry
        tool = entry.tool
        if self.at is not None and entry.at is not None:
            yield "at", f"{self.key}.at", self.at.travel, read_off(entry.at, tool, said, HEIGHT)
            for key in (*type(entry).rolled.keys, *type(entry).wrapped.keys):
                angle = getattr(entry, key)
                if angle is None:
                    continue
                axis: Axis = "roll" if key in type(entry).rolled.keys else "wrap"
                off = read_off(angle, tool, said, WRAP if axis == "wrap" else None)
                yield axis, f"{self.key}.{key}", getattr(self.at, axis), off
        if self.what != "turned":
            read = getattr(entry, self.what)
            yield "seen", f"{self.key}.{self.what}", self.seen, read_off(read, tool, said)


def observed_of(rig: Rig) -> tuple[Observed, ...]:
    """Everything that was seen on the truck of a rig."""
    return tuple(_observed(number, each) for number, each in enumerate(rig.seen_on_truck, start=1))


def _observed(number: int, entry: SeenOnTruck) -> Observed:
    at = None if entry.at is None else Pose(entry.at.mm, entry.rolled, entry.wrapped)
    if entry.what == "turned":
        sense: Sense = "at least" if entry.turned == "touches" else "at most"
        return Observed(number, entry, at, sense, 0.0)
    return Observed(number, entry, at, SENSES[entry.what], getattr(entry, entry.what).mm)
