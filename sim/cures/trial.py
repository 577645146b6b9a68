"""Doses of a remedy on a rig, each made once, glanced at and swept only where it may do."""

from abc import ABC, abstractmethod
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property, partial
from math import inf
from typing import Generic, TypeVar

from geometry.errors import BindpointError
from sim.assessment import Assessment, Assessor
from sim.assessment.glance import Glance
from sim.assessment.limits import Limits
from sim.cures.own_joints import with_own_joints
from sim.cures.ranking import Weights
from sim.cures.remedy import FELT, Case, Dose, Item, Remedy, Trial
from sim.derive import vehicle_of
from sim.finders import stopped_beside
from sim.findings import ORDER, Verdict
from sim.rig import Rig
from sim.vehicle import Vehicle


@dataclass(frozen=True)
class Goal:
    """What is aimed at.

    Attributes
    ----------
    verdict : "clear" with the reserve wanted, or "close" where nothing gets there.
    within_readings : whether the travel has to stay within the heights the suspension was read at.
        Where something else is wrong as well it does not: a remedy is judged by what it does,
        and whoever shows it says that some of it is only extrapolated.
    share : of the reserves wanted, that is enough; less than all of it asks for no gap either.
    beside : whether what stops the shaft besides counts too; not for a remedy that is not for it.
    """

    verdict: Verdict
    within_readings: bool = False
    share: float = 1.0
    beside: bool = True

    def met(self, found: Limits) -> bool:
        """Whether this is good enough."""
        if self.share < 1.0:
            found = replace(
                found,
                reserve=self.share * found.reserve,
                slip_reserve=self.share * found.slip_reserve,
                tight=(),
            )
        return reaches(found.verdict if self.within_readings else found.held, self.verdict)

    def reached(self, found: Assessment) -> bool:
        """Whether a sweep came to this, and nothing stops the shaft besides."""
        return self.met(found) and not (self.beside and stopped_beside(found))


def reaches(verdict: Verdict, goal: Verdict) -> bool:
    """Whether a verdict is at least as good as another."""
    return ORDER.index(verdict) <= ORDER.index(goal)


Key = TypeVar("Key", bound=Hashable)


class Glanced(ABC, Generic[Key]):
    """Rigs that are made once and glanced at, by a dose or by several."""

    def __init__(self, assessor: Assessor) -> None:
        self.assessor = assessor
        self.made = cache(self._make)
        self._glanced = cache(self._glance)
        self._cannot: set[Key] = set()

    @abstractmethod
    def _make(self, key: Key) -> tuple[Rig, Vehicle] | None:
        """A rig, or one with its joints, and the vehicle; None where they cannot be."""

    def _glance(self, key: Key) -> tuple[Rig, Vehicle, Glance] | None:
        made = self.made(key)
        return None if made is None else (*made, self.assessor.glance(made[1]))

    def at_best(self, key: Key, enough: Callable[[Limits], bool]) -> Limits | None:
        """No less than what a sweep would find; None where it cannot be so.

        enough : whether it is worth building joints to know it better.
        """
        try:
            seen = None if key in self._cannot else self._glanced(key)
            return None if seen is None else self.assessor.at_best(*seen, enough)
        except BindpointError:
            self._cannot.add(key)
            return None


class Bench(Glanced[Dose]):
    """One remedy on one rig."""

    def __init__(self, remedy: Remedy, rig: Rig, before: Assessment, assessor: Assessor) -> None:
        super().__init__(assessor)
        self.remedy, self.rig, self.before = remedy, rig, before
        self.series: Sequence[Sequence[Dose]] = tuple(
            tuple(doses) for doses in remedy.doses(rig) if doses
        )
        self.trial, self._bill = cache(self._tried), cache(self._billed)

    def _make(self, dose: Dose) -> tuple[Rig, Vehicle] | None:
        try:
            cured = with_own_joints(self.rig, self.remedy.applied(self.rig, dose))
            return cured, vehicle_of(cured)
        except BindpointError:
            return None

    def _billed(self, dose: Dose) -> tuple[Item, ...] | None:
        made = self.made(dose)
        return None if made is None else self.remedy.bill(self.rig, dose, made[0])

    def cost(self, dose: Dose, by: Weights) -> float:
        """Parts and hours of a dose, without the travel it gives up; inf where it cannot be."""
        bill = self._bill(dose)
        return inf if bill is None else by.of(bill)

    def least_cost(self, by: Weights) -> float:
        """What the least of its doses costs."""
        firsts = (self.cost(series[0], by) for series in self.series)
        return min(firsts, default=inf)

    def _tried(self, dose: Dose) -> Trial | None:
        """The dose with its sweep; None where the vehicle or the parts cannot be so."""
        made = self.made(dose)
        after = None if made is None else self.assessor.could(made[0])
        if made is None or after is None:
            return None
        return Trial(self.remedy, Case(self.rig, dose, made[0], self.before, after))

    @cached_property
    def lets_go(self) -> bool:
        """Whether the largest of its doses leaves nothing besides that stops the shaft."""
        trials = (self.trial(series[-1]) for series in self.series)
        return any(trial and not stopped_beside(trial.case.after) for trial in trials)

    def works(self, dose: Dose, goal: Goal) -> bool:
        """Whether a dose is enough; most that are not are told at a glance."""
        best = self.at_best(dose, goal.met)
        if best is None or not goal.met(best):
            return False
        trial = self.trial(dose)
        return trial is not None and goal.reached(trial.case.after)

    def most_helpful(self, doses: Sequence[Dose]) -> Trial | None:
        """The dose that leaves most to the tightest limit; None where none of them helps.

        Those that promise most are swept first, until no other can be better.
        """
        promised = {dose: self.at_best(dose, _never) for dose in doses}
        bounds = {dose: -inf if best is None else best.least for dose, best in promised.items()}
        found: dict[Dose, Trial] = {}
        most = self.before.least + FELT
        for dose in sorted(doses, key=lambda each: -bounds[each]):
            if bounds[dose] < most:
                break
            better = partial(_leaves, most)
            best = self.at_best(dose, better)
            trial = self.trial(dose) if best is not None and better(best) else None
            if trial is not None and trial.helps:
                found[dose] = trial
                most = max(most, trial.case.after.least)
        return _first_best([found[dose] for dose in doses if dose in found])


def _never(_found: Limits) -> bool:
    """Nothing is worth building a joint for."""
    return False


def _leaves(most: float, found: Limits) -> bool:
    return found.least >= most


def benches(
    remedies: Sequence[Remedy], rig: Rig, before: Assessment, assessor: Assessor
) -> Mapping[str, Bench]:
    """A bench for every remedy that makes sense on a rig, by code."""
    joints = any(remedy.for_joints for remedy in remedies) and _joints_short(before)
    made = (
        Bench(remedy, rig, before, assessor)
        for remedy in remedies
        if joints or not remedy.for_joints
    )
    return {bench.remedy.code: bench for bench in made if bench.series}


def _joints_short(before: Assessment) -> bool:
    """Whether anything but the slip is short: a joint's bend or gap, or the reach."""
    if not before.reaches or any(left < before.reserve for left in before.margins.values()):
        return True
    return any(not each.room.has_gap(each.most) for each in before.joints.values())


def _first_best(trials: Sequence[Trial]) -> Trial | None:
    return max(trials, key=lambda trial: trial.case.after.least, default=None)
