"""From a rig to the vehicle of the mathematics, and what was worked out on the way.

A rig says where the output joint is in one of two ways: by its coordinates, or by a phone call's
worth of numbers, that is the length of the shaft and its slopes. Both give the same vehicle. What
was not typed is worked out from what was, and told, so that whoever measured can compare it with
the vehicle.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sim.rig import Assumed, Note, Rig, notes
from sim.rig.fields import millimetres
from sim.rig.fitted import heads_of
from sim.rig.problems import NOTHING, one_problem
from sim.rig.ride import Ride, ride_of
from sim.units import format_angle, format_length, format_spoken
from sim.vehicle import Slip, TravelBox, Vehicle

Unit = Literal["mm", "rad"]


@dataclass(frozen=True)
class Derived:
    """One thing that was worked out from what was typed."""

    key: str
    """Key path at which it could have been typed, or a name of its own."""
    value: float | tuple[float, float, float]
    """In mm or rad; three numbers for a point."""
    unit: Unit
    says: str
    """One line for people."""


@dataclass(frozen=True, eq=False)
class Derivation:
    """The vehicle of a rig, with what it rests on besides what was typed."""

    vehicle: Vehicle
    derived: tuple[Derived, ...]
    assumed: tuple[Assumed, ...]
    notes: tuple[Note, ...]


def vehicle_of(rig: Rig) -> Vehicle:
    """Build the vehicle of a rig."""
    return _vehicle(rig, ride_height_of(rig))


def derive(rig: Rig) -> Derivation:
    """Build the vehicle of a rig, and tell what was derived, assumed and odd on the way."""
    ride = ride_height_of(rig)
    return Derivation(_vehicle(rig, ride), tuple(_derived(rig, ride)), rig.assumed, notes(rig))


def ride_height_of(rig: Rig) -> Ride:
    """Both joints of a rig at ride height."""
    ride = ride_of(rig.output, rig.axle, rig.ride_height, rig.carrier)
    if ride is None:
        raise one_problem("rig", "output.joint", NOTHING, "a rig that was checked as a whole")
    return ride


def _vehicle(rig: Rig, ride: Ride) -> Vehicle:
    travel, slip = rig.travel, rig.shaft.slip
    output_head, pinion_head = heads_of(rig.shaft)
    return Vehicle(
        p_C_output=ride.p_C_output,
        axis_C_output=-ride.output_points,
        p_A_pinion=ride.p_C_pinion,
        axis_A_pinion=-ride.pinion_points,
        suspension=rig.suspension.build(ride, millimetres(rig.axle.wrap_centre)),
        travel=TravelBox(
            bump=travel.bump.mm,
            droop=travel.droop.mm,
            roll=travel.roll.rad,
            nose_up=travel.nose_up.rad,
            nose_down=travel.nose_down.rad,
        ),
        slip=Slip(
            at=slip.at,
            closes=slip.closes.mm,
            opens=slip.opens.mm,
            comes_apart=None if slip.comes_apart is None else slip.comes_apart.mm,
        ),
        front=ride.front,
        phase=rig.shaft.phase.rad,
        section=ride.section,
        output_head=output_head,
        pinion_head=pinion_head,
    )


def _derived(rig: Rig, ride: Ride) -> Iterator[Derived]:
    """What the rig does not say itself, in the order of the file."""
    said = rig.ride_height
    if rig.output.joint is None:
        yield _point("output.joint", "the output joint", ride.p_C_output.tolist())
    if said is None or said.length is None:
        yield Derived(
            "ride_height.length",
            ride.length,
            "mm",
            f"joint centre to joint centre at ride height: {format_length(ride.length)}",
        )
    if said is None or said.down is None:
        yield _slope("ride_height.shaft_points_down", "the shaft", ride.down, "down", "up")
    if said is None or said.left is None:
        yield _slope("ride_height.shaft_points_left", "the shaft", ride.left, "left", "right")
    if said is None or said.lower is None:
        yield _offset("ride_height.pinion_lower", ride.lower, "lower", "higher")
    if said is None or said.offset_left is None:
        yield _offset("ride_height.pinion_left", ride.offset_left, "to the left", "to the right")
    if rig.axle.pinion_joint is None:
        yield _point("axle.pinion_joint", "the pinion joint", ride.p_C_pinion.tolist())
    first = "output" if ride.section is None else "middle"
    if ride.section is not None:
        yield Derived(
            "front_section",
            ride.section.length,
            "mm",
            "the front section, output joint to middle joint: "
            f"{format_length(ride.section.length)}, bent {format_angle(ride.section.bend)} at the "
            "output; what is seen from the output below is seen from the middle joint",
        )
    for end, bend in ((first, ride.output_bend), ("pinion", ride.pinion_bend)):
        yield Derived(
            f"{end}_bend",
            bend,
            "rad",
            f"the {end} joint is bent {format_angle(bend)} at ride height",
        )


def _point(key: str, name: str, point: list[float]) -> Derived:
    x, y, z = point
    says = (
        f"{name} lies {_one_way(x, 'ahead of', 'behind')} the axle's centre, "
        f"{_one_way(y, 'left', 'right')}, {_one_way(z, 'up', 'down')}"
    )
    return Derived(key, (x, y, z), "mm", says)


def _one_way(mm: float, positive: str, negative: str) -> str:
    return f"{format_length(abs(mm))} {negative if mm < 0.0 else positive}"


def _slope(key: str, name: str, rad: float, positive: str, negative: str) -> Derived:
    spoken = format_spoken(rad, positive, negative)
    straight = spoken.split()[-1] == "deg"
    says = f"neither {positive} nor {negative}" if straight else spoken
    return Derived(key, rad, "rad", f"{name} points {says}, seen from the output")


def _offset(key: str, mm: float, positive: str, negative: str) -> Derived:
    even = format_length(abs(mm)) == format_length(0.0)
    says = f"neither {positive} nor {negative}" if even else _one_way(mm, positive, negative)
    return Derived(key, mm, "mm", f"the pinion joint sits {says}, seen from the output joint")
