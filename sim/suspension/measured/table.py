"""The suspension known by readings: its table, what cannot be, and what is read anew."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from math import hypot, sqrt
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Final, Literal

import numpy as np

from sim.frames import Ry, Vec3, housing_turned
from sim.remark import Remark
from sim.ride import Ride, vec3
from sim.suspension.measured.motion import Measured, Reading
from sim.suspension.measured.reading import ReadingTable
from sim.suspension.table import Change, SuspensionPart, TurnedBy
from sim.suspension.vertical import Vertical
from sim.table.fields import several
from sim.table.form import field
from sim.table.limits import LIMITS
from sim.table.problems import Problem, as_typed
from sim.table.typed import typed_length
from sim.tolerances import TOL

if TYPE_CHECKING:
    from sim.travel.table import Travel
    from sim.vehicle import Vehicle

FEWEST: Final = 3
_SEVERAL: Final = several(
    f"readings at {FEWEST} or more heights, each a [[suspension.readings]] table", FEWEST
)


class MeasuredTable(SuspensionPart):
    """Shaft length and pinion angle read at three or more heights; the links need not be known."""

    kind: Literal["measured"] = field("Readings at three or more heights.")
    readings: Annotated[tuple[ReadingTable, ...], _SEVERAL] = field(
        "One table for each height; the one at ride height may be left out.",
        more={"min_length": FEWEST},
        name="Readings at heights of the axle",
        entry="Reading",
    )

    adds: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "suspension.readings": {"at": "3 in droop", "length": "36 in", "points_up": "0 deg"},
    }

    @classmethod
    def starts(cls, vehicle: Vehicle, travel: Travel) -> Iterator[dict[str, Any]]:
        """Readings as the axle moves so far; if that is more than is believed, straight up."""
        for each in (vehicle, replace(vehicle, suspension=Vertical(front=vehicle.front))):
            yield {"readings": list(_read(each, travel))}

    def build(self, ride: Ride, wrap_centre: Vec3) -> Measured:
        """Build the suspension of the mathematics; ride height is added if it was not read."""
        readings = [Reading(each.at.mm, each.length.mm, each.up) for each in self.readings]
        if all(reading.travel != 0.0 for reading in readings):
            readings.append(Reading(0.0, ride.length, ride.pinion_up))
        return Measured(
            front=ride.front,
            wrap_centre=wrap_centre,
            p_C_output=vec3(ride.p_C_output),
            p_A_pinion=vec3(ride.p_C_pinion),
            readings=tuple(readings),
        )

    def against_ride(self, ride: Ride | None) -> Iterator[Problem]:
        """Heights must differ, the ride reading must agree, and the lengths must be possible."""
        return _impossible(self.readings, ride)

    def against_travel(self, travel: Travel) -> Iterator[Problem]:
        """Beyond the readings the axle goes straight on."""
        del travel
        return iter(())

    def notes(self, ride: Ride | None, travel: Travel | None) -> Iterator[Remark]:
        """Lengths that change the wrong way, and travel past the readings."""
        if ride is not None:
            yield from _wrong_way(self.readings, ride)
        if travel is not None:
            yield from _beyond_readings(self.readings, travel)

    @property
    def turned_by(self) -> TurnedBy:
        """Readings do not tell what it hangs on."""
        return "either"

    def restated(
        self, typed: Mapping[str, Any], vehicle: Callable[[], Vehicle], change: Change
    ) -> dict[str, Any]:
        """Readings as they would be taken of the same axle.

        At each height the joint swings about the housing's own axis, which lies where the
        readings put it.
        """
        was = vehicle()
        joint = housing_turned(was.p_A_pinion + change.joint_by, change.nose_up, was.front)
        readings = []
        for raw, reading in zip(typed["readings"], self.readings, strict=True):
            p_C = was.suspension.poses(reading.at.mm, 0.0, 0.0).point(joint)
            length = float(np.linalg.norm(p_C - (was.p_C_output + change.by)))
            kept = {k: v for k, v in raw.items() if k not in ReadingTable.up.keys}
            slope = ReadingTable.up.typed(reading.up + change.nose_up)
            readings.append({**kept, "length": typed_length(length), **slope})
        return {"readings": readings}


def _read(vehicle: Vehicle, travel: Travel) -> Iterator[dict[str, str]]:
    """Readings at both ends of the travel and at ride height."""
    for words, mm in (
        (f"{travel.droop} droop", -travel.droop.mm),
        ("ride", 0.0),
        (f"{travel.bump} bump", travel.bump.mm),
    ):
        joint, axis = vehicle.suspension.carry(
            mm, 0.0, 0.0, vehicle.p_A_pinion, vehicle.axis_A_pinion
        )
        length = float(np.linalg.norm(joint - vehicle.p_C_output))
        up = float(np.arctan2(-axis[2], abs(axis[0])))
        yield {"at": words, "length": typed_length(length), **ReadingTable.up.typed(up)}


def _impossible(readings: Iterable[ReadingTable], ride: Ride | None) -> Iterator[Problem]:
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
    at, apart, move = reading.at, _joints_apart(reading, ride), _fore_aft(reading, ride)
    plausible = max(LIMITS.fore_aft_least, LIMITS.fore_aft_share * abs(at.mm))
    if move is not None and abs(move) <= plausible:
        return
    if move is None:
        expected = Remark("longer-than-apart", apart=hypot(*apart[1:]))
        why = Remark("too-short", at=str(at))
    else:
        longer = reading.length.mm > ride.length
        expected = Remark("length-about", length=hypot(*apart), within=plausible)
        why = Remark("axle-would-move", longer=longer, moves=abs(move), at=str(at))
    yield Problem(f"{key}.length", as_typed(reading.length.typed), expected, why)


def _joints_apart(reading: ReadingTable, ride: Ride) -> tuple[float, float, float]:
    """From the output joint to the pinion joint if the axle went straight up and down, mm."""
    nose_up_sense = 1.0 if ride.front else -1.0
    turned = Ry(nose_up_sense * (reading.up - ride.pinion_up)) @ ride.p_C_pinion
    x, y, z = turned - ride.p_C_output
    return float(x), float(y), float(z) + reading.at.mm


def _fore_aft(reading: ReadingTable, ride: Ride) -> float | None:
    """How far (mm) the axle moved away from the output by this reading; None if impossible."""
    x, y, z = _joints_apart(reading, ride)
    level_squared = reading.length.mm**2 - y**2 - z**2
    return sqrt(level_squared) - abs(x) if level_squared > 0.0 else None


def _wrong_way(readings: Iterable[ReadingTable], ride: Ride) -> Iterator[Remark]:
    """Hint at a length that changes the other way than the height does."""
    for place, reading in enumerate(readings):
        move = _fore_aft(reading, ride)
        if reading.at.mm == 0.0 or move is None:
            continue
        change = reading.length.mm - ride.length
        height = ride.lower - reading.at.mm
        straight = hypot(ride.along, height, ride.offset_left) - ride.length
        if change * straight < 0.0 and min(abs(change), abs(straight)) > LIMITS.length:
            yield Remark(
                "wrong_way",
                f"suspension.readings[{place + 1}].length",
                at=str(reading.at),
                longer=change > 0.0,
                moves=abs(move),
            )


def _beyond_readings(readings: Iterable[ReadingTable], travel: Travel) -> Iterator[Remark]:
    """Travel that goes on past the last reading."""
    heights = [0.0, *(reading.at.mm for reading in readings)]
    for key, reach, read in (
        ("bump", travel.bump.mm, max(heights)),
        ("droop", travel.droop.mm, -min(heights)),
    ):
        if reach > read + LIMITS.length:
            yield Remark("beyond_readings", f"travel.{key}", way=key, goes=reach, read=read)
