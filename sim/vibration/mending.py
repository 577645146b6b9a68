"""What would mend a shake, each tried on the rig: from which speed it is felt before and after."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf, isfinite, pi, radians, sqrt
from typing import Final

from geometry.errors import BindpointError
from sim.cures.remedies import REMEDIES
from sim.cures.remedy import Case as Cured
from sim.cures.remedy import Dose, Remedy, RemedyCode
from sim.derive import vehicle_of
from sim.findings import ORDER
from sim.line import running, shafts
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.speed import (
    LOADS,
    TORSIONAL,
    Felt,
    best_phase,
    cancelling_phase,
    pose_under,
    speed_limit,
)
from sim.speed.felt import NOTHING
from sim.table.typed import typed_angle
from sim.vehicle import Vehicle
from sim.vibration.case import Case, bends_under, soonest

WORTH_IT: Final = 1.05
"""Times the speed from which it is felt that a cure has to raise it by, to be told."""

EVENS: Final = 1.25
"""The same of what is left at the pinion alone."""

ALIKE: Final = 0.05
"""Share by which two speeds differ that nobody tells apart."""

NO_TURN: Final = radians(1e-3)
"""Less than nobody turns ears by."""

TRIES: Final = 4
"""Doses swept over the travel until one binds no sooner than the rig as it is."""

OF_THE_LINE: Final[tuple[RemedyCode, ...]] = (
    "pinion-turn",
    "bearing-height",
    "output-drop",
    "output-and-bearing",
    "anti-wrap-bar",
    "double-cardan-head",
)
"""The remedies that change the bends of the joints, the easiest first."""


HEIGHTS: Final[frozenset[RemedyCode]] = frozenset(
    {"bearing-height", "output-drop", "output-and-bearing"}
)
"""Those after which the pinion is aimed anew where that is worth it."""

AIM: Final[RemedyCode] = "pinion-turn"


@dataclass(frozen=True)
class Mend:
    """One cure of the joints' shake.

    Attributes
    ----------
    code : of the remedy; "phase" for turning the ears.
    says : what to do. then : what to do besides. costs : what else it takes.
    cured : the rig with it.
    before, after : from which speed on it is felt, under the load that is felt soonest.
    all_before, all_after : the same of every load of steady driving.
    left_before, left_after : rad/s from which what is left at the pinion would be felt by itself.
    enough : whether it is then smooth at the speed of the symptom; None where that is not known.
    binds : whether the shaft then comes off worse over its travel than it does now.
    """

    code: str
    says: Remark
    then: Remark | None
    costs: tuple[Remark, ...]
    cured: Rig
    before: Felt
    after: Felt
    all_before: Felt
    all_after: Felt
    left_before: float
    left_after: float
    enough: bool | None
    binds: bool

    @property
    def gain(self) -> float:
        """Speed from which it is felt, over what it was."""
        return _over(self.after.speed, self.before.speed)

    @property
    def worth_it(self) -> bool:
        """Whether it is felt only from a higher speed on."""
        return self.gain > WORTH_IT

    @property
    def evens(self) -> bool:
        """Whether it takes away much of what is left at the pinion, if nothing else."""
        return _over(self.left_after, self.left_before) > EVENS


@dataclass(frozen=True)
class _Tried:
    """A dose and the rig with it.

    Attributes
    ----------
    speed, left : rad/s from which it is felt, and what is left at the pinion by itself.
    bent : rad/s from which the joints before the pinion's are felt, which no aim mends.
    keeps : whether it is felt no sooner under any other load of steady driving.
    """

    dose: Dose
    cured: Rig
    speed: float
    left: float
    bent: float
    keeps: bool


def mends(case: Case) -> tuple[Mend, ...]:
    """Every cure of the joints' shake that is worth it, those that are enough first.

    The best aim is told as well where it only evens out what is left at the pinion; a height
    with an aim only where the aim alone does less.
    """
    found = [*_by_phase(case), *(each for code in OF_THE_LINE for each in _by_remedy(case, code))]
    aim = next((mend for mend in found if mend.code == AIM), None)
    worth = [
        mend
        for mend in found
        if (mend.worth_it and not (mend.then and aim and _does_as_well(aim, mend)))
        or (mend.code == AIM and mend.evens)
    ]
    return tuple(sorted(worth, key=lambda mend: (mend.binds, not mend.worth_it, not mend.enough)))


def _does_as_well(aim: Mend, other: Mend) -> bool:
    """Whether the aim alone does as well as it does after something else."""
    return bool(aim.enough) or other.after.speed < WORTH_IT * aim.after.speed


def _by_phase(case: Case) -> Iterator[Mend]:
    """The ears turned to where they shake least under the load that is felt soonest."""
    vehicle = case.vehicle
    if vehicle.heads:
        return
    at = pose_under(vehicle.travel, vehicle.front, case.felt.load)
    axes, now = shafts(vehicle, at)
    best = best_phase(axes) if len(now) > 1 else (cancelling_phase(axes),)
    keys = ("carrier.phase", "shaft.phase")[-len(best) :]
    # Ears look alike after half a turn.
    turns = {key: typed_angle(_ears(turn)) for key, turn in zip(keys, best, strict=True)}
    front = best[0] if len(best) > 1 else None
    says = Remark("ears-turned", to=best[-1], front=front)
    yield _mend(case, "phase", says, changed(case.rig, turns))


def _ears(turn: float) -> float:
    """A turn of the ears (rad) as a rig file has it; none where it is less than it writes."""
    return turn % pi if abs(turn) > NO_TURN else 0.0


def _by_remedy(case: Case, code: RemedyCode) -> Iterator[Mend]:
    """The dose of a remedy that is enough, or does most, and binds no sooner."""
    remedy = _remedy(code)
    all_tried = list(_tried(case, remedy, case.rig))
    ranked = _ranked(case, code, all_tried)[:TRIES]
    for number, tried in enumerate(ranked, start=1):
        after = case.assessor.could(tried.cured)
        if after is None:
            continue
        binds = ORDER.index(after.held) > ORDER.index(case.found.held)
        if binds and number < len(ranked):
            continue
        made = Cured(case.rig, tried.dose, tried.cured, case.found, after)
        mend = _mend(case, code, remedy.says(made), tried.cured)
        mend = replace(mend, costs=remedy.costs(made), binds=binds)
        if code in HEIGHTS and not mend.enough:
            mend = max([mend, *_aimed(case, remedy, all_tried)], key=lambda each: each.after.speed)
        yield mend
        return


def _aimed(case: Case, remedy: Remedy, tried: Sequence[_Tried]) -> Iterator[Mend]:
    """A height and the pinion aimed anew: the least height after which an aim may be enough."""
    aim, goal = _remedy(AIM), inf if case.goal is None else case.goal
    most = max(each.bent for each in tried)
    may = [each for each in tried if each.bent >= min(goal, (1.0 - ALIKE) * most)]
    height = min(may, key=lambda each: each.dose.size)
    ranked = _ranked(case, AIM, list(_tried(case, aim, height.cured)))
    raised = case.assessor.could(height.cured)
    after = case.assessor.could(ranked[0].cured) if ranked else None
    if raised is None or after is None:
        return
    made = Cured(case.rig, height.dose, height.cured, case.found, raised)
    then = aim.says(Cured(height.cured, ranked[0].dose, ranked[0].cured, raised, after))
    mend = _mend(case, remedy.code, remedy.says(made), ranked[0].cured)
    binds = ORDER.index(after.held) > ORDER.index(case.found.held)
    yield replace(mend, then=then, costs=remedy.costs(made), binds=binds)


def _remedy(code: RemedyCode) -> Remedy:
    return next(each for each in REMEDIES if each.code == code)


def _tried(case: Case, remedy: Remedy, rig: Rig) -> Iterator[_Tried]:
    """Every dose of a remedy in a rig that can be."""
    for series in remedy.doses(rig):
        for dose in series:
            try:
                cured = remedy.applied(rig, dose)
                vehicle = vehicle_of(cured)
            except BindpointError:
                continue
            felt = soonest(vehicle, None, case.symptom.loads)
            keeps = soonest(vehicle, None, LOADS).speed >= (1.0 - ALIKE) * case.always.speed
            yield _Tried(dose, cured, felt.speed, _left(vehicle, case), _bent(vehicle, case), keeps)


def _left(vehicle: Vehicle, case: Case) -> float:
    """The shaft's speed (rad/s) from which what is left at the pinion is felt by itself."""
    poses = (pose_under(vehicle.travel, vehicle.front, load) for load in case.symptom.loads)
    most = max(running(vehicle, at).greatest_acceleration for at in poses)
    return sqrt(TORSIONAL / most) if most > NOTHING else inf


def _bent(vehicle: Vehicle, case: Case) -> float:
    """The shaft's speed (rad/s) from which the most bent joint before the pinion's is felt."""
    speeds = []
    for load in case.symptom.loads:
        *before, _ = bends_under(vehicle, load).values()
        speeds.append(speed_limit(max(before)))
    return min(speeds)


def _ranked(case: Case, code: RemedyCode, tried: Sequence[_Tried]) -> list[_Tried]:
    """What was tried, the best first: the aim that is smoothest; else the least that is enough."""
    # A cure of one load that brings the shake under another is none.
    tried = [each for each in tried if each.keeps] or tried
    most = max((each.speed for each in tried), default=0.0)
    goal = (1.0 - ALIKE) * most
    if code != AIM and case.goal is not None:
        goal = min(goal, case.goal)
    fit = [each for each in tried if each.speed >= goal]
    rest = [each for each in tried if each.speed < goal]
    fit.sort(key=lambda each: -each.left if code == AIM else each.dose.size)
    rest.sort(key=lambda each: -each.speed)
    return [*fit, *rest]


def _mend(case: Case, code: str, says: Remark, cured: Rig) -> Mend:
    vehicle = vehicle_of(cured)
    after = soonest(vehicle, case.gearing, case.symptom.loads)
    return Mend(
        code=code,
        says=says,
        then=None,
        costs=(),
        cured=cured,
        before=case.felt,
        after=after,
        all_before=case.always,
        all_after=soonest(vehicle, case.gearing, LOADS),
        left_before=_left(case.vehicle, case),
        left_after=_left(vehicle, case),
        enough=None if case.goal is None else after.speed >= case.goal,
        binds=False,
    )


def _over(after: float, before: float) -> float:
    """How many times higher a speed is; one that was never felt does not get better."""
    return after / before if isfinite(before) else 1.0
