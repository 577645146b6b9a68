"""From a rig to the vehicle of the mathematics, and what was worked out on the way.

A rig says where the output joint is in one of two ways: by its coordinates, or by a phone call's
worth of numbers, that is the length of the shaft and its slopes. Both give the same vehicle. What
was not typed is worked out from what was, and told, so that whoever measured can compare it with
the vehicle.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, Final, Literal

from sim.rig import Assumed, Note, Rig, notes
from sim.rig.datum import datums_of
from sim.rig.fields import millimetres
from sim.rig.fitted import heads_of
from sim.rig.loads import TORQUE
from sim.rig.problems import NOTHING, one_problem
from sim.rig.ride import Ride, ride_of
from sim.rig.wrap import axle_wrap
from sim.units import Angle, format_angle, format_length, format_spoken
from sim.vehicle import Slip, Vehicle

if TYPE_CHECKING:
    from sim.wrap import AxleWrap, Estimate

Unit = Literal["mm", "rad"]

POUND_FOOT: Final = TORQUE.sure("1 lb-ft")
"""N mm."""


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
    wrap: AxleWrap | None = None
    """How far the axle wraps, where the rig has it worked out; the travel has the highs."""


def vehicle_of(rig: Rig) -> Vehicle:
    """Build the vehicle of a rig."""
    return _vehicle(rig, ride_height_of(rig), wrap_of(rig))


def derive(rig: Rig) -> Derivation:
    """Build the vehicle of a rig, and tell what was derived, assumed and odd on the way."""
    ride = ride_height_of(rig)
    wrap = wrap_of(rig)
    derived = (*_derived(rig, ride), *_wraps(rig, wrap))
    return Derivation(_vehicle(rig, ride, wrap), derived, rig.assumed, notes(rig), wrap)


def wrap_of(rig: Rig) -> AxleWrap | None:
    """How far the axle of a rig wraps, where a [wrap] table tells."""
    if rig.wrap is None:
        return None
    return axle_wrap(rig.wrap, rig.suspension, rig.travel, rig.axle.front)


def ride_height_of(rig: Rig) -> Ride:
    """Both joints of a rig at ride height."""
    ride = ride_of(rig.output, rig.axle, rig.ride_height, rig.carrier)
    if ride is None:
        raise one_problem("rig", "output.joint", NOTHING, "a rig that was checked as a whole")
    return ride


def _vehicle(rig: Rig, ride: Ride, wrap: AxleWrap | None) -> Vehicle:
    travel, slip = rig.travel, rig.shaft.slip
    measured = measured_slip(rig)
    output_head, pinion_head = heads_of(rig.shaft)
    return Vehicle(
        p_C_output=ride.p_C_output,
        axis_C_output=-ride.output_points,
        p_A_pinion=ride.p_C_pinion,
        axis_A_pinion=-ride.pinion_points,
        suspension=rig.suspension.build(ride, millimetres(rig.axle.wrap_centre)),
        travel=travel.region(
            _rad(travel.nose_up) if wrap is None else wrap.nose_up.high,
            _rad(travel.nose_down) if wrap is None else wrap.nose_down.high,
        ),
        slip=Slip(
            at=slip.at,
            closes=slip.closes.mm if "shaft.slip.closes" in measured else inf,
            opens=slip.opens.mm if "shaft.slip.opens" in measured else inf,
            comes_apart=None if slip.comes_apart is None else slip.comes_apart.mm,
            stands_in=(slip.closes.mm, slip.opens.mm),
        ),
        front=ride.front,
        phase=rig.shaft.phase.rad,
        section=ride.section,
        output_head=output_head,
        pinion_head=pinion_head,
    )


def measured_slip(rig: Rig) -> frozenset[str]:
    """Which of `shaft.slip.closes` and `shaft.slip.opens` somebody measured."""
    assumed = {each.key for each in rig.assumed}
    return frozenset({"shaft.slip.closes", "shaft.slip.opens"} - assumed)


def _rad(angle: Angle | None) -> float:
    """Angle (rad) of wrap as typed; it is always there without a [wrap] table."""
    return 0.0 if angle is None else angle.rad


def _derived(rig: Rig, ride: Ride) -> Iterator[Derived]:
    """What the rig does not say itself, in the order of the file."""
    said = rig.ride_height
    if rig.output.joint is None:
        yield _point("output.joint", "the output joint", ride.p_C_output.tolist())
    if said is None or said.length is None:
        by_tape = _by_tape(rig) if rig.output.joint is None else ""
        yield Derived(
            "ride_height.length",
            ride.length,
            "mm",
            f"joint centre to joint centre at ride height: {format_length(ride.length)}{by_tape}",
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


def _by_tape(rig: Rig) -> str:
    """How the length follows from a tape between other places; empty without one."""
    tape = None if rig.ride_height is None else rig.ride_height.tape
    if tape is None:
        return ""
    lines = [datum.says for datum in datums_of(tape, rig.shaft, rig.carrier) if datum.says]
    found = f", from {tape.reads} taped from the {tape.at_output} at the output to the "
    return "; ".join([f"{found}{tape.at_pinion} at the pinion", *lines])


def _wraps(rig: Rig, wrap: AxleWrap | None) -> Iterator[Derived]:
    """Wrap both ways: what is swept, its spread, and what sets the torque."""
    if rig.wrap is None or wrap is None:
        return
    front = rig.axle.front
    for way, driving, governs, found in (
        ("up", not front, wrap.up_governs, wrap.nose_up),
        ("down", front, wrap.down_governs, wrap.nose_down),
    ):
        torque = wrap.torque.driving if driving else wrap.torque.braking
        sets = "low gear governs" if governs == "engine" else "the grip of the tyres governs"
        yield Derived(
            f"travel.nose_{way}",
            found.high,
            "rad",
            f"axle wrap, nose {way}: {_spread(found)}, from {rig.wrap.said}; "
            f"{_torque(torque)} at the axle {'driving' if driving else 'braking'}, {sets}; "
            f"{format_angle(found.high)} is swept",
        )
    for hint in wrap.hints:
        yield Derived("wrap", wrap.nose_up.high, "rad", f"axle wrap: {hint}")


def _spread(found: Estimate) -> str:
    low, high = (format_angle(each).removesuffix(" deg") for each in (found.low, found.high))
    return f"about {format_angle(found.value)} ({low} to {high})"


def _torque(torque: Estimate) -> str:
    """A torque in both units of a shop."""
    return f"{torque.value / POUND_FOOT:,.0f} lb-ft ({torque.value / 1000.0:,.0f} N m)"


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
