"""Bench readings of a rig as numbers: how the joint was held, what was read, how far off it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi, radians
from typing import Final

import numpy as np

from geometry.errors import BindpointError
from sim.accuracy.off import off_of
from sim.accuracy.source import SURE
from sim.accuracy.sources import sources_of
from sim.bench.fitted import ReadingFit, Turned, Way
from sim.bench.turned import Lines
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig
from sim.rig.bench import BenchReading
from sim.rig.tools import tools_of, usual_tool
from sim.rig.typed_joints import TypedJoint, typed_joint
from sim.units import Angle
from sim.vehicle import Joint

FELT: Final = 6.35
"""mm. 95 of 100 heights at which a hand feels a shaft catch are no farther off: 1/4 in (from
memory). What the tape is off comes on top."""

MAKER: Final = radians(4.0)
"""rad. 95 of 100 bends that a maker states are no farther off the lowest touch of the very part: it
is rounded, holds for a family of parts, and has something in hand (from memory)."""

EARS: Final = {"in line": 0.0, "between": 0.25 * pi, "across": 0.5 * pi, "any": None}
"""rad from the plane of the bend to the bores of the clamped yoke, by the words of a rig file."""


Place = tuple[float, bool] | None
"""A turn that is read: ears (rad) and whether the driving yoke is held; None for the lowest."""


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

    @property
    def place(self) -> Place:
        """Where it is read; in line with one yoke held is across with the other."""
        ears = self.turned.ears
        if ears is None:
            return None
        if not self.driving and ears in (0.0, 0.5 * pi):
            return 0.5 * pi - ears, True
        return ears, self.driving

    def shown(self, lines: Lines, touch: FloatArray, lowest: FloatArray) -> FloatArray:
        """What would be read (n,), rad, on joints with their touch (n, m) at the lines.

        lowest : (n,) rad, their lowest touch.
        """
        if self.turned.ears is None:
            return lowest
        return lines.held(touch, self.turned.ears, self.driving)

    def against(self, fits: float, without: tuple[float, float], counts: bool) -> ReadingFit:
        """It against a fit: what is read on that, and what all other readings allow, rad."""
        return ReadingFit(
            number=self.number,
            key=self.key,
            way=self.way,
            turned=self.turned,
            read=self.read,
            off=self.off,
            fits=fits,
            without=without,
            counts=counts,
        )


def told(rig: Rig, joint: Joint) -> tuple[Told, ...]:
    """Every reading of a joint of a rig as numbers, but those at heights out of reach."""
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
            off = _off(bend, each, rig)
            yield Told(number, key, way, turned, driving, bend.rad, off)
        elif each.maker_says is not None:
            said = each.maker_says
            off = MAKER if said.off is None else _off(said, each, rig)
            yield Told(number, key, "maker", turned, driving, said.rad, off)
        elif each.catches_at is not None:
            found = _bend_at(rig, end.joint, each)
            if found is not None:
                yield Told(number, key, "catch", turned, driving, *found)


def _ears(reading: BenchReading) -> float | None:
    if reading.turned is not None:
        return reading.turned.rad
    return None if reading.ears is None else EARS[reading.ears]


def _off(value: Angle, reading: BenchReading, rig: Rig) -> float:
    """How far off (rad) 95 of 100 such readings are: as typed, by the tool, or as is usual."""
    tool = tools_of(rig.measured_with).get(reading.tool or "")
    if value.off is None and tool is not None and tool.angle is not None:
        return tool.angle
    return off_of(value, rig.measured_with)[0]


def _bend_at(rig: Rig, joint: Joint, reading: BenchReading) -> tuple[float, float] | None:
    """Bend (rad) of a joint at the height at which it caught, and how far it may be off.

    Level and without torque. It is off by its height, and by all that places the shaft, to first
    order and by squares. None where the axle or the shaft cannot be there.
    """
    height = reading.catches_at
    if height is None:
        return None
    tool = tools_of(rig.measured_with).get(reading.tool or "") or usual_tool("length")
    read = height.off.size if height.off is not None and height.off.size else tool.length or 0.0
    far = float(np.hypot(read, FELT))
    travel = vehicle_of(rig).travel
    if not -travel.droop - far <= height.mm <= travel.bump + far:
        return None
    middle = _bend(rig, joint, height.mm)
    if middle is None:
        return None
    aways = [_bend(rig, joint, height.mm + way) for way in (-far, far)]
    offs = [max((abs(away - middle) for away in aways if away is not None), default=far)]
    for source in sources_of(rig):
        moved = _bend(source.put(rig, source.off), joint, height.mm)
        offs.append(0.0 if moved is None else moved - middle)
    return middle, float(np.linalg.norm(offs))


def _bend(rig: Rig, joint: Joint, height: float) -> float | None:
    """Bend (rad) of a joint at a height (mm); None where the shaft cannot be there."""
    try:
        state = line(vehicle_of(rig), height, 0.0, 0.0)
    except BindpointError:
        return None
    bend = float(state.bends[joint])
    return bend if np.isfinite(bend) else None
