"""Where the bodies of a joint or head stand."""

from dataclasses import dataclass, replace
from math import atan2, cos, sin

import numpy as np

from geometry.contact.gap import Gap
from geometry.contact.pair import CROSS, DRIVEN, DRIVING
from geometry.contact.touch import Contact
from geometry.cross import Cross
from geometry.head.turning import second_spin
from geometry.joint import rotations
from geometry.yoke import Yoke
from sim.frames import Rz, bend_frame, pose
from sim.front_section import shaft_drives
from sim.hardware.head import EndHardware, HeadHardware, cross_of
from sim.hardware.joint import JointHardware
from sim.line import LineState
from sim.line.turn import joints_at
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import Floats
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


def joint_frame(vehicle: Vehicle, state: LineState, joint: Joint) -> JointFrame:
    """Place a joint of the vehicle, given where its shaft runs in one pose."""
    at = next(each for each in joints_at(vehicle, state) if each.joint == joint)
    axes = np.stack([-at.near, at.far])
    return JointFrame(bend_frame(-at.near, at.far, at.bend), at.centre, axes, float(at.bend))


@dataclass(frozen=True, eq=False)
class Body:
    """A yoke or a cross where it sits: what it is made of, its steel and its pose."""

    name: str
    part: Yoke | Cross
    steel: str
    X_CP: Floats

    def shown(self) -> tuple[PosedPart, ...]:
        """The pieces to draw, with the first piece of tube behind a yoke that is welded to one."""
        parts = body_parts(self.name, self.part, self.X_CP, self.steel)
        if not isinstance(self.part, Yoke) or self.part.tube_from is None:
            return parts
        end = float(self.part.contact.bounds[1, 0])
        size = self.part.dimensions["tube_diameter"], WALL
        tube = plain_tube(*size, self.part.tube_from, end)
        return parts + tuple(PosedPart(self.name, look, mesh, self.X_CP) for look, mesh in tube)

    @property
    def solid(self) -> PosedPart:
        """The closed body that can touch."""
        return PosedPart(self.name, self.steel, self.part.contact, self.X_CP)


@dataclass(frozen=True, eq=False)
class CrossAt:
    """One cross of a joint or head with both its yokes, bent and turned.

    hardware : its parts. X_CK : (4, 4) pose in C of its joint frame. bend, spin : rad.
    looks : steel of the driving and of the driven yoke. name : of the cross itself.
    """

    hardware: JointHardware
    X_CK: Floats
    bend: float
    spin: float
    looks: tuple[str, str]
    name: str = CROSS

    def bodies(self) -> dict[str, Body]:
        """Both yokes and the cross where they stand."""
        R, made = rotations(self.bend, self.spin), self.hardware
        steel, other = self.looks
        placed: dict[str, tuple[Yoke | Cross, str, Floats]] = {
            DRIVING: (made.driving, steel, R.R_JD),
            DRIVEN: (made.driven, other, R.R_JN),
            CROSS: (made.cross, CENTRE_STEEL, R.R_JX),
        }
        names = {DRIVING: made.yoke_name(DRIVING), DRIVEN: made.yoke_name(DRIVEN), CROSS: self.name}
        return {
            body: Body(names[body], part, look, self.X_CK @ pose(R_KP, np.zeros(3)))
            for body, (part, look, R_KP) in placed.items()
        }

    def meeting(self, found: Gap | Contact) -> tuple[PosedPart, PosedPart]:
        """The closed bodies of something found at this cross, in the frame its points are in."""
        placed = replace(self, X_CK=np.eye(4)).bodies()
        first, second = (placed[body].solid for body in found.bodies)
        return first, second


def crosses_of(
    frame: JointFrame, hardware: EndHardware, found: Gap | Contact
) -> tuple[CrossAt, ...]:
    """The cross of a joint, or both of a head, turned as where something was found."""
    ends = SHAFT_STEEL, END_STEEL
    near, far = ends if shaft_drives(hardware.joint) else ends[::-1]
    if not isinstance(hardware, HeadHardware):
        X_CK = pose(frame.R_CJ, frame.centre)
        return (CrossAt(hardware, X_CK, found.bend, found.spin, (near, far)),)
    first, second = hardware.bends(frame.bend)
    # The ball lies on the axis of the yoke that carries it.
    along = hardware.head.ball
    if not hardware.carrying_drives:
        along = float(hardware.head.split(frame.bend).reach)
    X_CH = pose(frame.R_CJ, frame.centre + along * frame.axes[0])
    span, spin = hardware.head.span, head_spin(first, found)
    X_HK = pose(Rz(-first), span * np.array([-cos(first), sin(first), 0.0]))
    one, other = hardware.crosses
    names = (CROSS, f"second {CROSS}")[:: -1 if cross_of(found) else 1]  # what is found is plain
    there = float(second_spin(first, spin))
    return (
        CrossAt(one, X_CH, first, spin, (near, CENTRE_STEEL), names[0]),
        CrossAt(other, X_CH @ X_HK, second, there, (CENTRE_STEEL, far), names[1]),
    )


def head_spin(first: float, found: Gap | Contact) -> float:
    """Spin (rad) of a head's first joint, which is bent by `first`, where something was found."""
    if cross_of(found) == 0:
        return found.spin
    return atan2(-cos(found.spin), sin(found.spin) / cos(first))
