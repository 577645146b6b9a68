"""How far off the numbers of a build ticket may be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians
from types import MappingProxyType

import numpy as np

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.bars import Band, Bars, first_bars, kept_bars
from sim.bars.doubts import Doubts, doubts_of
from sim.bars.give_or_take import give_or_take, left_draws, middle_95
from sim.derive import ride_height_of, vehicle_of
from sim.findings import Code
from sim.frames import FloatArray
from sim.line import line
from sim.progress import Progress, silent
from sim.rig import Rig
from sim.vehicle import RIDE, Joint


@dataclass(frozen=True, eq=False)
class TicketSure:
    """How far off numbers of a ticket may be: 95 of 100 trucks are no farther, either way.

    Attributes
    ----------
    bars, doubts : of its rig.
    lengths : mm, of each piece from joint centre to joint centre.
    ride : rad, of the bend of each joint at ride height.
    """

    bars: Bars
    doubts: Doubts
    lengths: tuple[float, ...]
    ride: Mapping[Joint, float]

    def most(self, joint: Joint) -> tuple[float, float] | None:
        """Where the largest bend of a joint in the travel lies, rad; None where nobody can tell."""
        found = self.bars.named("joint-bend", joint)
        worst = None if found is None else found.worst
        return None if worst is None else (radians(worst.low), radians(worst.high))

    def clear(self, joint: Joint, clear: float) -> tuple[float, float] | None:
        """Where the bend lies that a joint is good for, rad, which is `clear` as it is."""
        shape = self.doubts.shapes.get(joint)
        if shape is None:
            return None
        low, high = middle_95(left_draws(shape, 0.0))
        return clear + low, clear + high

    def left(self, code: Code) -> float | None:
        """Mm, of what is left of the slip at its end one way; None where nobody measured it."""
        found = self.bars.named(code, "slip")
        return None if found is None else _half(found.band)


def ticket_sure(found: Assessment, progress: Progress = silent) -> TicketSure | None:
    """How far off numbers of a rig's ticket may be; None where nothing may, or nobody can tell."""
    try:
        doubts = doubts_of(found.rig, found.joints, progress=progress)
        bars = kept_bars(found) or first_bars(
            found, 0, doubts.sources, doubts.shapes, progress, ask_again=False
        )
    except BindpointError:  # the ticket stands without
        return None
    if not bars.keys:
        return None
    off = give_or_take(found.rig, doubts.moving, _numbers)
    count = len(off) - len(found.joints)
    ride = MappingProxyType(dict(zip(found.joints, map(float, off[count:]), strict=True)))
    return TicketSure(bars, doubts, tuple(map(float, off[:count])), ride)


def _numbers(rig: Rig) -> FloatArray:
    """Lengths (mm) of the pieces and bends (rad) of the joints at ride height."""
    ride = ride_height_of(rig)
    state = line(vehicle_of(rig), RIDE.travel, RIDE.roll, RIDE.wrap)
    front = () if ride.section is None else (ride.section.length,)
    return np.array([*front, ride.length, *map(float, state.bends.values())])


def _half(band: Band | None) -> float | None:
    return None if band is None else 0.5 * (band.high - band.low)
