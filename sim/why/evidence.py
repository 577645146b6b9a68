"""What the rig itself says of a joint's causes: each sign yes or no, with the numbers behind it.

What cannot be computed from what the rig tells is left out, which is another thing than no.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import isfinite, radians
from typing import Final

from sim.cardan import NEEDLES_ROLL
from sim.causes.codes import ComputedCode
from sim.remark import Remark
from sim.speed import bend_limit
from sim.vehicle import Pose
from sim.whirl import SAFE_SHARE
from sim.why.case import Case

MUCH_WRAP: Final = radians(7.0)
"""Wrap one way from which springs are soft: soft ones over the axle wrap 7 to 12 deg; common
practice, no source."""

LITTLE_WRAP: Final = radians(4.0)
"""Up to which an axle hardly wraps: links 0.5 to 2 deg, stiff short leaves 2 to 4. Ordinary leaves,
4 to 7 deg, hop or do not; common practice, no source."""

ROLLS: Final = radians(1.0)
"""Bend from which needles roll for sure: at least 1/2 to 1 deg at each joint is wanted; common
practice, no source."""

HEADS_DIFFER: Final = 18.0 / 28.0
"""Share of its limit up to which a head is within it whatever its make: ordinary ones run out at 18
to 28 deg; common practice, no source."""


@dataclass(frozen=True)
class Computed:
    """One sign that the rig says.

    Attributes
    ----------
    code : which. says : whether it is so.
    why : the numbers behind it.
    """

    code: ComputedCode
    says: bool
    why: Remark


def from_the_rig(case: Case) -> tuple[Computed, ...]:
    """Everything that the rig over its travel says, of what can be told from it."""
    return tuple(each for ask in _ASKED for each in ask(case))


def at_pose(at: Pose) -> Remark:
    """A pose, to be said within a sentence."""
    return Remark("at-pose", travel=at.travel, roll=at.roll, wrap=at.wrap)


def _meeting(case: Case) -> Iterator[Computed]:
    """Whether the joint touches in its travel, or comes close to it."""
    found, joint = case.at_joint, case.joint
    if found.margin > 0.0:
        close = found.room.verdict(found.most) == "close"
        where = at_pose(found.where)
        least = (
            Remark("why-nearly", joint=joint, left=found.margin, at=where)
            if close
            else Remark("why-clears", joint=joint, left=found.margin, at=where)
        )
        yield Computed("touches-in-reach", False, least)
        yield Computed("nearly-touches", close, least)
        return
    meeting = found.meeting
    one, other = meeting.surfaces
    name, second = found.hardware.names(meeting)
    why = Remark(
        "why-touches",
        joint=joint,
        at=at_pose(found.first or found.where),
        one=one,
        other=other,
        of_one=name,
        of_other=second,
    )
    yield Computed("touches-in-reach", True, why)


def _head(case: Case) -> Iterator[Computed]:
    """Whether a double-Cardan head bends past its ball; a single cross has none."""
    head, found = case.head, case.at_joint
    if head is None:
        yield Computed("head-past-its-ball", False, Remark("why-no-head", joint=case.joint))
        return
    past = found.most >= head.limit
    if past or found.most < HEADS_DIFFER * head.limit:
        why = Remark("why-head", most=found.most, limit=head.limit, at=at_pose(found.where))
        yield Computed("head-past-its-ball", past, why)


def _slip(case: Case) -> Iterator[Computed]:
    """Whether the slip runs out of travel either way, where somebody measured it."""
    slip = case.found.swept.slip
    if isfinite(slip.has.closes):
        yield Computed(
            "slip-runs-in",
            not slip.closes_left > 0.0,
            Remark("why-slip-closes", left=slip.closes_left, at=at_pose(slip.shortest.at)),
        )
    if isfinite(slip.has.opens):
        yield Computed(
            "slip-runs-out",
            not slip.opens_left > 0.0,
            Remark("why-slip-opens", left=slip.opens_left, at=at_pose(slip.longest.at)),
        )


def _near(case: Case) -> Iterator[Computed]:
    """Whether the shaft hits something near it, where the rig tells of anything."""
    if not case.rig.surroundings:
        return
    if case.found.near_verdict == "touches":
        hit = min(case.found.near, key=lambda gap: gap.gap_mm)
        why = Remark("why-hits", thing=hit.name, part=hit.called, at=at_pose(hit.at))
        yield Computed("thing-hit", True, why)
    else:
        yield Computed("thing-hit", False, Remark("why-hits-nothing"))


def _wrap(case: Case) -> Iterator[Computed]:
    """How far the housing winds up, where somebody gave it."""
    assumed = {each.key for each in case.rig.assumed}
    if {"travel.nose_up", "travel.nose_down"} & assumed:
        return
    travel = case.found.vehicle.travel
    most = max(travel.nose_up, travel.nose_down)
    if LITTLE_WRAP < most < MUCH_WRAP:
        return
    why = Remark("why-wraps", most=most, usual=MUCH_WRAP)
    yield Computed("much-wrap", most >= MUCH_WRAP, why)


def _bends(case: Case) -> Iterator[Computed]:
    """What a joint runs at every day: too little for needles to roll, or too much for its speed."""
    bend, joint = case.bend, case.joint
    if not NEEDLES_ROLL <= bend < ROLLS:
        yield Computed(
            "needles-do-not-roll",
            bend < NEEDLES_ROLL,
            Remark("why-rolls", joint=joint, bend=bend, least=NEEDLES_ROLL),
        )
    if case.stands_still:
        yield Computed("bend-past-limit", False, Remark("why-stands-still"))
    elif case.top is not None:
        limit = bend_limit(case.top)
        yield Computed(
            "bend-past-limit",
            bend > limit,
            Remark("why-runs-at", joint=joint, bend=bend, limit=limit, speed=case.top),
        )


def _shakes(case: Case) -> Iterator[Computed]:
    """Whether it shakes on the road: its joints, or the tube near its critical speed."""
    if case.stands_still:
        yield Computed("shake-computed", False, Remark("why-stands-still"))
        return
    if case.top is None:
        return
    whirl = case.whirl
    if whirl is not None and whirl.share > SAFE_SHARE:
        yield Computed(
            "shake-computed", True, Remark("why-whirls", share=whirl.share, most=SAFE_SHARE)
        )
        return
    felt = case.felt.speed
    yield Computed(
        "shake-computed",
        felt < case.top,
        Remark("why-shakes", felt=felt if case.felt.ever else case.top, top=case.top),
    )


_ASKED: Final[tuple[Callable[[Case], Iterator[Computed]], ...]] = (
    _meeting,
    _head,
    _slip,
    _near,
    _wrap,
    _bends,
    _shakes,
)
"""Everything that is asked of a rig, in the order in which it is told."""
