"""One pose of the axle and one turn of the shaft: bends, gaps and slip there."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import degrees
from types import MappingProxyType

from geometry.contact.gap import Gap
from geometry.errors import BindpointError, MeshError
from geometry.tolerances import TOL
from sim.around.surroundings import SurroundingGap, gaps_at
from sim.assessment import Assessor, JointRoom
from sim.check import Check
from sim.derive import vehicle_of
from sim.findings import ORDER, Verdict, judged, worst_of
from sim.hardware.head import EndHardware
from sim.line import TurnState, turn
from sim.rig import Rig
from sim.travel.oversteps import Overstep, oversteps
from sim.vehicle import Joint, Pose, Vehicle


class OutOfReachError(BindpointError, ValueError):
    """A pose that suspension and shaft cannot reach, or a joint that no yoke can bend to."""


@dataclass(frozen=True, eq=False)
class PosedJoint:
    """One joint in one pose.

    Attributes
    ----------
    room : its parts, and how far it may bend.
    bend, spin : rad.
    """

    room: JointRoom
    bend: float
    spin: float

    @property
    def hardware(self) -> EndHardware:
        """Its parts."""
        return self.room.hardware

    @cached_property
    def gap(self) -> Gap:
        """The gap at that spin; past what any yoke bends to, at the most that one does."""
        return self.hardware.gap_at(min(self.bend, TOL.bend_limit), self.spin)

    @cached_property
    def least(self) -> Gap:
        """The smallest gap over a whole turn at that bend."""
        return self.hardware.smallest_gap(self.bend)

    @property
    def left(self) -> float:
        """Bend (rad) left to where metal meets at some turn; negative past it."""
        return self.room.left(self.bend)

    @property
    def verdict(self) -> Verdict:
        """Over a whole turn, by the limits that `check` goes by."""
        return self.room.verdict(self.bend)


@dataclass(frozen=True, eq=False)
class PoseCheck:
    """A pose and everything in it.

    Attributes
    ----------
    rig, vehicle, at, spin : what was asked; spin (rad) is the turn of the output yoke.
    state : where every part sits.
    joints : from the output to the pinion; none where suspension and shaft cannot reach.
    surroundings : the gap to things near the shaft.
    """

    rig: Rig
    vehicle: Vehicle
    at: Pose
    spin: float
    state: TurnState
    joints: Mapping[Joint, PosedJoint]
    surroundings: tuple[SurroundingGap, ...] = ()

    @property
    def reached(self) -> bool:
        """Whether suspension and shaft can get there."""
        return bool(self.state.line.reachable)

    @cached_property
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
    def slip_left(self) -> float:
        """The smaller of what is left to close and to open, mm."""
        return min(self.closes_left, self.opens_left)

    @property
    def tightest(self) -> Joint | None:
        """The joint with the least bend left; None out of reach."""
        return min(self.joints, key=lambda name: self.joints[name].left, default=None)

    @property
    def deciding(self) -> Joint | None:
        """The joint that the verdict on the joints is from; None out of reach."""
        worst = {name: ORDER.index(joint.verdict) for name, joint in self.joints.items()}
        return min(
            self.joints, key=lambda name: (-worst[name], self.joints[name].left), default=None
        )

    @cached_property
    def verdict(self) -> Verdict:
        """The worst of the joints, each over a whole turn, the slip, and what is near."""
        wanted = self.rig.wanted
        slip = judged(self.slip_left, wanted.slip.mm)
        near = [gap.verdict(wanted.clearance.mm) for gap in self.surroundings]
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
    vehicle, assessor = vehicle_of(rig), Assessor()
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    if not bool(state.line.reachable):
        raise OutOfReachError(
            f"{rig.name}: the suspension and the shaft cannot reach the pose that was asked for; "
            "expected one nearer to ride height"
        )
    for joint, (bend, _) in joint_turns(state).items():
        if bend > TOL.bend_limit:
            raise OutOfReachError(
                f"{rig.name}: the {joint} joint would be bent {degrees(bend):.1f} deg there; "
                f"expected at most {degrees(TOL.bend_limit):.0f} deg, more than any yoke allows"
            )
    rooms = {joint: assessor.room(rig, joint) for joint in vehicle.joints}
    found = posed(rig, vehicle, rooms, at, spin)
    parts = {joint: room.hardware for joint, room in rooms.items()}
    return replace(found, surroundings=gaps_at(rig, vehicle, parts, at))


def posed(
    rig: Rig, vehicle: Vehicle, rooms: Mapping[Joint, JointRoom], at: Pose, spin: float
) -> PoseCheck:
    """A pose (mm, rad) with the output yoke turned to `spin` (rad); nothing near it."""
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    turned = joint_turns(state) if bool(state.line.reachable) else {}
    joints = {joint: PosedJoint(rooms[joint], *bent) for joint, bent in turned.items()}
    return PoseCheck(rig, vehicle, at, spin, state, MappingProxyType(joints))


def pose_of(check: Check, at: Pose, spin: float) -> PoseCheck:
    """The same of the rig of a check, by what it has found of the joints.

    Of the things near the shaft those are asked that it touches, or comes nearer to than wanted,
    somewhere in the travel; none where the mesh file of one has gone since the check.
    """
    rooms = {joint: found.room for joint, found in check.joints.items()}
    now = posed(check.rig, check.derivation.vehicle, rooms, at, spin)
    if not now.reached:
        return now
    try:
        near = check.found.neighbours
    except MeshError:  # whoever moves an axle by hand is not to be stopped at every step by a file
        return now
    return replace(now, surroundings=near.at(at))


def joint_turns(state: TurnState) -> dict[Joint, tuple[float, float]]:
    """Bend and spin (rad) of every joint of one turned pose, from the output to the pinion."""
    return {joint: (float(bend), float(spin)) for joint, (bend, spin) in state.turns.items()}
