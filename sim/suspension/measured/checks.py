"""Readings at several heights that cannot be, or that are odd."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import sqrt
from typing import TYPE_CHECKING

import numpy as np

from sim.frames import Ry
from sim.remark import Remark
from sim.ride import Ride
from sim.suspension.measured.reading import ReadingTable
from sim.table.limits import LIMITS
from sim.table.problems import Problem, as_typed
from sim.tolerances import TOL

if TYPE_CHECKING:
    from sim.travel.table import Travel


def impossible(readings: Iterable[ReadingTable], ride: Ride | None) -> Iterator[Problem]:
    """Heights must differ, the ride reading must agree, and the lengths must be possible."""
    yield from _heights(readings)
    if ride is None:
        return
    for place, reading in enumerate(readings):
        key = f"suspension.readings[{place + 1}]"
        if reading.at.mm == 0.0:
            yield from _at_ride(key, reading, ride)
        else:
            yield from _at_height(key, reading, ride)


def _heights(readings: Iterable[ReadingTable]) -> Iterator[Problem]:
    seen: list[ReadingTable] = []
    for place, reading in enumerate(readings):
        for other in seen:
            if abs(other.at.mm - reading.at.mm) < TOL.unlike_heights:
                yield Problem(
                    f"suspension.readings[{place + 1}].at",
                    as_typed(reading.at.typed),
                    Remark("other-height"),
                    Remark("read-before", at=str(other.at)),
                )
        seen.append(reading)


def _at_ride(key: str, reading: ReadingTable, ride: Ride) -> Iterator[Problem]:
    if abs(reading.length.mm - ride.length) > LIMITS.length:
        yield Problem(
            f"{key}.length",
            as_typed(reading.length.typed),
            Remark("length-as-file", length=ride.length, within=LIMITS.length),
            Remark("contradicts", what="ride height"),
        )
    if abs(reading.up - ride.pinion_up) > LIMITS.slope:
        word, came = ReadingTable.up.said(reading)
        yield Problem(
            f"{key}.{word}",
            came,
            Remark("slope-as-axle", up=ride.pinion_up),
            Remark("contradicts", what="ride height"),
        )


def _at_height(key: str, reading: ReadingTable, ride: Ride) -> Iterator[Problem]:
    at = reading.at
    x, y, z = joints_apart(reading, ride)
    level_squared = reading.length.mm**2 - y**2 - z**2
    if level_squared <= 0.0:
        yield Problem(
            f"{key}.length",
            as_typed(reading.length.typed),
            Remark("longer-than-apart", apart=sqrt(y**2 + z**2)),
            Remark("too-short", at=str(at)),
        )
        return
    move = fore_aft(reading, ride)
    plausible = max(LIMITS.fore_aft_least, LIMITS.fore_aft_share * abs(at.mm))
    if move is None or abs(move) <= plausible:
        return
    straight = sqrt(x**2 + y**2 + z**2)
    yield Problem(
        f"{key}.length",
        as_typed(reading.length.typed),
        Remark("length-about", length=straight, within=plausible),
        Remark(
            "axle-would-move",
            longer=reading.length.mm > ride.length,
            moves=abs(move),
            at=str(at),
        ),
    )


def joints_apart(reading: ReadingTable, ride: Ride) -> tuple[float, float, float]:
    """From the output joint to the pinion joint if the axle went straight up and down, mm."""
    nose_up_sense = 1.0 if ride.front else -1.0
    turned = Ry(nose_up_sense * (reading.up - ride.pinion_up)) @ ride.p_C_pinion
    x, y, z = turned - ride.p_C_output
    return float(x), float(y), float(z) + reading.at.mm


def fore_aft(reading: ReadingTable, ride: Ride) -> float | None:
    """How far (mm) the axle moved away from the output by this reading; None if impossible."""
    x, y, z = joints_apart(reading, ride)
    level_squared = reading.length.mm**2 - y**2 - z**2
    return sqrt(level_squared) - abs(x) if level_squared > 0.0 else None


def wrong_way(readings: Iterable[ReadingTable], ride: Ride) -> Iterator[Remark]:
    """Hint at a length that changes the other way than the height does."""
    for place, reading in enumerate(readings):
        move = fore_aft(reading, ride)
        if reading.at.mm == 0.0 or move is None:
            continue
        change = reading.length.mm - ride.length
        height = ride.lower - reading.at.mm
        straight = float(np.hypot(ride.along, np.hypot(height, ride.offset_left))) - ride.length
        if change * straight < 0.0 and min(abs(change), abs(straight)) > LIMITS.length:
            yield Remark(
                "wrong_way",
                f"suspension.readings[{place + 1}].length",
                at=str(reading.at),
                longer=change > 0.0,
                moves=abs(move),
            )


def beyond_readings(readings: Iterable[ReadingTable], travel: Travel) -> Iterator[Remark]:
    """Travel that goes on past the last reading."""
    heights = [0.0, *(reading.at.mm for reading in readings)]
    for key, reach, read in (
        ("bump", travel.bump.mm, max(heights)),
        ("droop", travel.droop.mm, -min(heights)),
    ):
        if reach > read + LIMITS.length:
            yield Remark("beyond_readings", f"travel.{key}", way=key, goes=reach, read=read)
