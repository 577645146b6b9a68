"""How strong a rig's shaft is at its torque, what gives first, and what a size up would change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from geometry.errors import BindpointError
from sim.assessment import Assessor
from sim.parts.catalogue import cross_sizes
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.fitted import fitted_cross
from sim.rig.typed_joints import typed_joint
from sim.sizing import smallest_joint
from sim.sizing.joint_size import WANTED
from sim.strength import Strength, joint_load, joint_members, shaft_strength
from sim.ticket.shaft_parts import ASSUMED, JOINTS_ASSUMED, ShaftSaid, shaft_parts
from sim.ticket.slip_plan import SlipPlan
from sim.vehicle import Joint

SLIDES = (Remark("output-spline-left-out"),)
"""What strength leaves out where the yoke slides on the output."""


@dataclass(frozen=True)
class SizeUp:
    """One joint with the next size of cross and the same kinds of yoke.

    Attributes
    ----------
    joint : which one.
    size, larger : names of both crosses.
    bend : rad that either is asked at: the largest of the travel.
    holds, larger_holds : N mm in the shaft that the joint's weakest member takes at its bend.
    clear, larger_clear : rad, certified clear bend of either.
    """

    joint: Joint
    size: str
    larger: str
    bend: float
    holds: float
    larger_holds: float
    clear: float
    larger_clear: float


@dataclass(frozen=True)
class StrengthSaid:
    """Strength at the peak torque.

    Attributes
    ----------
    worst : every member with each joint at its largest bend of the travel; None without a torque.
    ride : the same at the bends of ride height.
    fits : the smallest cross of the catalogue whose joint takes the torque at its largest bend
        with the safety wanted, by joint; None where none does.
    sizes_up : what a larger cross would change, a joint each.
    missing, assumed : what is not known; what the numbers rest on.
    """

    worst: Strength | None
    ride: Strength | None
    fits: Mapping[Joint, str | None]
    sizes_up: tuple[SizeUp, ...]
    missing: tuple[Remark, ...]
    assumed: tuple[Remark, ...]

    @property
    def flags(self) -> tuple[Remark, ...]:
        """What is too weak, and what its members say of themselves."""
        if self.worst is None:
            return ()
        weakest = self.worst.weakest
        found = list(self.worst.flags)
        if weakest.safety < WANTED:
            weak = Remark("little-safety", safety=weakest.safety, wanted=WANTED)
            if weakest.safety < 1.0:
                weak = Remark("too-weak", safety=weakest.safety)
            found.insert(0, weak.about(weakest.name))
        return tuple(found)


def strength_of(
    rig: Rig,
    plan: SlipPlan,
    torque: float | None,
    worst: Mapping[Joint, float],
    ride: Mapping[Joint, float],
    assessor: Assessor,
) -> StrengthSaid:
    """Ask every member at a torque (N mm), at the largest bends of the travel and at ride (rad)."""
    steep = shaft_parts(rig, plan, worst)
    missing = steep.missing
    if plan.at == "shaft" and plan.built.engaged is None:
        missing = (
            *missing,
            Remark("for-spline", "shaft.slip.comes_apart"),
        )
    sizes = _sizes_up(rig, plan, worst, steep, assessor)
    if torque is None:
        assumed = JOINTS_ASSUMED if sizes else ()
        return StrengthSaid(None, None, MappingProxyType({}), sizes, missing, assumed)
    level = shaft_parts(rig, plan, ride)
    return StrengthSaid(
        worst=shaft_strength(steep.parts, torque),
        ride=shaft_strength(level.parts, torque),
        fits=MappingProxyType({joint: _smallest(torque, bend) for joint, bend in worst.items()}),
        sizes_up=sizes,
        missing=missing,
        assumed=(*ASSUMED, *(SLIDES if plan.at == "output" else ())),
    )


def _smallest(torque: float, bend: float) -> str | None:
    found = smallest_joint(torque, bend)
    return None if found is None else found.name


def _sizes_up(
    rig: Rig,
    plan: SlipPlan,
    worst: Mapping[Joint, float],
    said: ShaftSaid,
    assessor: Assessor,
) -> tuple[SizeUp, ...]:
    found = []
    for joint in dict.fromkeys(said.crosses):
        typed = typed_joint(rig, joint)
        size = fitted_cross(typed.cross).name
        names = [each.name for each in cross_sizes()]
        larger = names[names.index(size) + 1 :][:1]
        if not larger:
            continue
        try:
            bigger = changed(rig, {f"{typed.table}.cross": larger[0]})
            parts = shaft_parts(bigger, plan, worst)
            clear, larger_clear = (
                assessor.room(rig, joint).clear,
                assessor.room(bigger, joint).clear,
            )
        except BindpointError:  # yokes with dimensions of their own that do not go with it
            continue
        found.append(
            SizeUp(
                joint=joint,
                size=size,
                larger=larger[0],
                bend=worst[joint],
                holds=_holds(said, joint),
                larger_holds=_holds(parts, joint),
                clear=clear,
                larger_clear=larger_clear,
            )
        )
    return tuple(found)


def _holds(said: ShaftSaid, joint: Joint) -> float:
    """Torque (N mm) that the weakest member of a joint takes; dents and slips do not count."""
    asked = 1e6
    members = [
        member
        for whose, end in zip(said.crosses, said.parts.joints, strict=True)
        if whose == joint
        for member in joint_members(end, joint_load(asked, end.bend, end.trunnion.arm))
    ]
    return asked * Strength(asked, tuple(members)).weakest.safety
