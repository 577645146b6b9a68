"""The outline of everything round that turns with the shaft or moves with the axle.

A part that turns about its own axis keeps clear as the circles that its points go round in:
ears, necks and welds of the yokes, tube, sleeve, stub and boot of the slip, center yokes of heads.
The two halves of a slip hang on their own ends of the shaft, so that it has its true length in
each pose.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Final

import numpy as np

from geometry.mesh import Mesh
from geometry.outline import Taper, outline, outline_of_profile
from geometry.slip import CLAMP_WIDTH, SlipShape
from geometry.yoke import Yoke
from sim.around.lines import Line, line_ends
from sim.around.rods import Owner, Rod
from sim.hardware.head import EndHardware, HeadHardware
from sim.head.bend import ball_of
from sim.parts.catalogue import slip_shape
from sim.rig import Rig
from sim.vehicle import Joint, Slip, Vehicle

SNOUT, TUBES, CASE = "snout", "axle tubes", "case at the output"
EARS = "ears"
"""What the rig may tell the size of."""

INTO_CASE = 45.0
"""mm. How far the barrel of a sliding yoke reaches into its case at ride height (from memory)."""

BEAD = 7.0
"""Width of a weld bead along the tube, mm (from memory), where a yoke does not tell its own."""

CROWN = 0.3
"""Height of a weld bead as a share of its width, as on the yokes."""

TUBE_BEFORE_SLIP = 40.0
"""mm. Tube between the yoke and the sleeve of a slip (from memory): the least that is worth a
piece. Where the shaft has no room for it the sleeve is welded to the yoke."""

NECK_ROOM = 15.0
"""mm. Smooth neck of a stub beyond what it closes (from memory)."""

GOOD_DIAMETERS: Final = 2.0
"""Spline diameters that are wanted to stay engaged (common practice, no source)."""


def shaft_rods(rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware]) -> tuple[Rod, ...]:
    """Everything that turns with the shaft, from its tube to what lies in front of it."""
    hangs_on, _ = vehicle.ends
    output, pinion = joints[hangs_on].driven, joints["pinion"].driving
    end = "at the middle joint" if hangs_on == "middle" else "at the output end"
    return (
        *_between(rig, vehicle, (land(output), land(pinion)), joints["pinion"]),
        *_yoke(output, end, (0.0, 1.0), "shaft", hangs_on),
        *_yoke(pinion, "at the pinion end", (1.0, -1.0), "shaft", "pinion"),
        *_heads(joints),
        *_front(rig, joints),
    )


def axle_rods(rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware]) -> tuple[Rod, ...]:
    """What moves with the axle and goes near things on the chassis, as far as it is known.

    That is the yoke on the pinion, and snout and axle tubes where the rig tells their sizes.
    """
    yoke, axle = joints["pinion"].driven.contact, rig.axle
    rods = list(_whole(yoke, "pinion yoke", "pinion yoke", "axle", "pinion"))
    if axle.snout_outside is not None:
        start = float(yoke.bounds[1, 0])
        stop = float(-vehicle.p_A_pinion @ vehicle.axis_A_pinion) - ball_of(vehicle.pinion_head)
        ends = (0.0, start), (0.0, max(start, stop))
        rods.append(Rod(SNOUT, 0.5 * axle.snout_outside.mm, *ends, "pinion yoke", "axle"))
    if axle.tubes_outside is not None and axle.tubes_long is not None:
        half = 0.5 * axle.tubes_long.mm
        ends = (0.0, -half), (0.0, half)
        rods.append(Rod(TUBES, 0.5 * axle.tubes_outside.mm, *ends, "axle", "axle"))
    return tuple(rods)


def output_rods(rig: Rig, joints: Mapping[Joint, EndHardware]) -> tuple[Rod, ...]:
    """What sits at the output and goes near things on the axle, as far as it is known.

    That is the yoke there, and the case behind it where the rig tells its size.
    """
    yoke, output = joints["output"].driving.contact, rig.output
    rods = list(_whole(yoke, "output yoke", "output yoke", "output", "output"))
    if output.case_outside is not None and output.case_long is not None:
        start = float(yoke.bounds[1, 0])
        if rig.shaft.slip.at == "output":
            start -= INTO_CASE
        ends = (0.0, start), (0.0, start + output.case_long.mm)
        rods.append(Rod(CASE, 0.5 * output.case_outside.mm, *ends, "output", "output"))
    return tuple(rods)


def land(yoke: Yoke) -> float:
    """Where, mm from the cross centre, a shaft goes on behind a yoke."""
    if yoke.tube_from is not None:
        return yoke.tube_from
    return float(yoke.contact.bounds[1, 0])


@lru_cache(maxsize=32)
def _outline(mesh: Mesh, start: float, stop: float) -> tuple[Taper, ...]:
    return outline(mesh, start, stop)


def _whole(mesh: Mesh, name: str, along: Line, of: Owner, joint: Joint) -> Iterator[Rod]:
    """A part that turns about the line it lies on, all of it under one name."""
    for each in _outline(mesh, -np.inf, np.inf):
        ends = (0.0, each.start), (0.0, each.stop)
        yield Rod(name, each.radius, *ends, along, of, joint=joint)


def _yoke(
    yoke: Yoke, end: str, where: tuple[float, float], along: Line, joint: Joint
) -> Iterator[Rod]:
    """A yoke of the shaft up to its weld: ears, body, bead.

    where : share of the line's length at which its cross is, and which way its x axis points.
    """
    share, way = where
    behind, bead = land(yoke), 0.0
    if yoke.tube_from is not None:
        bead = 0.5 * yoke.dimensions.get("weld_bead", BEAD)
    floor = min(yoke.dimensions.get("throat_depth", behind), behind - bead)
    parts = ((EARS, -np.inf, floor), ("yoke", floor, behind - bead))
    welds = (("weld", behind - bead, behind + bead),)
    for name, start, stop in (*parts, *(welds if bead else ())):
        if stop - start > 0.0:
            for each in _outline(yoke.contact, start, stop):
                ends = (share, way * each.start), (share, way * each.stop)
                yield Rod(f"{name} {end}", each.radius, *ends, along, joint=joint)


def _between(
    rig: Rig, vehicle: Vehicle, lands: tuple[float, float], pinion: EndHardware
) -> Iterator[Rod]:
    """What lies between the weld lands of the shaft's two yokes: tube, and slip if there is one."""
    radius = 0.5 * rig.shaft.tube.outside.mm
    start, stop = lands
    if vehicle.slip.at != "shaft":
        yield Rod("tube", radius, (0.0, start), (1.0, -stop))
        return
    size = rig.shaft.tube.outside.mm, rig.shaft.tube.wall.mm
    shape = slip_in_shaft(cross_name(pinion), size, vehicle.slip)
    before = tube_before_slip(vehicle, lands, shape)
    if before is None:
        # A slip that does not fit is somewhere along the shaft, and no thicker than its parts.
        thickest = max(radius, 0.5 * shape.sleeve_diameter)
        yield Rod("tube or slip", thickest, (0.0, start), (1.0, -stop))
        return
    at = start + before
    behind = ride_length(vehicle) - at - shape.between_lands(shape.spline_length)
    yield Rod("tube", radius, (0.0, start), (0.0, at))
    yield Rod("tube", radius, (1.0, -behind), (1.0, -stop))
    yield from _slip(shape, at, behind)


def _slip(shape: SlipShape, at: float, behind: float) -> Iterator[Rod]:
    """A slip whose sleeve begins `at` mm from the first cross, its stub `behind` mm from the last.

    Its sleeve looks along the shaft and its stub the other way.
    """
    radius = 0.5 * shape.tube_diameter
    bead = ([-0.5 * BEAD, radius], [0.0, radius + CROWN * BEAD], [0.5 * BEAD, radius])
    for name, profile in (
        ("sleeve of the slip", shape.sleeve_profile()),
        ("weld before the slip", bead),
    ):
        for each in outline_of_profile(profile):
            yield Rod(name, each.radius, (0.0, at + each.start), (0.0, at + each.stop))
    for name, profile in (
        ("stub of the slip", shape.stub_profile()),
        ("weld behind the slip", bead),
    ):
        for each in outline_of_profile(profile):
            yield Rod(name, each.radius, (1.0, -behind - each.start), (1.0, -behind - each.stop))
    near, far = shape.boot_ends
    folds = (0.0, at + near + CLAMP_WIDTH), (1.0, -behind - far - CLAMP_WIDTH)
    on_sleeve, on_stub = shape.clamp_radii
    yield Rod("boot on the slip", shape.fold_radii, *folds, yields=True)
    yield Rod("boot on the slip", on_sleeve, (0.0, at + near), folds[0], yields=True)
    yield Rod("boot on the slip", on_stub, folds[1], (1.0, -behind - far), yields=True)


def slip_in_shaft(cross: str, tube: tuple[float, float], slip: Slip) -> SlipShape:
    """The slip that a vehicle has in its shaft: the catalogue's for a cross, with its stroke.

    Of a slip that nobody measured the stroke is a generic one.

    tube : outside diameter and wall, mm.
    Raises BindpointError for an unknown cross and dimensions that clash.
    """
    outside, wall = tube
    slip = slip.sized
    # What goes into the tube is not seen, and a solid one has no room for it.
    thin = min(wall, 0.25 * outside)
    usual = slip_shape(cross, outside, thin)
    apart = slip.comes_apart
    if apart is None:
        apart = slip.opens + GOOD_DIAMETERS * usual.spline_diameter
    own = {
        "sleeve_depth": slip.closes + apart,
        "spline_length": apart,
        "neck_length": slip.closes + NECK_ROOM,
    }
    return slip_shape(cross, outside, thin, own)


def tube_before_slip(
    vehicle: Vehicle, lands: tuple[float, float], shape: SlipShape
) -> float | None:
    """Length (mm) of tube between a yoke and the sleeve; None where the slip does not fit.

    lands : from their crosses to where either of the shaft's yokes ends, mm.
    """
    room = ride_length(vehicle) - sum(lands) - shape.between_lands(shape.spline_length)
    return min(TUBE_BEFORE_SLIP, room) if room >= 0.0 else None


def ride_length(vehicle: Vehicle) -> float:
    """From the shaft's own first cross to its own last one at ride height, mm."""
    begin, end = line_ends(vehicle, ("shaft",), np.zeros((1, 3)))
    return float(np.linalg.norm(end - begin))


def cross_name(hardware: EndHardware) -> str:
    """Size of the cross of a joint."""
    return hardware.cross.name


def _heads(joints: Mapping[Joint, EndHardware]) -> Iterator[Rod]:
    """The center yokes of double-Cardan heads."""
    lines: tuple[tuple[Joint, Line], ...] = (("output", "output head"), ("pinion", "pinion head"))
    for joint, along in lines:
        head = joints[joint]
        if isinstance(head, HeadHardware):
            name = f"{along}'s center yoke"
            yield from _whole(head.centre.contact, name, along, "shaft", joint)


def _front(rig: Rig, joints: Mapping[Joint, EndHardware]) -> Iterator[Rod]:
    """The front section of a two-piece shaft: its tube up to the bearing, and its two yokes.

    The yoke behind the bearing counts whole, with the flange that it may have. What runs through
    the bearing does not count: something has to hold that.
    """
    if "middle" not in joints or rig.carrier is None:
        return
    output, middle = joints["output"].driven, joints["middle"].driving
    tube = 0.5 * rig.shaft.tube.outside.mm
    stub = rig.carrier.bearing_stub.mm if rig.carrier.bearing_stub is not None else 0.0
    behind = rig.carrier.middle_joint_beyond.mm + stub
    yield Rod("front tube", tube, (0.0, land(output)), (1.0, -behind), "front section")
    yield from _yoke(output, "of the front tube", (0.0, 1.0), "front section", "output")
    for each in _outline(middle.contact, -np.inf, np.inf):
        ends = (1.0, -each.start), (1.0, -each.stop)
        yield Rod("front yoke", each.radius, *ends, "front section", joint="middle")
