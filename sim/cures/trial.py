"""Doses of a remedy on a rig, each made once, glanced at and swept only where it may do."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import inf

from geometry.errors import BindpointError
from sim.assessment import Assessment, Assessor
from sim.assessment.glance import Glance
from sim.assessment.limits import Limits
from sim.cures.ranking import Weights
from sim.cures.remedy import FELT, Case, Dose, Item, Remedy, Trial
from sim.derive import vehicle_of
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
    """

    verdict: Verdict
    within_readings: bool = False
    share: float = 1.0

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


def reaches(verdict: Verdict, goal: Verdict) -> bool:
    """Whether a verdict is at least as good as another."""
    return ORDER.index(verdict) <= ORDER.index(goal)


class Bench:
    """One remedy on one rig."""

    def __init__(self, remedy: Remedy, rig: Rig, before: Assessment, assessor: Assessor) -> None:
        self.remedy, self.rig, self.before, self.assessor = remedy, rig, before, assessor
        self.series: Sequence[Sequence[Dose]] = tuple(
            tuple(doses) for doses in remedy.doses(rig) if doses
        )
        self._made: dict[Dose, tuple[Rig, Vehicle] | None] = {}
        self._seen: dict[Dose, Glance] = {}
        self._trials: dict[Dose, Trial | None] = {}
        self._bills: dict[Dose, tuple[Item, ...] | None] = {}

    def made(self, dose: Dose) -> tuple[Rig, Vehicle] | None:
        """The rig with this dose, and its vehicle; None where it cannot be so."""
        if dose not in self._made:
            try:
                cured = self.remedy.applied(self.rig, dose)
                self._made[dose] = cured, vehicle_of(cured)
            except BindpointError:
                self._made[dose] = None
        return self._made[dose]

    def cost(self, dose: Dose, by: Weights) -> float:
        """Parts and hours of a dose, without the travel it gives up; inf where it cannot be."""
        if dose not in self._bills:
            made = self.made(dose)
            self._bills[dose] = None if made is None else self.remedy.bill(self.rig, dose, made[0])
        bill = self._bills[dose]
        return inf if bill is None else by.of(bill)

    def least_cost(self, by: Weights) -> float:
        """What the least of its doses costs."""
        firsts = (self.cost(series[0], by) for series in self.series)
        return min(firsts, default=inf)

    def at_best(self, dose: Dose, enough: Callable[[Limits], bool]) -> Limits | None:
        """No less than what a sweep would find; None where it cannot be so.

        enough : whether it is worth building joints to know it better.
        """
        made = self.made(dose)
        if made is None:
            return None
        if dose not in self._seen:
            self._seen[dose] = self.assessor.glance(made[1])
        try:
            return self.assessor.at_best(*made, self._seen[dose], enough)
        except BindpointError:
            self._made[dose] = None
            return None

    def trial(self, dose: Dose) -> Trial | None:
        """The dose with its sweep; None where the vehicle or the parts cannot be so."""
        if dose not in self._trials:
            made = self.made(dose)
            after = None if made is None else self.assessor.could(made[0])
            self._trials[dose] = (
                Trial(self.remedy, Case(self.rig, dose, made[0], self.before, after))
                if made is not None and after is not None
                else None
            )
        return self._trials[dose]

    def works(self, dose: Dose, goal: Goal) -> bool:
        """Whether a dose is enough; most that are not are told at a glance."""
        best = self.at_best(dose, goal.met)
        if best is None or not goal.met(best):
            return False
        trial = self.trial(dose)
        return trial is not None and goal.met(trial.case.after)

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
