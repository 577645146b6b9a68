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
from typing import TYPE_CHECKING, Literal

from sim.remark import Remark
from sim.ride import Ride
from sim.rig import Assumed, Rig, notes
from sim.rig.datum import datums_of
from sim.rig.fitted import heads_of
from sim.rig.ride import ride_of
from sim.table.fields import millimetres
from sim.table.problems import NOTHING, one_problem
from sim.units import Angle
from sim.vehicle import Slip, Vehicle
from sim.wrap import axle_wrap

if TYPE_CHECKING:
    from sim.wrap import AxleWrap

Unit = Literal["mm", "rad"]


@dataclass(frozen=True)
class Derived:
    """One thing that was worked out from what was typed."""

    key: str
    """Key path at which it could have been typed, or a name of its own."""
    value: float | tuple[float, float, float]
    """In mm or rad; three numbers for a point."""
    unit: Unit
    remark: Remark
    """What is to be said of it."""


@dataclass(frozen=True, eq=False)
class Derivation:
    """The vehicle of a rig, with what it rests on besides what was typed."""

    vehicle: Vehicle
    derived: tuple[Derived, ...]
    assumed: tuple[Assumed, ...]
    notes: tuple[Remark, ...]
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
        yield _point("output.joint", "output", ride.p_C_output.tolist())
    if said is None or said.length is None:
        taped = _by_tape(rig) if rig.output.joint is None else None
        apart = Remark("joints-apart", length=ride.length, taped=taped)
        yield Derived("ride_height.length", ride.length, "mm", apart)
    if said is None or said.down is None:
        slope = Remark("shaft-points-down", rad=ride.down)
        yield Derived("ride_height.shaft_points_down", ride.down, "rad", slope)
    if said is None or said.left is None:
        slope = Remark("shaft-points-left", rad=ride.left)
        yield Derived("ride_height.shaft_points_left", ride.left, "rad", slope)
    if said is None or said.lower is None:
        offset = Remark("pinion-lower", mm=ride.lower)
        yield Derived("ride_height.pinion_lower", ride.lower, "mm", offset)
    if said is None or said.offset_left is None:
        offset = Remark("pinion-left", mm=ride.offset_left)
        yield Derived("ride_height.pinion_left", ride.offset_left, "mm", offset)
    if rig.axle.pinion_joint is None:
        yield _point("axle.pinion_joint", "pinion", ride.p_C_pinion.tolist())
    if ride.section is not None:
        length, bend = ride.section.length, ride.section.bend
        front = Remark("front-section", length=length, bend=bend)
        yield Derived("front_section", length, "mm", front)
    for end in ride.ends:
        bend = ride.bends[end]
        yield Derived(f"{end}_bend", bend, "rad", Remark("joint-bent", joint=end, bend=bend))


def _by_tape(rig: Rig) -> Remark | None:
    """How the length follows from a tape between other places; None without one."""
    tape = None if rig.ride_height is None else rig.ride_height.tape
    if tape is None:
        return None
    output, pinion = datums_of(tape, rig.shaft, rig.carrier)
    return Remark(
        "taped",
        reads=str(tape.reads),
        at_output=tape.at_output,
        at_pinion=tape.at_pinion,
        output=output.source,
        pinion=pinion.source,
    )


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
        about = Remark(
            "axle-wrap",
            way=way,
            value=found.value,
            low=found.low,
            high=found.high,
            known_by=rig.wrap.known_by,
            torque=torque.value,
            driving=driving,
            governs=governs,
        )
        yield Derived(f"travel.nose_{way}", found.high, "rad", about)
    for hint in wrap.hints:
        yield Derived("wrap", wrap.nose_up.high, "rad", Remark("wrap-hint", hint=hint))


def _point(key: str, joint: str, point: list[float]) -> Derived:
    x, y, z = point
    lies = Remark("joint-lies", joint=joint, ahead=x, left=y, up=z)
    return Derived(key, (x, y, z), "mm", lies)
