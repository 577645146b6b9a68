"""What is odd about a rig but possible: hints at a measurement gone wrong.

These are warnings for whoever typed the numbers; nothing is refused for them.
All limits are common practice without a source, or from memory (`sim.table.limits`).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from geometry.errors import BindpointError
from sim.frames import FloatArray, spoken_direction
from sim.front_section import Joint
from sim.remark import Remark
from sim.ride import Ride
from sim.rig.ends import Axle, Output
from sim.rig.fitted import fitted_cross, fitted_yoke
from sim.rig.ride import ride_of
from sim.rig.rig import Rig
from sim.rig.shaft import End, Shaft
from sim.rig.surroundings import Surrounding
from sim.suspension import SuspensionTable
from sim.table.limits import LIMITS
from sim.travel.table import Travel
from sim.wrap import WrapTable, axle_wrap


def notes(rig: Rig) -> tuple[Remark, ...]:
    """Everything odd about a rig."""
    return notes_on({key: getattr(rig, key) for key in type(rig).model_fields})


def notes_on(sections: Mapping[str, Any]) -> tuple[Remark, ...]:
    """Everything odd about those sections of an unfinished rig that are there."""
    found: list[Remark] = []
    output, axle = sections.get("output"), sections.get("axle")
    travel, suspension = sections.get("travel"), sections.get("suspension")
    wrap = sections.get("wrap")
    ride = None
    if output is not None and axle is not None:
        ride = ride_of(output, axle, sections.get("ride_height"), sections.get("carrier"))
        if ride is not None:
            found += _at_ride(ride)
            found += _points_up(ride)
            found += _straight(ride, sections.get("shaft"))
            found += _direction_words(ride, output, axle)
    if travel is not None:
        found += _travel(travel)
    if suspension is not None:
        found += suspension.notes(ride, travel)
    if wrap is not None and suspension is not None and travel is not None and axle is not None:
        found += _worked_out_wrap(wrap, suspension, travel, axle)
    shaft = sections.get("shaft")
    if isinstance(shaft, Shaft):
        found += _slip(shaft)
        found += _unfitted("shaft.output_end", shaft.output_end)
        found += _unfitted("shaft.pinion_end", shaft.pinion_end)
    found += _many(sections.get("surroundings") or ())
    return tuple(found)


def _slip(shaft: Shaft) -> Iterator[Remark]:
    """A slip that slides farther than its barrel is long."""
    slip, choice = shaft.slip, shaft.output_end.output_yoke
    if slip.at != "output" or slip.comes_apart is None or choice.is_own:
        return
    try:
        barrel = fitted_yoke(choice, fitted_cross(shaft.output_end.cross), shaft.tube).barrel
    except BindpointError:  # of an unfinished rig; told as a problem
        return
    slides = slip.closes.mm + slip.comes_apart.mm
    if barrel is not None and slides > barrel.length + LIMITS.length:
        yield Remark(
            "beyond_barrel",
            "shaft.slip",
            slides=slides,
            barrel=barrel.length,
            generic="barrel_end" not in choice.overrides,
        )


def _unfitted(key: str, end: End) -> Iterator[Remark]:
    """Bench readings of a joint of which nothing is free to be fitted to them."""
    if not end.bench:
        return
    if end.joint == "double":
        yield Remark("bench_of_head", f"{key}.bench")
    elif all(getattr(end, yoke).is_own for yoke in end.yokes):
        yield Remark("bench_of_scans", f"{key}.bench")


def _many(things: Sequence[Surrounding]) -> Iterator[Remark]:
    """Things near the shaft that take long to look at."""
    takes = sum(LIMITS.mesh_takes if each.mesh else LIMITS.thing_takes for each in things)
    if takes > LIMITS.long_wait:
        yield Remark("many_things", "surroundings", count=len(things), seconds=takes)


def _at_ride(ride: Ride) -> Iterator[Remark]:
    for end in ride.ends:
        bend = ride.bends[end]
        if bend > LIMITS.steep:
            yield Remark("steep_at_ride", TABLES[end], joint=end, bend=bend)
    if ride.length > LIMITS.long_shaft:
        yield Remark("long_shaft", "ride_height.length", length=ride.length)
    if ride.length < LIMITS.short_shaft:
        yield Remark("short_shaft", "ride_height.length", length=ride.length)


def _points_up(ride: Ride) -> Iterator[Remark]:
    """A shaft that rises toward its axle; a case sits higher than the axle as a rule."""
    if ride.down < -LIMITS.slope:
        yield Remark("points_up", "ride_height", up=-ride.down, lower=-ride.lower)


TABLES: Final[Mapping[Joint, str]] = {"output": "output", "middle": "carrier", "pinion": "axle"}
"""Tables of the file that a joint's bend hangs on."""


def _straight(ride: Ride, shaft: Shaft | None) -> Iterator[Remark]:
    """Joints whose needles do not roll; in a head each cross bends about half."""
    for name, bend in ride.bends.items():
        end = getattr(shaft, f"{'pinion' if name == 'pinion' else 'output'}_end", None)
        headed = name != "middle" and end is not None and end.joint == "double"
        if bend < LIMITS.straight * (2.0 if headed else 1.0):
            yield Remark(
                "straight_at_ride",
                TABLES[name],
                joint=name,
                bend=bend,
                headed=headed,
                least=LIMITS.straight,
            )


def _direction_words(ride: Ride, output: Output, axle: Axle) -> Iterator[Remark]:
    """Hint at an up that should be a down: with it swapped, the two bends would agree."""
    bends = ride.output_bend, ride.pinion_bend
    if abs(bends[0] - bends[1]) < LIMITS.flipped_gain:
        return
    flips: tuple[tuple[str, FloatArray, FloatArray], ...] = (
        (
            "output.points_up" if output.down >= 0.0 else "output.points_down",
            spoken_direction(forward=ride.front, down=-output.down, left=output.left),
            ride.pinion_points,
        ),
        (
            "axle.points_down" if axle.up >= 0.0 else "axle.points_up",
            ride.output_points,
            spoken_direction(forward=not ride.front, down=axle.up, left=axle.left),
        ),
    )
    for key, output_points, pinion_points in flips:
        other = replace(ride, output_points=output_points, pinion_points=pinion_points)
        swapped = other.output_bend, other.pinion_bend
        if abs(swapped[0] - swapped[1]) <= LIMITS.flipped and max(swapped) < max(bends):
            yield Remark(
                "direction_word",
                key,
                word=key,
                output=bends[0],
                pinion=bends[1],
                output_swapped=swapped[0],
                pinion_swapped=swapped[1],
            )


def _travel(travel: Travel) -> Iterator[Remark]:
    if travel.bump.mm == 0.0 and travel.droop.mm == 0.0:
        yield Remark("no_travel", "travel")
    elif travel.droop.mm == 0.0:
        yield Remark("no_droop", "travel.droop")
    elif travel.droop.mm < LIMITS.hanging * travel.bump.mm:
        yield Remark("hanging", "travel.droop", bump=str(travel.bump), droop=str(travel.droop))
    both = travel.bump.mm + travel.droop.mm
    if both > LIMITS.much_travel:
        yield Remark("much_travel", "travel", travel=both)
    if travel.roll.rad > LIMITS.much_roll:
        yield Remark("much_roll", "travel.roll", roll=str(travel.roll))
    most = travel.region(0.0, 0.0).most_roll
    if both > 0.0 and most < travel.roll.rad - LIMITS.slope:
        yield Remark(
            "roll_past_stops",
            "travel.roll",
            roll=str(travel.roll),
            apart=str(travel.stops_apart),
            most=most,
        )
    for key in ("nose_up", "nose_down"):
        wrap = getattr(travel, key)
        if wrap is not None and wrap.rad > LIMITS.much_wrap:
            yield Remark("much_wrap", f"travel.{key}", wrap=str(wrap))


def _worked_out_wrap(
    wrap: WrapTable, suspension: SuspensionTable, travel: Travel, axle: Axle
) -> Iterator[Remark]:
    if list(wrap.missing(suspension)):
        return
    try:
        found = axle_wrap(wrap, suspension, travel, axle.front)
    except BindpointError:  # of an unfinished rig; told as a problem
        return
    most = max(found.nose_up.high, found.nose_down.high)
    if most > LIMITS.much_wrap:
        yield Remark("much_wrap_worked_out", "wrap", most=most)
