"""The picture of one joint or head, out of a pose of the axle and what was found there."""

from dataclasses import dataclass
from math import atan2, cos, sin

import numpy as np

from geometry.contact.gap import Gap
from geometry.contact.joint_parts import CROSS, DRIVEN, DRIVING
from geometry.contact.touch import Contact
from geometry.cross import Cross
from geometry.head.turning import head_poses
from geometry.joint import rotations
from geometry.yoke import Yoke
from sim.assessment import JointAssessment
from sim.frames import bend_frame, pose
from sim.head.hardware import EndHardware, HeadHardware, cross_of
from sim.line import LineState, line
from sim.parts.hardware import JointHardware
from sim.vehicle import Joint, Pose, Vehicle
from viewer.draw.camera import Floats
from viewer.scene.joint import CAUTION, JointPicture
from viewer.scene.overlap import overlap
from viewer.scene.parts import PosedPart, body_parts
from viewer.scene.shaft_parts import CENTRE_STEEL, END_STEEL, SHAFT_STEEL
from viewer.scene.stand_ins import plain_tube

WALL = 2.1
"""Wall of the piece of tube behind a weld yoke, mm; only to show."""


@dataclass(frozen=True, eq=False)
class JointFrame:
    """Where a joint is.

    R_CJ : (3, 3) rotation of its frame J; centre : (3,) mm in C, of a head its ball.
    axes : (2, 3) driving and driven shaft, away from the centre; bend : rad.
    """

    R_CJ: Floats
    centre: Floats
    axes: Floats
    bend: float


def joint_frame(vehicle: Vehicle, at: Pose, joint: Joint) -> JointFrame:
    """Place a joint of the vehicle in one pose of the axle."""
    return joint_frame_in(vehicle, line(vehicle, at.travel, at.roll, at.wrap), joint)


def joint_frame_in(vehicle: Vehicle, state: LineState, joint: Joint) -> JointFrame:
    """Place a joint of the vehicle, given where its shaft runs in one pose."""
    section = vehicle.section
    if section is not None and joint == "output":
        x1, x2, bend = section.axis_C_output, section.axis_C, np.array(section.bend)
        centre = section.p_C_output
    elif joint == "pinion":
        x1, x2, bend = -state.shaft_axis_C, state.axis_C_pinion, state.pinion_bend
        centre = state.p_C_pinion
    else:
        x1, x2, bend = vehicle.axis_C_output, state.shaft_axis_C, state.output_bend
        centre = state.p_C_output
    return JointFrame(bend_frame(x1, x2, bend), centre, np.stack([x1, x2]), float(bend))


def joint_picture(
    vehicle: Vehicle,
    at: Pose,
    hardware: EndHardware,
    gap: Gap | Contact,
    headline: str,
    lines: tuple[str, ...] = (),
    caution: str = CAUTION,
) -> JointPicture:
    """Picture of one joint or head in one pose of the axle.

    gap : what is nearest, or touches, there; also says how far it is turned.
    """
    frame = joint_frame(vehicle, at, hardware.joint)
    if isinstance(hardware, HeadHardware):
        placed, X_CK = _placed_head(frame, hardware, gap)
        axes, bend = frame.axes, frame.bend
    else:
        placed, X_CK = _placed_joint(frame, hardware, gap), pose(frame.R_CJ, frame.centre)
        axes = np.stack([body.X_CP[:3, 0] for body in list(placed.values())[:2]])
        bend = gap.bend
    overlaps = isinstance(gap, Gap) and gap.overlaps
    shown = [part for name, body in placed.items() for part in body.shown(name)]
    first, second = hardware.names(gap)
    solids = {name: body.solid(name) for name, body in placed.items()}
    return JointPicture(
        parts=tuple(shown),
        solids=tuple(solids.values()),
        centre=frame.centre,
        axes=axes,
        bend=bend,
        points=gap.points @ X_CK[:3, :3].T + X_CK[:3, 3],
        gap_mm=gap.distance if isinstance(gap, Gap) else 0.0,
        overlaps=overlaps or isinstance(gap, Contact),
        overlap=overlap(solids[first], solids[second]) if overlaps else None,
        bodies=(first, second),
        surfaces=gap.surfaces,
        headline=headline,
        lines=lines,
        caution=caution,
    )


def worst_gap(joint: JointAssessment) -> Gap:
    """What meets, or is nearest, in the worst pose of one joint.

    Where metal meets at many spins the one is taken at which it meets first.
    """
    gap, first = joint.gap, joint.curve.first
    if not gap.overlaps or first is None:
        return gap
    hardware = joint.hardware
    if isinstance(hardware, JointHardware):
        return hardware.gap_at(gap.bend, first.spin)
    number = cross_of(first)
    spin = first.spin
    bends = hardware.bends(joint.sweep.most.value)
    if number == 1:
        spin = _first_spin(bends[0], spin)
    return hardware.gap_at(joint.sweep.most.value, spin)


@dataclass(frozen=True, eq=False)
class Body:
    """A yoke or a cross where it sits: what it is made of, its steel and its pose in C."""

    part: Yoke | Cross
    steel: str
    X_CP: Floats

    def shown(self, name: str) -> tuple[PosedPart, ...]:
        """The pieces to draw, with the first piece of tube behind a yoke that is welded to one."""
        parts = body_parts(name, self.part, self.X_CP, self.steel)
        if not isinstance(self.part, Yoke) or self.part.tube_from is None:
            return parts
        end = float(self.part.contact.bounds[1, 0])
        size = self.part.dimensions["tube_diameter"], WALL
        tube = plain_tube(*size, self.part.tube_from, end)
        return parts + tuple(PosedPart(name, look, mesh, self.X_CP) for look, mesh in tube)

    def solid(self, name: str) -> PosedPart:
        """The closed body that can touch."""
        return PosedPart(name, self.steel, self.part.contact, self.X_CP)


def turned_bodies(
    hardware: JointHardware, found: Gap | Contact
) -> dict[str, tuple[Yoke | Cross, Floats]]:
    """The bodies of a joint, each with its rotation (3, 3) in J, turned as where it was found."""
    R = rotations(found.bend, found.spin)
    return {
        DRIVING: (hardware.driving, R.R_JD),
        DRIVEN: (hardware.driven, R.R_JN),
        CROSS: (hardware.cross, R.R_JX),
    }


def _steel(hardware: EndHardware) -> tuple[str, str]:
    """Steel of the driving and of the driven yoke."""
    ends = SHAFT_STEEL, END_STEEL
    return ends if hardware.joint == "pinion" else ends[::-1]


def _placed_joint(
    frame: JointFrame, hardware: JointHardware, found: Gap | Contact
) -> dict[str, Body]:
    turned = turned_bodies(hardware, found)
    return {
        hardware.yoke_name(body): Body(part, steel, pose(frame.R_CJ @ R, frame.centre))
        for (body, (part, R)), steel in zip(
            turned.items(), (*_steel(hardware), CENTRE_STEEL), strict=True
        )
    }


def _placed_head(
    frame: JointFrame, hardware: HeadHardware, found: Gap | Contact
) -> tuple[dict[str, Body], Floats]:
    """Bodies of a head, those that meet first, and the pose of the frame the points are in."""
    first, second = hardware.bends(frame.bend)
    number = cross_of(found)
    spin = found.spin if number == 0 else _first_spin(first, found.spin)
    placed = head_poses(first, second, spin, hardware.head.span)
    X_CH = _head_frame(frame, hardware)
    steel = _steel(hardware)
    near, far = hardware.crosses
    bodies = {
        near.yoke_name(DRIVING): Body(hardware.driving, steel[0], X_CH @ placed.X_H_driving),
        near.yoke_name(DRIVEN): Body(hardware.centre, CENTRE_STEEL, X_CH @ placed.X_H_centre),
        far.yoke_name(DRIVEN): Body(hardware.driven, steel[1], X_CH @ placed.X_H_driven),
        CROSS: Body(hardware.cross, CENTRE_STEEL, X_CH @ placed.X_H_cross),
        f"second {CROSS}": Body(hardware.cross, CENTRE_STEEL, X_CH @ placed.X_H_second_cross),
    }
    meeting = hardware.names(found)
    order = [*(name for name in meeting), *(name for name in bodies if name not in meeting)]
    return {name: bodies[name] for name in order}, found_frame(frame, hardware, found)


def found_frame(frame: JointFrame, hardware: EndHardware, found: Gap | Contact) -> Floats:
    """Pose (4, 4) in C of the frame that the points of something found are in."""
    if not isinstance(hardware, HeadHardware):
        return pose(frame.R_CJ, frame.centre)
    X_CH = _head_frame(frame, hardware)
    if cross_of(found) == 0:
        return X_CH
    first, _ = hardware.bends(frame.bend)
    return X_CH @ _second_frame(first, hardware.head.span)


def _head_frame(frame: JointFrame, hardware: HeadHardware) -> Floats:
    """Pose (4, 4) in C of the frame at a head's first cross."""
    # The ball lies on the axis of the yoke that carries it.
    along = hardware.head.ball
    if not hardware.carrying_drives:
        along = float(hardware.head.split(frame.bend).reach)
    return pose(frame.R_CJ, frame.centre + along * frame.axes[0])


def _second_frame(first: float, span: float) -> Floats:
    """Pose (4, 4) of the joint frame at a head's second cross in that at its first."""
    c, s = cos(first), sin(first)
    R = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    return pose(R, span * np.array([-c, s, 0.0]))


def _first_spin(first: float, second_spin: float) -> float:
    """Spin (rad) of a head's first joint from that of its second."""
    return atan2(-cos(second_spin), sin(second_spin) / cos(first))
