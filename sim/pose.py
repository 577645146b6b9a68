"""One pose of the axle and one turn of the shaft: bends, gaps and slip there."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees
from types import MappingProxyType

from geometry.errors import BindpointError
from geometry.gap import Gap, gap_at, smallest_gap
from geometry.tolerances import TOL
from sim.derive import derive
from sim.first_contact import JOINTS, Joint
from sim.hardware import JointHardware, joint_hardware
from sim.line import TurnState, turn
from sim.rig import Rig
from sim.vehicle import Pose, Vehicle


class OutOfReachError(BindpointError, ValueError):
    """A pose that suspension and shaft cannot reach, or a joint that no yoke can bend to."""


@dataclass(frozen=True)
class PosedJoint:
    """One joint in one pose.

    Attributes
    ----------
    hardware : its parts.
    bend, spin : rad.
    gap : the gap at that spin.
    least : the smallest gap over a whole turn at that bend.
    """

    hardware: JointHardware
    bend: float
    spin: float
    gap: Gap
    least: Gap


@dataclass(frozen=True)
class PoseCheck:
    """A pose and everything in it.

    Attributes
    ----------
    vehicle, at, spin : what was asked; spin (rad) is the turn of the output yoke.
    state : where every part sits.
    joints : "output" and "pinion".
    """

    vehicle: Vehicle
    at: Pose
    spin: float
    state: TurnState
    joints: Mapping[Joint, PosedJoint]

    @property
    def closes_left(self) -> float:
        """Closing left in the slip here, mm; negative past its stroke."""
        return self.vehicle.slip.closes + float(self.state.line.slip)

    @property
    def opens_left(self) -> float:
        """Opening left in the slip here, mm; negative past its stroke."""
        return self.vehicle.slip.opens - float(self.state.line.slip)

    @property
    def stopped(self) -> bool:
        """Whether metal meets somewhere in the turn or the slip is past its stroke."""
        meets = any(joint.least.overlaps for joint in self.joints.values())
        return meets or min(self.closes_left, self.opens_left) < 0.0


def check_pose(rig: Rig, at: Pose, spin: float) -> PoseCheck:
    """Look at one pose (mm, rad) with the output yoke turned to `spin` (rad).

    Raises
    ------
    OutOfReachError
        When the pose cannot be reached, or a joint is bent past what any yoke bends to.
    """
    vehicle = derive(rig).vehicle
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    if not bool(state.line.reachable):
        raise OutOfReachError(
            f"{rig.name}: the suspension and the shaft cannot reach the pose that was asked for; "
            "expected one nearer to ride height"
        )
    joints: dict[Joint, PosedJoint] = {}
    for joint in JOINTS:
        bend = float(state.line.output_bend if joint == "output" else state.line.pinion_bend)
        if bend > TOL.bend_limit:
            raise OutOfReachError(
                f"{rig.name}: the {joint} joint would be bent {degrees(bend):.1f} deg there; "
                f"expected at most {degrees(TOL.bend_limit):.0f} deg, more than any yoke allows"
            )
        own_spin = float(state.output_spin if joint == "output" else state.pinion_spin)
        hardware = joint_hardware(rig, joint)
        closing = hardware.closing
        joints[joint] = PosedJoint(
            hardware, bend, own_spin, gap_at(closing, bend, own_spin), smallest_gap(closing, bend)
        )
    return PoseCheck(vehicle, at, spin, state, MappingProxyType(joints))
