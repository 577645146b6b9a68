"""How far the axle may go one way with every reserve kept, as a check judges it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from math import floor, radians
from typing import Final

from geometry.seeking import edge, last_of
from sim.around.surroundings import surrounding_gaps
from sim.assessment import Assessment
from sim.search.envelope import Envelope, envelope
from sim.search.first_contact import Direction
from sim.ticket.slip_plan import SIXTEENTH
from sim.vehicle import Joint, Slip, Vehicle

READINGS: Final = "suspension's readings"
REACH: Final = "suspension's reach"
"""What stops the axle besides a joint, the slip, or a thing by its name."""


BEND_STEP: Final = radians(0.1)
"""What an angle finder reads."""


@dataclass(frozen=True, eq=False)
class Reserves:
    """Everything that a check holds against a reserve, asked for part of the travel.

    Less droop are shorter straps, which end the way of each side; what is asked going down is then
    below ride height, and going up above it.

    Attributes
    ----------
    found : what is asked.
    slip : the slip as it is built.
    """

    found: Assessment
    slip: Slip

    def furthest(self, way: Direction) -> tuple[float, str]:
        """The furthest from ride height (mm) with every reserve kept, and what stops it there.

        The whole travel and nothing; else in whole 1/16 in, so that one more takes a reserve.
        """
        travel = self.found.vehicle.travel
        whole = travel.droop if way == "down" else travel.bump
        if not (stops := self.short(way, whole)):
            return whole, ""
        steps = floor(whole / SIXTEENTH + 1e-9)
        for asked in (self.short_of_room, self.short):
            # What is short stays so further on, since the travel only grows.
            kept = last_of(partial(_kept, asked, way), steps)
            if kept < steps:
                stops = asked(way, (kept + 1) * SIXTEENTH)
            steps = max(kept, 0)
        return steps * SIXTEENTH, stops

    def bends(self) -> dict[Joint, float]:
        """How far each joint may bend (rad) with both its bend and its gap kept in reserve.

        Where the gap decides, to `BEND_STEP` under it.
        """
        found = {}
        for joint, each in self.found.joints.items():
            room = each.room
            most = max(0.0, room.clear - room.wanted_bend)
            if room.has_gap(most):
                found[joint] = most
                continue
            found[joint], _ = edge(room.has_gap, 0.0, most, BEND_STEP)
        return found

    def short(self, way: Direction, far: float) -> str:
        """What falls short of its reserve between ride height and `far` mm; empty for nothing."""
        vehicle, swept = self._swept(way, far)
        short = self._short_of_room(swept) or self._short_of_gap(swept)
        rig = self.found.rig
        if short or not rig.surroundings:
            return short
        wanted = rig.wanted.clearance.mm
        near = surrounding_gaps(rig, vehicle, self.found.parts)
        return next((gap.name for gap in near if gap.certified_mm < wanted), "")

    def short_of_room(self, way: Direction, far: float) -> str:
        """The same without gaps, which take longer to find."""
        return self._short_of_room(self._swept(way, far)[1])

    def _swept(self, way: Direction, far: float) -> tuple[Vehicle, Envelope]:
        whole = self.found.vehicle.travel
        travel = (
            whole.strapped(far).part(highest=0.0)
            if way == "down"
            else replace(whole, bump=far).part(lowest=0.0)
        )
        vehicle = replace(self.found.vehicle, travel=travel, slip=self.slip)
        return vehicle, envelope(vehicle)

    def _short_of_room(self, swept: Envelope) -> str:
        for joint, each in self.found.joints.items():
            room = each.room
            left = room.left(swept.joints[joint].most.value)
            if not left > 0.0 or left < room.wanted_bend:
                return f"{joint} joint"
        for left in (swept.slip.closes_left, swept.slip.opens_left):
            if not left > 0.0 or left < self.found.slip_reserve:
                return "slip"
        if swept.unreachable is not None:
            return REACH
        return READINGS if max(swept.extrapolated) > 0.0 else ""

    def _short_of_gap(self, swept: Envelope) -> str:
        tight = (
            f"{joint} joint"
            for joint, each in self.found.joints.items()
            if not each.room.has_gap(swept.joints[joint].most.value)
        )
        return next(tight, "")


def _kept(short: Callable[[Direction, float], str], way: Direction, step: int) -> bool:
    """Whether nothing is short at so many sixteenths of an inch."""
    return not short(way, step * SIXTEENTH)
