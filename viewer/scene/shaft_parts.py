"""The shaft, what it hangs on and its axle as parts of the live view, each built once."""

from collections.abc import Iterator
from math import isfinite

import numpy as np

from geometry.cross import Cross
from geometry.mesh import Mesh
from geometry.solids import cylinder
from geometry.yoke import Yoke
from sim.around.outline import INTO_CASE, cross_name, land
from sim.check import Check
from sim.frames import pose, unit
from sim.head.hardware import EndHardware
from sim.line import LineState, TurnState, turn
from sim.units import format_length
from sim.vehicle import Joint, Slip, Vehicle
from viewer.scene.build_shaft import housing_place, shaft_hardware, slip_at
from viewer.scene.facts import hardware_facts, tube_facts
from viewer.scene.mount import (
    CHASSIS,
    HOUSING,
    SHAFT,
    SLID,
    Bellows,
    Frames,
    On,
    frames_of,
)
from viewer.scene.part import Facts, LivePart
from viewer.scene.parts import cross_parts, yoke_parts
from viewer.scene.stand_ins import (
    axle_housing,
    bearing_bracket,
    bearing_ring,
    output_case,
    plain_tube,
    slip_halves,
)

Pieces = tuple[tuple[str, Mesh], ...]


def ride_frames(vehicle: Vehicle) -> tuple[TurnState, Frames]:
    """The shaft at ride height, and every frame there, at spin 0."""
    state = turn(vehicle, 0.0, 0.0, 0.0, 0.0)
    return state, frames_of(vehicle, state)


def shaft_parts(check: Check) -> Iterator[LivePart]:
    """Every part from the case to the axle, one at a time."""
    vehicle = check.derivation.vehicle
    hardware = {name: joint.hardware for name, joint in check.joints.items()}
    state, frames = ride_frames(vehicle)
    for name, (part, steel) in shaft_hardware(hardware).items():
        yield LivePart(name, "joints", On(name), _pieces(part, steel), hardware_facts(name, part))
    size = check.rig.shaft.tube.outside.mm, check.rig.shaft.tube.wall.mm
    yield from _tubes(vehicle, hardware, frames, size)
    if vehicle.section is not None:
        yield from _front_section(vehicle, hardware, size)
    yield case_part(vehicle, frames, land(hardware["output"].driving))
    yield housing_part(state.line, land(hardware["pinion"].driven))


def _pieces(part: Yoke | Cross, steel: str) -> Pieces:
    still = np.eye(4)
    posed = (
        yoke_parts("", part, still, steel)
        if isinstance(part, Yoke)
        else cross_parts("", part, still)
    )
    return tuple((each.material, each.mesh) for each in posed)


def _tubes(
    vehicle: Vehicle,
    hardware: dict[Joint, EndHardware],
    frames: Frames,
    size: tuple[float, float],
) -> Iterator[LivePart]:
    """The tube, in one piece or with its slip."""
    first = hardware[vehicle.ends[0]]
    apart = float(np.linalg.norm(frames["pinion shaft yoke"][:3, 3] - frames[SHAFT][:3, 3]))
    pinion = hardware["pinion"]
    start, end = land(first.driven), apart - land(pinion.driving)
    slid = slip_at(vehicle, (start, apart - end), cross_name(pinion), size, 0.0)
    halves = None if slid is None else slip_halves(start + slid.before, slid)
    if slid is None or halves is None:
        tube = tuple(plain_tube(*size, start, end))
        yield LivePart("tube", "shaft", On(SHAFT), tube, tube_facts("tube", *size, end - start))
        return
    slip = vehicle.slip
    before = plain_tube(*size, start, start + slid.before)
    sleeve = (*before, ("light steel", halves.sleeve))
    yield LivePart("slip sleeve", "shaft", On(SHAFT), sleeve, Facts("slip sleeve", "", _left(slip)))
    stub = (("bright steel", halves.stub),)
    yield LivePart("slip stub", "shaft", On(SLID), stub, Facts("slip stub", "", _left(slip)))
    tube = tuple(plain_tube(*size, halves.after, end))
    facts = tube_facts("tube", *size, end - halves.after)
    yield LivePart("tube", "shaft", On(SLID), tube, facts)
    if halves.boot is not None:
        boot, low, high = halves.boot
        pieces = (("rubber", boot),)
        yield LivePart("boot", "shaft", Bellows(low, high), pieces, Facts("boot of the slip"))


def _left(slip: Slip) -> tuple[tuple[str, str], ...]:
    return (
        ("closes from ride height", _said(slip.closes)),
        ("opens from ride height", _said(slip.opens)),
    )


def _said(mm: float) -> str:
    return format_length(mm) if isfinite(mm) else "not measured"


def _front_section(
    vehicle: Vehicle,
    hardware: dict[Joint, EndHardware],
    size: tuple[float, float],
) -> Iterator[LivePart]:
    """The tube of the front section, which turns with its yoke, and the carrier bearing."""
    section = vehicle.section
    if section is None:
        return
    start = land(hardware["output"].driven)
    end = section.length - land(hardware["middle"].driving)
    tube = tuple(plain_tube(*size, start, end))
    facts = tube_facts("front section's tube", *size, end - start)
    yield LivePart("front section tube", "shaft", On("front section yoke"), tube, facts)
    x = section.axis_C
    y = unit(np.cross([0.0, 0.0, 1.0], x))
    still = On(CHASSIS, pose(np.stack([x, y, np.cross(x, y)], axis=-1), section.p_C_output))
    at = section.to_bearing
    ring = ("rubber", bearing_ring(at)), ("grey steel", bearing_bracket(at))
    yield LivePart("carrier bearing", "vehicle", still, ring, Facts("carrier bearing"))


def case_part(vehicle: Vehicle, frames: Frames, start: float) -> LivePart:
    """The case at the output, which stays with the chassis.

    start : mm from the joint's centre to where the output yoke ends.
    """
    X = np.array(frames["output yoke"])
    facts = Facts("case at the output", "drawn simply")
    if vehicle.slip.at == "shaft":
        pieces: Pieces = (("cast iron", output_case(start - 2.0)),)
    else:
        face = start - INTO_CASE
        pulled = face - vehicle.slip.sized.opens
        stub = cylinder("x", 15.0, pulled - 20.0, face + 30.0, "spline")
        pieces = ("cast iron", output_case(face)), ("bright steel", stub.mesh())
    return LivePart("case", "vehicle", On(CHASSIS, X), pieces, facts)


def housing_part(ride: LineState, pinion_land: float) -> LivePart:
    """The axle housing. ride : the line at ride height; pinion_land : mm, as for `case_part`."""
    snout, X_AH = housing_place(ride, np.eye(4), pinion_land)
    pieces = (("cast iron", axle_housing(snout)),)
    facts = Facts("axle housing", "drawn simply")
    return LivePart("housing", "vehicle", On(HOUSING, X_AH), pieces, facts)
