"""One pose of the axle and one turn of the shaft: bends, gaps and slip there."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees
from types import MappingProxyType

from geometry.contact.gap import Gap
from geometry.errors import BindpointError
from geometry.tolerances import TOL
from sim.around.surroundings import SurroundingGap, gaps_at
from sim.assessment import JointRoom
from sim.derive import derive
from sim.findings import Verdict, judged, worst_of
from sim.head.hardware import EndHardware, end_hardware
from sim.line import TurnState, own_turns, turn
from sim.rig import Rig
from sim.travel.oversteps import Overstep, oversteps
from sim.vehicle import Joint, Pose, Vehicle


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
    verdict : over a whole turn, by the limits that `check` goes by.
    """

    hardware: EndHardware
    bend: float
    spin: float
    gap: Gap
    least: Gap
    verdict: Verdict


@dataclass(frozen=True)
class PoseCheck:
    """A pose and everything in it.

    Attributes
    ----------
    vehicle, at, spin : what was asked; spin (rad) is the turn of the output yoke.
    state : where every part sits.
    joints : "output", "pinion", and "middle" on a two-piece shaft.
    surroundings : the gap to each thing near the shaft.
    slip_wanted, clearance_wanted : mm wanted to be left of the slip each way, and to each thing.
    """

    vehicle: Vehicle
    at: Pose
    spin: float
    state: TurnState
    joints: Mapping[Joint, PosedJoint]
    surroundings: tuple[SurroundingGap, ...] = ()
    slip_wanted: float = 0.0
    clearance_wanted: float = 0.0

    @property
    def beyond(self) -> tuple[Overstep, ...]:
        """The limits of the axle that the pose lies beyond; none where the axle gets to."""
        return oversteps(self.vehicle.travel, self.at)

    @property
    def closes_left(self) -> float:
        """Closing left in the slip here, mm; negative past its stroke."""
        return self.vehicle.slip.closes + float(self.state.line.slip)

    @property
    def opens_left(self) -> float:
        """Opening left in the slip here, mm; negative past its stroke."""
        return self.vehicle.slip.opens - float(self.state.line.slip)

    @property
    def verdict(self) -> Verdict:
        """The worst of the joints, each over a whole turn, the slip, and what is near."""
        slip = judged(min(self.closes_left, self.opens_left), self.slip_wanted)
        near = [gap.verdict(self.clearance_wanted) for gap in self.surroundings]
        return worst_of([slip, *near, *(joint.verdict for joint in self.joints.values())])

    @property
    def stopped(self) -> bool:
        """Whether something touches somewhere in the turn or the slip has no more to give."""
        return self.verdict == "touches"


def check_pose(rig: Rig, at: Pose, spin: float) -> PoseCheck:
    """Look at one pose (mm, rad) with the output yoke turned to `spin` (rad).

    Raises
    ------
    OutOfReachError
        When the pose cannot be reached, or a joint is bent past what any yoke bends to.
    MeshError
        For the mesh file of a thing near the shaft that cannot be read.
    """
    vehicle = derive(rig).vehicle
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    if not bool(state.line.reachable):
        raise OutOfReachError(
            f"{rig.name}: the suspension and the shaft cannot reach the pose that was asked for; "
            "expected one nearer to ride height"
        )
    turned = joint_turns(vehicle, state)
    joints = {joint: _posed(rig, joint, *bent) for joint, bent in turned.items()}
    parts = {joint: posed.hardware for joint, posed in joints.items()}
    near = gaps_at(rig, vehicle, parts, at)
    slip, clearance = rig.wanted.slip.mm, rig.wanted.clearance.mm
    held = MappingProxyType(joints)
    return PoseCheck(vehicle, at, spin, state, held, near, slip, clearance)


def joint_turns(vehicle: Vehicle, state: TurnState) -> dict[Joint, tuple[float, float]]:
    """Bend and spin (rad) of every joint of one turned pose, from the output to the pinion."""
    return {
        joint: (float(bend), float(spin))
        for joint, (bend, spin) in own_turns(vehicle, state).items()
    }


def _posed(rig: Rig, joint: Joint, bend: float, spin: float) -> PosedJoint:
    """One joint at a bend and spin (rad)."""
    if bend > TOL.bend_limit:
        raise OutOfReachError(
            f"{rig.name}: the {joint} joint would be bent {degrees(bend):.1f} deg there; "
            f"expected at most {degrees(TOL.bend_limit):.0f} deg, more than any yoke allows"
        )
    hardware = end_hardware(rig, joint)
    return PosedJoint(
        hardware,
        bend,
        spin,
        hardware.gap_at(bend, spin),
        hardware.smallest_gap(bend),
        JointRoom(hardware, rig.wanted).verdict(bend),
    )
