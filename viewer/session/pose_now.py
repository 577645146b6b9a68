"""What holds in one pose: bends, room, slip, where every part is. Arithmetic only, in a few ms.

The distance queries that find the exact gap take longer and are asked apart (`gap_now`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, isfinite

from geometry.contact.gap import Gap
from geometry.tolerances import TOL
from sim.check import Check
from sim.findings import ORDER, Verdict, judged, worst_of
from sim.line import TurnState, turn
from sim.pose import joint_turns
from sim.rig.generic import generic_parts
from sim.travel.oversteps import Overstep, oversteps
from sim.vehicle import Joint, Pose
from viewer.session.charts.turn_strip import here_verdict, left_at
from viewer.words.poses import pose_words
from viewer.words.reach import out_of_reach_words
from viewer.words.units import format_length, format_length_under, format_missing, left_degrees
from viewer.words.verdicts import verdict_word

OUT_OF_REACH = "OUT OF REACH"
"""Instead of a verdict where suspension and shaft cannot get to."""


@dataclass(frozen=True)
class JointNow:
    """One joint in one pose.

    Attributes
    ----------
    bend, spin : rad, of the joint itself.
    left : rad to the limit at this very spin, by `turn_strip.certified`.
    left_any : rad to the certified clear bend, which holds at every spin.
    wanted : rad, the bend that is wanted to be left.
    verdict : over a whole turn, by the bend and by the gap that are wanted.
    here : the same at this very spin.
    gap_short : what gap is wanted, as typed, where that and not the bend is short; else "".
    generic : whether generic parts stand in for some that nobody named.
    """

    bend: float
    spin: float
    left: float
    left_any: float
    wanted: float
    verdict: Verdict
    here: Verdict
    gap_short: str = ""
    generic: bool = False

    @property
    def room(self) -> str:
        """What is left over a whole turn, in words: "3.1 deg left at any turn"."""
        left = left_words(self.left_any, self.wanted)
        if not isfinite(self.left_any):
            return left
        turn = "at any turn" if self.left_any > 0.0 else "at some turn"
        return f"{left} {turn}{self.short_words}"

    @property
    def short_words(self) -> str:
        """That it is the gap that is short, to follow after other words; "" where it is not."""
        return f", gap under {self.gap_short}" if self.gap_short else ""


@dataclass(frozen=True)
class PoseNow:
    """Everything that follows at once from a pose.

    Attributes
    ----------
    at, spin : what was asked; spin (rad) of the output yoke.
    state : where every part is; None where suspension and shaft cannot reach.
    joints : from the output to the pinion; empty out of reach.
    closes_left, opens_left : mm of slip; negative past its stroke, `inf` where nobody measured it.
    slip_wanted : mm of each.
    length : mm between the joints.
    verdict : the worst of it.
    beyond : limits of the axle that the pose lies beyond.
    """

    at: Pose
    spin: float
    state: TurnState | None
    joints: Mapping[Joint, JointNow]
    closes_left: float
    opens_left: float
    length: float
    verdict: Verdict
    slip_wanted: float = 0.0
    beyond: tuple[Overstep, ...] = ()

    @property
    def tightest(self) -> Joint | None:
        """The joint with the least bend left; None out of reach."""
        return min(self.joints, key=lambda name: self.joints[name].left_any, default=None)

    @property
    def deciding(self) -> Joint | None:
        """The joint that the verdict on the joints is from; None out of reach."""
        worst = {name: ORDER.index(joint.verdict) for name, joint in self.joints.items()}
        return min(
            self.joints, key=lambda name: (-worst[name], self.joints[name].left_any), default=None
        )

    @property
    def slip_left(self) -> float:
        """The smaller of what is left to close and to open, mm."""
        return min(self.closes_left, self.opens_left)

    @property
    def word(self) -> str:
        """The verdict as a word."""
        outside = self.state is None or self.beyond
        return OUT_OF_REACH if outside else verdict_word(self.verdict, self._of_joint)

    @property
    def limit(self) -> str:
        """What decides the verdict, with its number: "11.0 deg left at the pinion joint"."""
        name = self.deciding
        if self.state is None or name is None:
            return "suspension and shaft cannot get here"
        if self.beyond:
            return out_of_reach_words(self.beyond)
        if not self._of_joint:
            return self._slip_limit()
        joint = self.joints[name]
        if joint.verdict == "touches":
            return f"{self._called(name)} joint {joint.room}"
        if not isfinite(joint.left_any):
            return joint.room
        left = left_words(joint.left_any, joint.wanted)
        return f"{left} at the {self._called(name)} joint{joint.short_words}"

    @property
    def told(self) -> str:
        """The pose and what decides in it, to stand after the word: "At 3 in droop: ..."."""
        if self.state is None or self.beyond:
            return self.says
        slip = "" if self.verdict == "touches" or not self._of_joint else self._slip()
        return f"At {pose_words(self.at)}: {self.limit}{slip}."

    @property
    def says(self) -> str:
        """The whole state in a sentence."""
        where = pose_words(self.at)
        if self.state is None:
            return f"Out of reach: suspension and shaft cannot get to {where}."
        if self.beyond:
            return f"Out of reach at {where}: {out_of_reach_words(self.beyond)}."
        touching = [name for name, joint in self.joints.items() if joint.verdict == "touches"]
        if touching:
            names = " and ".join(self._called(name) for name in touching)
            joints = "joints bind" if len(touching) > 1 else "joint binds"
            return f"The {names} {joints} at {where}."
        if self.slip_left <= 0.0:
            way = "bottoms" if self.closes_left <= 0.0 else "runs out of spline"
            return f"The slip {way} at {where}."
        slip = self._slip() if self._of_joint else ""
        return f"{self.word.capitalize()} at {where}: {self.limit}{slip}."

    @property
    def _of_joint(self) -> bool:
        """Whether the tightest joint is as bad as the whole."""
        return any(joint.verdict == self.verdict for joint in self.joints.values())

    def _called(self, name: Joint) -> str:
        return f"generic {name}" if self.joints[name].generic else name

    def _slip(self) -> str:
        return f", {format_length(self.slip_left)} of slip" if isfinite(self.slip_left) else ""

    def _slip_limit(self) -> str:
        left, closes = self.slip_left, self.closes_left <= self.opens_left
        if left > 0.0:
            room = format_length_under(left, self.slip_wanted)
            return f"{room} of slip left to {'close' if closes else 'open'}"
        return f"slip {'bottomed' if closes else 'short of spline'} by {format_missing(-left)}"


def pose_now(check: Check, at: Pose, spin: float) -> PoseNow:
    """What holds at a pose of the axle (mm, rad) with the output yoke turned to `spin` (rad)."""
    vehicle = check.derivation.vehicle
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    slip = float(state.line.slip)
    if not bool(state.line.reachable):
        return PoseNow(at, spin, None, {}, inf, inf, float("nan"), "touches")
    wanted = check.rig.wanted.slip.mm
    joints = {name: _joint_now(check, name, *bent) for name, bent in joint_turns(state).items()}
    closes, opens = vehicle.slip.closes + slip, vehicle.slip.opens - slip
    verdicts = [joint.verdict for joint in joints.values()]
    verdicts.append(judged(min(closes, opens), wanted))
    length = float(state.line.length)
    beyond = oversteps(vehicle.travel, at)
    return PoseNow(
        at, spin, state, joints, closes, opens, length, worst_of(verdicts), wanted, beyond
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
    room, wanted = check.joints[name].room, check.rig.wanted
    here = left_at(room, bend, spin)
    short = str(wanted.gap) if room.short_of(bend) == "gap" else ""
    return JointNow(
        bend,
        spin,
        float(here.left),
        room.left(bend),
        room.wanted_bend,
        room.verdict(bend),
        here_verdict(float(here.left), float(here.spare)),
        short,
        bool(generic_parts(check.rig, name)),
    )


def left_words(left: float, wanted: float = 0.0) -> str:
    """Room left at a joint (rad) in words; less than is `wanted` (rad) reads as less."""
    if not isfinite(left):
        return "no contact at any bend"
    return f"{left_degrees(left, wanted)} deg {'left' if left > 0.0 else 'too far'}"
