"""What is odd about a rig but possible: hints at a measurement gone wrong.

These are warnings for whoever typed the numbers, as coded records; nothing is refused for them.
All limits are common practice without a source, or from memory (`sim.rig.limits`).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, Literal

import numpy as np

from geometry.errors import BindpointError
from sim.frames import FloatArray, spoken_direction
from sim.rig.checks.measured import fore_aft
from sim.rig.ends import Axle, Output
from sim.rig.limits import LIMITS
from sim.rig.link_notes import link_notes
from sim.rig.ride import Ride, ride_of
from sim.rig.rig import Rig
from sim.rig.shaft import Shaft
from sim.rig.slip_notes import slip_notes
from sim.rig.surroundings import Surrounding
from sim.rig.suspension import LeafTable, LinksTable, MeasuredTable, SuspensionTable
from sim.rig.travel import Travel
from sim.rig.wrap import WrapTable, axle_wrap
from sim.units import format_angle, format_length

Code = Literal[
    "steep_at_ride",
    "straight_at_ride",
    "long_shaft",
    "short_shaft",
    "direction_word",
    "no_travel",
    "no_droop",
    "hanging",
    "points_up",
    "touches_at_ride",
    "much_travel",
    "much_roll",
    "much_wrap",
    "roll_past_stops",
    "seat_away",
    "beyond_readings",
    "wrong_way",
    "end_away",
    "loosely_held",
    "much_give",
    "beyond_barrel",
    "many_things",
]


@dataclass(frozen=True)
class Note:
    """One odd thing: a code, the key path that it hangs on, and a line for people."""

    code: Code
    key: str
    says: str


def notes(rig: Rig) -> tuple[Note, ...]:
    """Everything odd about a rig."""
    return notes_on({key: getattr(rig, key) for key in type(rig).model_fields})


def notes_on(sections: Mapping[str, Any]) -> tuple[Note, ...]:
    """Everything odd about those sections of an unfinished rig that are there."""
    found: list[Note] = []
    output, axle = sections.get("output"), sections.get("axle")
    travel, suspension = sections.get("travel"), sections.get("suspension")
    wrap = sections.get("wrap")
    measured = suspension if isinstance(suspension, MeasuredTable) else None
    if output is not None and axle is not None:
        ride = ride_of(output, axle, sections.get("ride_height"), sections.get("carrier"))
        if ride is not None:
            found += _at_ride(ride)
            found += _points_up(ride)
            found += _straight(ride, sections.get("shaft"))
            found += _direction_words(ride, output, axle)
            found += _wrong_way(measured, ride, axle) if measured is not None else ()
    if travel is not None:
        found += _travel(travel)
        found += _beyond_readings(measured, travel) if measured is not None else ()
    if suspension is not None:
        found += _suspension(suspension)
    if wrap is not None and suspension is not None and travel is not None and axle is not None:
        found += _worked_out_wrap(wrap, suspension, travel, axle)
    shaft = sections.get("shaft")
    if isinstance(shaft, Shaft):
        found += [Note(*odd) for odd in slip_notes(shaft)]
    found += _many(sections.get("surroundings") or ())
    if isinstance(suspension, LinksTable):
        found += [Note(*odd) for odd in link_notes(suspension, travel)]
    return tuple(found)


def _many(things: Sequence[Surrounding]) -> Iterator[Note]:
    """Things near the shaft that take long to look at."""
    takes = sum(LIMITS.mesh_takes if each.mesh else LIMITS.thing_takes for each in things)
    if takes > LIMITS.long_wait:
        yield Note(
            "many_things",
            "surroundings",
            f"{len(things)} things near the shaft: looking at them takes about {takes:.0f} s; "
            "those that cannot come near it may be left out",
        )


def _at_ride(ride: Ride) -> Iterator[Note]:
    for end, bend in ((_first(ride), ride.output_bend), ("pinion", ride.pinion_bend)):
        if bend > LIMITS.steep:
            yield Note(
                "steep_at_ride",
                _TABLES[end],
                f"the {end} joint is bent {format_angle(bend)} at ride height already; check the "
                "slopes and their up and down",
            )
    if ride.length > LIMITS.long_shaft:
        yield Note(
            "long_shaft",
            "ride_height.length",
            f"joint centre to joint centre is {format_length(ride.length)}; shafts of one piece "
            "end at about 65 to 70 in (1650 to 1780 mm)",
        )
    if ride.length < LIMITS.short_shaft:
        yield Note(
            "short_shaft",
            "ride_height.length",
            f"joint centre to joint centre is only {format_length(ride.length)}; was the right "
            "datum taken?",
        )


def _points_up(ride: Ride) -> Iterator[Note]:
    """A shaft that rises toward its axle; a case sits higher than the axle as a rule."""
    if ride.down < -LIMITS.slope:
        yield Note(
            "points_up",
            "ride_height",
            f"the shaft points up toward the axle, {format_angle(-ride.down)}: the output would "
            f"sit {format_length(-ride.lower)} lower than the pinion; are up and down, or the two "
            "ends, swapped?",
        )


def _first(ride: Ride) -> str:
    """The joint that the shaft, or the rear section of two, hangs on."""
    return "output" if ride.section is None else "middle"


_TABLES: Final = {"output": "output", "middle": "carrier", "pinion": "axle"}
"""Tables of the file that a joint's bend hangs on."""


def _straight(ride: Ride, shaft: Shaft | None) -> Iterator[Note]:
    """Joints whose needles do not roll; in a head each cross bends about half."""
    joints = [(_first(ride), ride.output_bend), ("pinion", ride.pinion_bend)]
    if ride.section is not None:
        joints.insert(0, ("output", ride.section.bend))
    for name, bend in joints:
        end = getattr(shaft, f"{'pinion' if name == 'pinion' else 'output'}_end", None)
        headed = name != "middle" and end is not None and end.joint == "double"
        if bend < LIMITS.straight * (2.0 if headed else 1.0):
            half = ", about half of it at each cross of its head" if headed else ""
            yield Note(
                "straight_at_ride",
                _TABLES[name],
                f"the {name} joint is bent only {format_angle(bend)} at ride height{half}: under "
                f"{format_angle(LIMITS.straight)} its needles do not roll and wear dents into the "
                "cross (brinelling); 1/2 to 1 deg at each joint is common practice, no source",
            )


def _direction_words(ride: Ride, output: Output, axle: Axle) -> Iterator[Note]:
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
            yield Note(
                "direction_word",
                key,
                f"the joints are bent {format_angle(bends[0])} and {format_angle(bends[1])}; with "
                f"{key} instead they would be bent {format_angle(swapped[0])} and "
                f"{format_angle(swapped[1])}: are up and down as measured?",
            )


def _travel(travel: Travel) -> Iterator[Note]:
    if travel.bump.mm == 0.0 and travel.droop.mm == 0.0:
        yield Note("no_travel", "travel", "no travel: only ride height is looked at")
    elif travel.droop.mm == 0.0:
        yield Note(
            "no_droop", "travel.droop", "no droop: was the vehicle measured hanging, not loaded?"
        )
    elif travel.droop.mm < LIMITS.hanging * travel.bump.mm:
        yield Note(
            "hanging",
            "travel.droop",
            f"{travel.bump} of bump but only {travel.droop} of droop: was the vehicle measured "
            "hanging, not standing on its wheels, or are the two swapped?",
        )
    both = travel.bump.mm + travel.droop.mm
    if both > LIMITS.much_travel:
        yield Note("much_travel", "travel", f"{format_length(both)} of travel; is the unit right?")
    if travel.roll.rad > LIMITS.much_roll:
        yield Note("much_roll", "travel.roll", f"{travel.roll} of roll each way is rare")
    most = travel.region(0.0, 0.0).most_roll
    if both > 0.0 and most < travel.roll.rad - LIMITS.slope:
        yield Note(
            "roll_past_stops",
            "travel.roll",
            f"{travel.roll} of roll each way is more than stops {travel.stops_apart} apart allow, "
            f"which is {format_angle(most)}; roll and stops_apart are not of one axle",
        )
    for key in ("nose_up", "nose_down"):
        wrap = getattr(travel, key)
        if wrap is not None and wrap.rad > LIMITS.much_wrap:
            yield Note("much_wrap", f"travel.{key}", f"{wrap} of axle wrap is rare")


def _worked_out_wrap(
    wrap: WrapTable, suspension: SuspensionTable, travel: Travel, axle: Axle
) -> Iterator[Note]:
    if list(wrap.missing(suspension)):
        return
    try:
        found = axle_wrap(wrap, suspension, travel, axle.front)
    except BindpointError:  # of an unfinished rig; told as a problem
        return
    most = max(found.nose_up.high, found.nose_down.high)
    if most > LIMITS.much_wrap:
        yield Note(
            "much_wrap",
            "wrap",
            f"up to {format_angle(most)} of axle wrap is rare; know the torque and the stiffness "
            "better to narrow it down",
        )


def _suspension(suspension: SuspensionTable) -> Iterator[Note]:
    if isinstance(suspension, LeafTable):
        forward, _, up = suspension.seat
        if max(abs(forward.mm), abs(up.mm)) > LIMITS.seat_away:
            yield Note(
                "seat_away",
                "suspension.seat",
                "the spring seat lies more than "
                f"{format_length(LIMITS.seat_away)} from the axle's centre fore-aft or in height",
            )


def _beyond_readings(suspension: MeasuredTable, travel: Travel) -> Iterator[Note]:
    heights = [0.0, *(reading.at.mm for reading in suspension.readings)]
    for key, reach, read in (
        ("bump", travel.bump.mm, max(heights)),
        ("droop", travel.droop.mm, -min(heights)),
    ):
        if reach > read + LIMITS.length:
            yield Note(
                "beyond_readings",
                f"travel.{key}",
                f"{key} goes to {format_length(reach)} but was read to {format_length(read)}; "
                "beyond that the axle is taken to go straight on",
            )


def _wrong_way(suspension: MeasuredTable, ride: Ride, axle: Axle) -> Iterator[Note]:
    """Hint at a length that changes the other way than the height does."""
    for place, reading in enumerate(suspension.readings):
        move = fore_aft(reading, ride, axle)
        if reading.at.mm == 0.0 or move is None:
            continue
        change = reading.length.mm - ride.length
        height = ride.lower - reading.at.mm
        straight = float(np.hypot(ride.along, np.hypot(height, ride.offset_left))) - ride.length
        if change * straight < 0.0 and min(abs(change), abs(straight)) > LIMITS.length:
            yield Note(
                "wrong_way",
                f"suspension.readings[{place + 1}].length",
                f"at {reading.at} the shaft gets {'longer' if change > 0.0 else 'shorter'}, while "
                "the height alone would make it the other way round; the axle would move "
                f"{format_length(abs(move))} fore-aft",
            )
