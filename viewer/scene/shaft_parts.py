"""The shaft, what it hangs on and its axle as parts, each built once: for window, sheet, export."""

from collections.abc import Iterator, Mapping
from math import isfinite

import numpy as np

from geometry.cross import Cross
from geometry.solids import Solid, cylinder
from geometry.yoke import Yoke
from sim.around.outline import land
from sim.check import Check
from sim.front_section import shaft_drives
from sim.hardware.head import EndHardware, HeadHardware
from sim.line import TurnState, turn
from sim.rig import Rig
from sim.vehicle import Joint, Slip, Vehicle
from viewer.scene.facts import hardware_facts, tube_facts
from viewer.scene.mount import SHAFT, SLID, Bellows, Frames, On, frames_of
from viewer.scene.part import Facts, Part, Piece, hardware_pieces
from viewer.scene.slip_place import OUTPUT_YOKE, barrel_start, slip_place
from viewer.scene.stand_ins import plain_tube, slip_halves
from viewer.scene.vehicle_parts import bearing_part, case_part, housing_part, spline_part
from viewer.words.units import format_length

SHAFT_STEEL, END_STEEL, CENTRE_STEEL = "light steel", "dark steel", "grey steel"
"""Steel of the shaft's own yokes, of those at output and pinion, and of a center yoke."""

GLASS = 0.4
"""How dense that is which the spline of a slip is seen through, where nobody has said otherwise."""

Hardware = Mapping[Joint, EndHardware]


def ride_frames(vehicle: Vehicle) -> tuple[TurnState, Frames]:
    """The shaft at ride height, and every frame there, at spin 0."""
    state = turn(vehicle, 0.0, 0.0, 0.0, 0.0)
    return state, frames_of(vehicle, state)


def tube_size(rig: Rig) -> tuple[float, float]:
    """Outside diameter and wall of a rig's tube, mm."""
    return rig.shaft.tube.outside.mm, rig.shaft.tube.wall.mm


def checked_shaft(check: Check) -> Iterator[Part]:
    """Every part of a checked shaft from the case to the axle, one at a time."""
    hardware = {name: joint.hardware for name, joint in check.joints.items()}
    return shaft_parts(check.derivation.vehicle, hardware, tube_size(check.rig))


def shaft_parts(
    vehicle: Vehicle,
    hardware: Hardware,
    tube: tuple[float, float],
    built: TurnState | None = None,
) -> Iterator[Part]:
    """Every part from the case to the axle, one at a time.

    tube : outside and wall, mm. built : the state its tubes and slip are drawn in; None is ride
        height. A window builds them there and moves them; for one pose they are built in it.
    """
    ride, frames = ride_frames(vehicle)
    for name, (part, steel) in shaft_hardware(hardware).items():
        pieces, facts = hardware_pieces(part, steel), hardware_facts(name, part)
        if name == OUTPUT_YOKE and vehicle.slip.at == "output":
            pieces, barrel = _parted(pieces, barrel_start(part.dimensions))
            if barrel:
                of = f"barrel of the {name}"
                yield Part(of, "joints", On(name), barrel, facts, GLASS, of=name, body=name)
        yield Part(name, "joints", On(name), pieces, facts)
    yield from _tubes(vehicle, hardware, built or ride, tube)
    if vehicle.section is not None:
        yield from _front_section(vehicle, hardware, tube)
    start = land(hardware["output"].driving)
    yield case_part(vehicle, frames, start)
    if vehicle.slip.at == "output":
        yield spline_part(vehicle, frames, start, slip_place(vehicle, hardware, tube))
    yield housing_part(ride.line, land(hardware["pinion"].driven))


def shaft_hardware(hardware: Hardware) -> dict[str, tuple[Yoke | Cross, str]]:
    """Every yoke and cross of a shaft with its steel by name, from the output to the pinion."""
    parts: dict[str, tuple[Yoke | Cross, str]] = {}
    for joint, made in hardware.items():
        parts |= named_parts(joint, made, two_piece="middle" in hardware)
    return parts


def named_parts(
    joint: Joint, made: EndHardware, *, two_piece: bool
) -> dict[str, tuple[Yoke | Cross, str]]:
    """The same of one joint of a shaft in one piece or in two."""
    driving, driven = f"{joint} yoke", f"{joint} shaft yoke"
    steel, other = END_STEEL, SHAFT_STEEL
    if shaft_drives(joint):
        driving, driven, steel, other = driven, driving, other, steel
    elif joint == "middle":
        steel = SHAFT_STEEL
    elif two_piece:
        driven = "front section yoke"
    parts: dict[str, tuple[Yoke | Cross, str]] = {
        driving: (made.driving, steel),
        f"{joint} cross": (made.cross, CENTRE_STEEL),
    }
    if isinstance(made, HeadHardware):
        parts[f"{joint} center yoke"] = made.centre, CENTRE_STEEL
        parts[f"{joint} second cross"] = made.cross, CENTRE_STEEL
    return parts | {driven: (made.driven, other)}


def _tubes(
    vehicle: Vehicle, hardware: Hardware, built: TurnState, size: tuple[float, float]
) -> Iterator[Part]:
    """The tube, in one piece or with its slip."""
    X_C = built.X_C
    apart = float(np.linalg.norm(X_C["pinion shaft yoke"][:3, 3] - X_C[SHAFT][:3, 3]))
    start = land(hardware[vehicle.ends[0]].driven)
    end = apart - land(hardware["pinion"].driving)
    place = slip_place(vehicle, hardware, size)
    halves = None
    if place.shape is not None:
        halves = slip_halves(place.shape, place.start, float(built.line.slip))
    if halves is None:
        facts = tube_facts("tube", *size, end - start)
        yield Part("tube", "shaft", On(SHAFT), _tube(*size, start, end), facts)
        return
    slip, before = vehicle.slip, _tube(*size, start, place.start)
    if before:
        facts = tube_facts("tube", *size, place.start - start)
        yield Part(
            "tube before the slip", "shaft", On(SHAFT), before, facts, of="tube", body="tube"
        )
    sleeve, facts = (Piece("light steel", halves.sleeve),), Facts("slip sleeve", "", _left(slip))
    yield Part("slip sleeve", "shaft", On(SHAFT), sleeve, facts, opacity=GLASS)
    stub = (Piece("bright steel", halves.stub),)
    yield Part("slip stub", "shaft", On(SLID), stub, Facts("slip stub", "", _left(slip)))
    facts = tube_facts("tube", *size, end - halves.after)
    yield Part("tube", "shaft", On(SLID), _tube(*size, halves.after, end), facts)
    if halves.boot is not None:
        mesh, low, high = halves.boot
        boot = (Piece("rubber", mesh),)
        facts = Facts("boot of the slip")
        yield Part("boot", "shaft", Bellows(low, high), boot, facts, opacity=GLASS)


def _parted(
    pieces: tuple[Piece, ...], at: float | None
) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """What of some pieces lies before x = `at`, mm, and what behind; nothing for None."""
    if at is None:
        return pieces, ()
    before, behind = list[Piece](), list[Piece]()
    for piece in pieces:
        low, high = piece.mesh.bounds[:, 0]
        if high <= at:
            before.append(piece)
            continue
        reach = 2.0 * piece.mesh.radius
        solid = Solid.from_mesh(piece.mesh)
        for some, start, stop in ((before, low - 1.0, at), (behind, at, high + 1.0)):
            half = cylinder("x", reach, start, stop, "seam")
            some.append(Piece(piece.material, solid.common(half).mesh()))
    return tuple(before), tuple(behind)


def _tube(outside: float, wall: float, start: float, end: float) -> tuple[Piece, ...]:
    return tuple(Piece(*each) for each in plain_tube(outside, wall, start, end))


def _left(slip: Slip) -> tuple[tuple[str, str], ...]:
    return (
        ("closes from ride height", _said(slip.closes)),
        ("opens from ride height", _said(slip.opens)),
    )


def _said(mm: float) -> str:
    return format_length(mm) if isfinite(mm) else "not measured"


def _front_section(
    vehicle: Vehicle, hardware: Hardware, size: tuple[float, float]
) -> Iterator[Part]:
    """The tube of the front section, which turns with its yoke, and the carrier bearing."""
    section = vehicle.section
    if section is None:
        return
    start = land(hardware["output"].driven)
    end = section.length - land(hardware["middle"].driving)
    facts = tube_facts("front section's tube", *size, end - start)
    on, tube = On("front section yoke"), _tube(*size, start, end)
    yield Part("front section tube", "shaft", on, tube, facts)
    yield bearing_part(section)
