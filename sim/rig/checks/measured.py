"""Readings at several heights that cannot be."""

from collections.abc import Iterator
from math import sqrt

from sim.frames import Ry
from sim.remark import Remark
from sim.rig.carrier import Carrier
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.limits import LIMITS
from sim.rig.problems import Problem, as_typed
from sim.rig.ride import Ride, ride_of
from sim.rig.suspension import MeasuredTable, ReadingTable, SuspensionTable
from sim.tolerances import TOL


def readings_can_be(
    suspension: SuspensionTable,
    output: Output,
    axle: Axle,
    ride_height: RideHeight | None,
    carrier: Carrier | None,
) -> Iterator[Problem]:
    """Heights must differ, the ride reading must agree, and the lengths must be possible."""
    if not isinstance(suspension, MeasuredTable):
        return
    yield from _heights(suspension)
    ride = ride_of(output, axle, ride_height, carrier)
    if ride is None:
        return
    for place, reading in enumerate(suspension.readings):
        key = f"suspension.readings[{place + 1}]"
        if reading.at.mm == 0.0:
            yield from _at_ride(key, reading, ride, axle)
        else:
            yield from _at_height(key, reading, ride, axle)


def _heights(suspension: MeasuredTable) -> Iterator[Problem]:
    seen: list[ReadingTable] = []
    for place, reading in enumerate(suspension.readings):
        for other in seen:
            if abs(other.at.mm - reading.at.mm) < TOL.unlike_heights:
                yield Problem(
                    f"suspension.readings[{place + 1}].at",
                    as_typed(reading.at.typed),
                    "another height; each height is read once",
                    f"{other.at} is read before",
                )
        seen.append(reading)


def _at_ride(key: str, reading: ReadingTable, ride: Ride, axle: Axle) -> Iterator[Problem]:
    if abs(reading.length.mm - ride.length) > LIMITS.length:
        yield Problem(
            f"{key}.length",
            as_typed(reading.length.typed),
            Remark("length-as-file", length=ride.length, within=LIMITS.length),
            "contradicts ride height",
        )
    if abs(reading.up - axle.up) > LIMITS.slope:
        word = "points_up" if reading.points_up is not None else "points_down"
        yield Problem(
            f"{key}.{word}",
            as_typed(getattr(reading, word).typed),
            Remark("slope-as-axle", up=axle.up),
            "contradicts ride height",
        )


def _at_height(key: str, reading: ReadingTable, ride: Ride, axle: Axle) -> Iterator[Problem]:
    at = reading.at
    x, y, z = joints_apart(reading, ride, axle)
    level_squared = reading.length.mm**2 - y**2 - z**2
    if level_squared <= 0.0:
        yield Problem(
            f"{key}.length",
            as_typed(reading.length.typed),
            Remark("longer-than-apart", apart=sqrt(y**2 + z**2)),
            f"too short at {at}",
        )
        return
    move = fore_aft(reading, ride, axle)
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


def joints_apart(reading: ReadingTable, ride: Ride, axle: Axle) -> tuple[float, float, float]:
    """From the output joint to the pinion joint if the axle went straight up and down, mm."""
    nose_up_sense = 1.0 if axle.front else -1.0
    turned = Ry(nose_up_sense * (reading.up - axle.up)) @ ride.p_C_pinion
    x, y, z = turned - ride.p_C_output
    return float(x), float(y), float(z) + reading.at.mm


def fore_aft(reading: ReadingTable, ride: Ride, axle: Axle) -> float | None:
    """How far (mm) the axle moved away from the output by this reading; None if impossible."""
    x, y, z = joints_apart(reading, ride, axle)
    level_squared = reading.length.mm**2 - y**2 - z**2
    return sqrt(level_squared) - abs(x) if level_squared > 0.0 else None
