"""Pictures out of a posed shaft: for whoever has a vehicle, its yokes and a pose."""

import numpy as np

from geometry.gap import Gap, gap_at
from geometry.joint import rotations
from geometry.joint_parts import CROSS, DRIVEN, DRIVING
from geometry.touch import Contact
from geometry.yoke import Yoke
from sim.check import JointCheck
from sim.frames import pose, unit
from sim.hardware import JointHardware
from sim.line import line
from sim.line.turn import bend_frame
from sim.pose import PoseCheck
from sim.vehicle import Joint, Pose, Vehicle
from viewer.draw.camera import Floats
from viewer.scene.joint import CAUTION, JointPicture
from viewer.scene.overlap import overlap
from viewer.scene.parts import PosedPart, cross_parts, yoke_parts
from viewer.scene.shaft import JointMark, ShaftPicture
from viewer.scene.stand_ins import Sliding, axle_housing, output_case, plain_tube, shaft_between

SHAFT, ENDS = "light steel", "dark steel"
"""Steel of the shaft's own yokes, and of those at output and pinion, in every picture."""

ENGAGED = 50.0
"""Spline still engaged when a slip has opened as far as it may, mm; from memory, only to show."""

WALL = 2.1
"""Wall of the piece of tube behind a weld yoke, mm; only to show."""


def joint_picture(
    vehicle: Vehicle,
    at: Pose,
    hardware: JointHardware,
    gap: Gap | Contact,
    headline: str,
    lines: tuple[str, ...] = (),
    caution: str = CAUTION,
) -> JointPicture:
    """Picture of one joint in one pose of the axle.

    gap : what is nearest, or touches, there; also says how far the joint is bent and turned.
    """
    R_CJ, centre = _joint_frame(vehicle, at, hardware.joint)
    frames = rotations(gap.bend, gap.spin)
    X_CD, X_CN, X_CX = (pose(R_CJ @ R, centre) for R in (frames.R_JD, frames.R_JN, frames.R_JX))
    steel = (ENDS, SHAFT) if hardware.joint == "output" else (SHAFT, ENDS)
    names = {body: hardware.yoke_name(body) for body in (DRIVING, DRIVEN, CROSS)}
    solids = {
        DRIVING: PosedPart(names[DRIVING], steel[0], hardware.driving.contact, X_CD),
        DRIVEN: PosedPart(names[DRIVEN], steel[1], hardware.driven.contact, X_CN),
        CROSS: PosedPart(names[CROSS], "grey steel", hardware.cross.contact, X_CX),
    }
    overlaps = isinstance(gap, Gap) and gap.overlaps
    touches = overlaps or isinstance(gap, Contact)
    distance = gap.distance if isinstance(gap, Gap) else 0.0
    first, second = gap.bodies
    return JointPicture(
        parts=(
            *_yoke(names[DRIVING], hardware.driving, X_CD, steel[0]),
            *_yoke(names[DRIVEN], hardware.driven, X_CN, steel[1]),
            *cross_parts(names[CROSS], hardware.cross, X_CX),
        ),
        solids=tuple(solids.values()),
        centre=centre,
        axes=np.stack([X_CD[:3, 0], X_CN[:3, 0]]),
        bend=gap.bend,
        points=gap.points @ R_CJ.T + centre,
        gap_mm=distance,
        overlaps=touches,
        overlap=overlap(solids[first], solids[second]) if overlaps else None,
        bodies=(names[first], names[second]),
        surfaces=gap.surfaces,
        headline=headline,
        lines=lines,
        caution=caution,
    )


def gap_at_worst(joint: JointCheck) -> Gap:
    """What meets, or is nearest, in the worst pose of one joint.

    Where metal meets at many spins the one is taken at which it meets first.
    """
    gap, first = joint.gap, joint.curve.first
    if gap.overlaps and first is not None:
        return gap_at(joint.hardware.closing, gap.bend, first.spin)
    return gap


def shaft_picture(
    found: PoseCheck,
    tube: tuple[float, float],
    headline: str,
    lines: tuple[str, ...] = (),
    length: str = "",
    ground: float | None = None,
    caution: str = CAUTION,
) -> ShaftPicture:
    """Picture of the whole shaft in one pose.

    tube : outside diameter and wall, mm.
    """
    state, slip = found.state, found.vehicle.slip
    X_C = state.X_C
    output, pinion = found.joints["output"].hardware, found.joints["pinion"].hardware
    lands = land(output.driven), float(state.line.length) - land(pinion.driving)
    sliding = None
    if slip.at == "shaft":
        apart = slip.opens + ENGAGED if slip.comes_apart is None else slip.comes_apart
        sliding = Sliding(output.cross.name, slip.closes, apart, float(state.line.slip))
    axes = {
        "output": np.stack([found.vehicle.axis_C_output, state.line.shaft_axis_C]),
        "pinion": np.stack([-state.line.shaft_axis_C, state.line.axis_C_pinion]),
    }
    centres = {"output": state.line.p_C_output, "pinion": state.line.p_C_pinion}
    return ShaftPicture(
        parts=(
            *yoke_parts("output yoke", output.driving, X_C["output yoke"], ENDS),
            *cross_parts("output cross", output.cross, X_C["output cross"]),
            *yoke_parts("output shaft yoke", output.driven, X_C["output shaft yoke"], SHAFT),
            *shaft_between("shaft", X_C["shaft"], lands, tube, sliding),
            *yoke_parts("pinion shaft yoke", pinion.driving, X_C["pinion shaft yoke"], SHAFT),
            *cross_parts("pinion cross", pinion.cross, X_C["pinion cross"]),
            *yoke_parts("pinion yoke", pinion.driven, X_C["pinion yoke"], ENDS),
            *_around(found, output.driving, pinion.driven),
        ),
        joints=tuple(
            JointMark(
                f"{name} joint",
                centres[name],
                axes[name],
                joint.bend,
                joint.least.overlaps,
            )
            for name, joint in found.joints.items()
        ),
        headline=headline,
        lines=lines,
        length=length,
        ground=ground,
        caution=caution,
    )


def export_parts(found: PoseCheck) -> tuple[PosedPart, ...]:
    """Every body of the shaft that can touch, each in its own frame with its pose."""
    X_C = found.state.X_C
    output, pinion = found.joints["output"].hardware, found.joints["pinion"].hardware
    bodies = {
        "output yoke": output.driving.contact,
        "output cross": output.cross.contact,
        "output shaft yoke": output.driven.contact,
        "pinion shaft yoke": pinion.driving.contact,
        "pinion cross": pinion.cross.contact,
        "pinion yoke": pinion.driven.contact,
    }
    return tuple(PosedPart(name, "grey steel", mesh, X_C[name]) for name, mesh in bodies.items())


def land(yoke: Yoke) -> float:
    """Where, mm from the cross centre, a shaft goes on behind a yoke."""
    if yoke.weld_land is not None:
        return yoke.weld_land
    return float(yoke.contact.bounds[1, 0])


def _yoke(name: str, yoke: Yoke, X_CP: Floats, steel: str) -> tuple[PosedPart, ...]:
    """A yoke, with the first piece of tube behind it where it is welded to one."""
    parts = yoke_parts(name, yoke, X_CP, steel)
    if yoke.weld_land is None:
        return parts
    end = float(yoke.contact.bounds[1, 0])
    pieces = plain_tube(yoke.dimensions["tube_diameter"], WALL, yoke.weld_land, end)
    return parts + tuple(PosedPart(name, material, mesh, X_CP) for material, mesh in pieces)


def _joint_frame(vehicle: Vehicle, at: Pose, joint: Joint) -> tuple[Floats, Floats]:
    """Rotation R_CJ of the joint frame, and the joint's centre, mm in C."""
    state = line(vehicle, at.travel, at.roll, at.wrap)
    if joint == "output":
        R_CJ = bend_frame(vehicle.axis_C_output, state.shaft_axis_C, state.output_bend)
        return R_CJ, state.p_C_output
    return bend_frame(-state.shaft_axis_C, state.axis_C_pinion, state.pinion_bend), state.p_C_pinion


def _around(found: PoseCheck, output: Yoke, pinion: Yoke) -> tuple[PosedPart, ...]:
    """The axle housing and the case at the output, in simple shapes."""
    state = found.state
    X_CA = state.X_C["housing"]
    ahead = -state.line.axis_C_pinion
    left = unit(X_CA[:3, 1] - (X_CA[:3, 1] @ ahead) * ahead)
    # The pinion need not pass through the middle of the axle, so the snout starts on its line.
    middle = X_CA[:3, 3]
    reach = float((state.line.p_C_pinion - middle) @ ahead)
    base = state.line.p_C_pinion - reach * ahead
    snout = max(120.0, reach - land(pinion) + 2.0)
    R = np.stack([ahead, left, np.cross(ahead, left)], axis=-1)
    case = output_case(land(output) - 2.0)
    return (
        PosedPart("housing", "cast iron", axle_housing(snout), pose(R, base)),
        PosedPart("case", "cast iron", case, state.X_C["output yoke"]),
    )
