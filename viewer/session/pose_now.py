"""What holds in one pose: bends, room, slip, where every part is. Arithmetic only, in a few ms.

The distance queries that find the exact gap take longer and are asked apart (`gap_now`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees, inf, isfinite

import numpy as np

from geometry.gap import Gap
from geometry.tolerances import TOL
from sim.check import Check
from sim.findings import Verdict, judged, worst_of
from sim.line import TurnState, limit_by_spin, turn
from sim.pose import joint_turns
from sim.units import format_angle, format_length
from sim.vehicle import Joint, Pose
from viewer.words import pose_words


@dataclass(frozen=True)
class JointNow:
    """One joint in one pose.

    Attributes
    ----------
    bend, spin : rad, of the joint itself.
    left : rad to the touch at this very spin; negative where metal is in metal.
    left_any : rad to the certified clear bend, which holds at every spin.
    verdict : of `left_any` against the reserve wanted; touches only where a touch is seen at some
        spin.
    """

    bend: float
    spin: float
    left: float
    left_any: float
    verdict: Verdict


@dataclass(frozen=True)
class PoseNow:
    """Everything that follows at once from a pose.

    Attributes
    ----------
    at, spin : what was asked; spin (rad) of the output yoke.
    state : where every part is; None where suspension and shaft cannot reach.
    joints : from the output to the pinion; empty out of reach.
    closes_left, opens_left : mm of slip; negative past its stroke.
    length : mm between the joints.
    verdict : the worst of it.
    """

    at: Pose
    spin: float
    state: TurnState | None
    joints: Mapping[Joint, JointNow]
    closes_left: float
    opens_left: float
    length: float
    verdict: Verdict

    @property
    def tightest(self) -> Joint | None:
        """The joint with the least bend left; None out of reach."""
        return min(self.joints, key=lambda name: self.joints[name].left_any, default=None)

    @property
    def slip_left(self) -> float:
        """The smaller of what is left to close and to open, mm."""
        return min(self.closes_left, self.opens_left)

    @property
    def says(self) -> str:
        """The state in words."""
        where = pose_words(self.at)
        if self.state is None:
            return f"Out of reach: suspension and shaft cannot get to {where}."
        touching = [name for name, joint in self.joints.items() if joint.verdict == "touches"]
        if touching:
            names = " and ".join(touching)
            joints = "joints bind" if len(touching) > 1 else "joint binds"
            return f"The {names} {joints} at {where}."
        if self.slip_left <= 0.0:
            way = "bottoms" if self.closes_left <= 0.0 else "runs out of spline"
            return f"The slip {way} at {where}."
        if self.verdict == "close":
            return f"Close at {where}: {self._least()}."
        return f"Clear at {where}: {self._least()}."

    def _least(self) -> str:
        name = self.tightest
        if name is None:
            return "nothing known"
        left = self.joints[name].left_any
        room = f"{format_angle(left)} left at the {name} joint" if isfinite(left) else "no limit"
        return f"{room}, {format_length(self.slip_left)} of slip"


def pose_now(check: Check, at: Pose, spin: float) -> PoseNow:
    """What holds at a pose of the axle (mm, rad) with the output yoke turned to `spin` (rad)."""
    vehicle = check.derivation.vehicle
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    slip = float(state.line.slip)
    if not bool(state.line.reachable):
        return PoseNow(at, spin, None, {}, inf, inf, float("nan"), "touches")
    joints = {
        name: _joint_now(check, name, *bent) for name, bent in joint_turns(vehicle, state).items()
    }
    closes, opens = vehicle.slip.closes + slip, vehicle.slip.opens - slip
    verdicts = [joint.verdict for joint in joints.values()]
    verdicts.append(judged(min(closes, opens), check.rig.wanted.slip.mm))
    return PoseNow(
        at, spin, state, joints, closes, opens, float(state.line.length), worst_of(verdicts)
    )


def gap_now(check: Check, now: PoseNow, name: Joint) -> Gap | None:
    """Nearest points of one joint's bodies in this pose, exactly; some ten ms.

    None out of reach, and where the joint is bent past what any yoke bends to.
    """
    joint = now.joints.get(name)
    if joint is None or joint.bend > TOL.bend_limit:
        return None
    return check.joints[name].hardware.gap_at(joint.bend, joint.spin)


def _joint_now(check: Check, name: Joint, bend: float, spin: float) -> JointNow:
    curve = check.joints[name].curve
    here = float(limit_by_spin(curve.spin, curve.touch)(np.asarray(spin)))
    left = curve.certified_clear - bend
    verdict = judged(left, check.rig.wanted.bend.rad)
    return JointNow(bend, spin, here - bend, left, verdict)


def left_words(left: float) -> str:
    """Room left at a joint (rad) in words."""
    if not isfinite(left):
        return "no contact at any bend"
    return f"{degrees(left):.1f} deg left" if left > 0.0 else f"{-degrees(left):.1f} deg too far"
