"""Bench readings of a rig as numbers: how the joint was held, what was read, how far off it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi, radians
from typing import Final

import numpy as np

from geometry.errors import BindpointError
from sim.accuracy.source import SURE
from sim.bench.fitted import Turned, Way
from sim.bench.turned import Lines
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig
from sim.rig.bench import BenchReading
from sim.rig.typed_joints import TypedJoint, typed_joint
from sim.vehicle import Joint, Vehicle

PROTRACTOR: Final = radians(0.5)
"""rad. 95 of 100 bends read with a protractor against two shafts are no farther off (from memory).
"""

HEIGHT: Final = 6.35
"""mm. 95 of 100 heights of an axle at which a hand-turned shaft catches are no farther off: 1/4 in
by a tape and by the hand that feels it (from memory)."""

AS_MEASURED: Final = radians(1.0)
"""rad. 95 of 100 bends that follow from what was measured of the vehicle are no farther off, where
slopes are read to half a degree (from memory)."""

MAKER: Final = radians(4.0)
"""rad. 95 of 100 bends that a maker states are no farther off the lowest touch of the very part: it
is rounded, holds for a family of parts, and has something in hand (from memory)."""

EARS: Final = {"in line": 0.0, "between": 0.25 * pi, "across": 0.5 * pi, "any": None}
"""rad from the plane of the bend to the bores of the clamped yoke, by the words of a rig file."""


@dataclass(frozen=True)
class Told:
    """One reading as numbers.

    Attributes
    ----------
    number : which of the joint's readings, from 1.
    key : its key path.
    way : how it was read.
    turned : how the joint was held.
    driving : whether it was the driving yoke that was held.
    read : rad.
    off : rad; 95 of 100 such readings are no farther off.
    """

    number: int
    key: str
    way: Way
    turned: Turned
    driving: bool
    read: float
    off: float

    @property
    def deviation(self) -> float:
        """One standard deviation, rad."""
        return self.off / SURE

    def shown(self, lines: Lines, touch: FloatArray, lowest: FloatArray) -> FloatArray:
        """What would be read (n,), rad, on joints with their touch (n, m) at the lines.

        lowest : (n,) rad, their lowest touch.
        """
        if self.turned.ears is None:
            return lowest
        return lines.held(touch, self.turned.ears, self.driving)


def told(rig: Rig, joint: Joint) -> tuple[Told, ...]:
    """Every reading of a joint of a rig as numbers, but those at heights that it does not reach."""
    end = typed_joint(rig, joint)
    return tuple(_told(rig, end))


def unreached(rig: Rig, joint: Joint) -> tuple[str, ...]:
    """Key paths of readings at heights at which the shaft cannot be, so that they say nothing."""
    end = typed_joint(rig, joint)
    used = {each.key for each in told(rig, joint)}
    keys = (f"{end.table}.bench[{number}]" for number in range(1, len(end.typed.bench) + 1))
    return tuple(key for key in keys if key not in used)


def _told(rig: Rig, end: TypedJoint) -> Iterator[Told]:
    first = end.typed.yokes[0]
    for number, each in enumerate(end.typed.bench, start=1):
        held = each.held.replace(" ", "_")
        turned, driving = Turned(), held == first
        key = f"{end.table}.bench[{number}]"
        if each.touches_at is not None or each.clear_to is not None:
            bend = each.touches_at or each.clear_to
            assert bend is not None
            turned = Turned(held, _ears(each))
            way: Way = "lowest" if turned.ears is None else "bench"
            if each.clear_to is not None:
                way = "clear"
            yield Told(number, key, way, turned, driving, bend.rad, PROTRACTOR)
        elif each.maker_says is not None:
            yield Told(number, key, "maker", turned, driving, each.maker_says.rad, MAKER)
        elif each.catches_at is not None:
            found = _bend_at(rig, end.joint, each.catches_at.mm)
            if found is not None:
                yield Told(number, key, "catch", turned, driving, *found)


def _ears(reading: BenchReading) -> float | None:
    if reading.turned is not None:
        return reading.turned.rad
    return None if reading.ears is None else EARS[reading.ears]


def _bend_at(rig: Rig, joint: Joint, height: float) -> tuple[float, float] | None:
    """Bend (rad) of a joint at a height (mm), level and without torque, and how far it may be off.

    None where the shaft cannot be there.
    """
    try:
        vehicle = vehicle_of(rig)
    except BindpointError:
        return None
    bends = _bends(vehicle, joint, height + np.array([0.0, -HEIGHT, HEIGHT]))
    if not np.isfinite(bends).all():
        return None
    by_height = 0.5 * abs(bends[2] - bends[1])
    return float(bends[0]), float(np.hypot(by_height, AS_MEASURED))


def _bends(vehicle: Vehicle, joint: Joint, heights: FloatArray) -> FloatArray:
    level = np.zeros(len(heights))
    return np.asarray(line(vehicle, heights, level, level).bends[joint])
