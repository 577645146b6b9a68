"""Every remedy tried on a rig, the smallest dose of each that works, ranked."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

from sim.around.surroundings import SurroundingGap
from sim.assessment import Assessment, Assessor
from sim.bars.result import likely_of
from sim.cures.pairs import Grids, cheapest_pairs, furthest
from sim.cures.ranking import Weights, weights
from sim.cures.remedies import REMEDIES
from sim.cures.remedy import FELT, Trial
from sim.cures.search import each_smallest, smallest
from sim.cures.trial import Bench, Goal, benches
from sim.cures.worse import made_worse
from sim.finders import stopped_beside
from sim.findings import Finding, Verdict
from sim.progress import Progress, silent
from sim.remark import Remark
from sim.rig import Rig

WITHIN_READINGS = tuple(remedy for remedy in REMEDIES if remedy.takes_travel)
"""What is tried where nothing is wrong but that the travel goes beyond what was read."""


@dataclass(frozen=True)
class Cure:
    """Something that can be done, alone or with a second remedy.

    Attributes
    ----------
    trials : one, or two together: the second in the rig that the first left.
    score : cost by the weights; less is offered first.
    works : whether it gets as far as was wanted. Where `after` goes beyond the readings of the
        suspension that rests on the axle going straight on there, and has to be said. Nothing works
        that leaves the shaft hitting something near it, or that cannot be built.
    chance : that it still touches or runs out, of everything that may be off; None where nobody
        asked, see `sim.cures.sure`.
    """

    trials: tuple[Trial, ...]
    score: float
    works: bool
    chance: float | None = None

    @property
    def holds(self) -> bool:
        """Whether it works, and on next to all trucks that measure like this one."""
        return self.works and (self.chance is None or likely_of(self.chance) == "clear")

    @property
    def rig(self) -> Rig:
        """The cured rig."""
        return self.trials[-1].case.cured

    @property
    def builds(self) -> frozenset[str]:
        """Key paths of numbers that the shop builds with it, so that nobody measured them."""
        return frozenset[str]().union(*(trial.remedy.builds for trial in self.trials))

    @property
    def before(self) -> Assessment:
        """What the rig came to as it was."""
        return self.trials[0].case.before

    @property
    def after(self) -> Assessment:
        """What it comes to cured."""
        return self.trials[-1].case.after

    @property
    def near(self) -> tuple[SurroundingGap, ...]:
        """What the shaft then touches, or comes nearer to than is wanted."""
        return self.after.short_of_clearance

    @cached_property
    def beside(self) -> tuple[Finding, ...]:
        """What then stops the shaft, besides all that a remedy is for."""
        return stopped_beside(self.after)

    @property
    def stops(self) -> bool:
        """Whether the shaft then hits something near it, or is stopped by something else."""
        return bool(self.beside) or any(gap.touches for gap in self.near)

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of its remedies."""
        return tuple(trial.remedy.code for trial in self.trials)

    @property
    def says(self) -> tuple[Remark, ...]:
        """What to do, by remedy."""
        return tuple(trial.remedy.says(trial.case) for trial in self.trials)

    @property
    def costs(self) -> tuple[tuple[Remark, ...], ...]:
        """What else it takes, by remedy."""
        return tuple(trial.remedy.costs(trial.case) for trial in self.trials)

    @property
    def worse(self) -> tuple[Remark, ...]:
        """What all of it together makes worse."""
        first, last = self.trials[0].case, self.trials[-1].case
        return tuple(made_worse(replace(last, rig=first.rig, before=first.before)))

    @property
    def ends_close(self) -> bool:
        """Whether nothing touches with it, though less room is left than was wanted."""
        return self.after.held == "close" and not self.stops

    @property
    def takes_travel(self) -> bool:
        """Whether it gives up any of the travel."""
        return any(trial.remedy.takes_travel for trial in self.trials)


@dataclass(frozen=True)
class Cures:
    """All that can be done about a rig.

    Attributes
    ----------
    rig, before : what was asked, and what it comes to.
    goal : what was aimed at: "clear" with the reserve wanted, or "close" where nothing gets there.
    cures : those that work first, the cheapest first; see `in_order`.
    weights : what they were ranked by.
    without : codes of the remedies that were ruled out.
    tried : codes of the remedies that make sense here.
    useless : codes of those among them that do not help, alone or in a pair.
    chance : that it touches or runs out as it is; None where nobody asked.
    """

    rig: Rig
    before: Assessment
    goal: Verdict
    cures: tuple[Cure, ...]
    weights: Weights
    tried: tuple[str, ...]
    useless: tuple[str, ...]
    without: tuple[str, ...] = ()
    chance: float | None = None

    @property
    def near(self) -> tuple[SurroundingGap, ...]:
        """What the shaft touches as it is, or comes nearer to than is wanted."""
        return self.before.short_of_clearance

    @cached_property
    def beside(self) -> tuple[Finding, ...]:
        """What stops the shaft as it is, besides all that a remedy is for."""
        return stopped_beside(self.before)

    @property
    def stops(self) -> bool:
        """Whether the shaft hits something near it as it is, or is stopped by something else."""
        return bool(self.beside) or any(gap.touches for gap in self.near)

    @property
    def all_travel_kept(self) -> int | None:
        """Place of the best cure that gives up no travel; None where none of them gets anywhere.

        The first of those that work; where none does, the one that leaves most.
        """
        kept = [i for i, cure in enumerate(self.cures) if not cure.takes_travel]
        works = [i for i in kept if self.cures[i].works]
        held = [i for i in kept if self.cures[i].ends_close]
        return works[0] if works else max(held, key=self._least, default=None)

    def _least(self, place: int) -> float:
        return self.cures[place].after.least


def find_cures(
    rig: Rig,
    ranked_by: Weights | None = None,
    progress: Progress | None = None,
    without: Collection[str] = (),
) -> Cures:
    """Try every remedy on a rig, but for those whose codes are in `without`.

    Raises BindpointError when the rig itself cannot be assessed.
    """
    tell = progress or silent
    by, assessor = ranked_by or weights(), Assessor()
    before = assessor.assess(rig)
    ruled_out = tuple(remedy.code for remedy in REMEDIES if remedy.code in without)
    if before.verdict == "clear":
        return Cures(rig, before, "clear", (), by, (), (), ruled_out)
    only_beyond = before.held == "clear"
    allowed = [
        remedy
        for remedy in (WITHIN_READINGS if only_beyond else REMEDIES)
        if remedy.code not in without
    ]
    on, grids = benches(allowed, rig, before, assessor), Grids()
    stopped = bool(stopped_beside(before))
    hopeless = {code for code, bench in on.items() if stopped and not bench.lets_go}
    for verdict in _goals(before):
        goal = Goal(verdict, within_readings=only_beyond)
        found = _singles(on, goal, hopeless, tell)
        cures = [
            Cure((trial,), by.price((trial,)), goal.reached(trial.case.after))
            for trials in found.values()
            for trial in trials
        ]
        tell("trying them in pairs", 0.8)
        cheapest = min((cure.score for cure in cures if cure.works), default=inf)
        pairs = cheapest_pairs(on, goal, by, cheapest, grids, hopeless=hopeless)
        cures += [Cure(pair, by.price(pair), works=True) for pair in pairs]
        if any(cure.works for cure in cures) or verdict == "close":
            break
    if not only_beyond and not any(cure.works and not cure.takes_travel for cure in cures):
        tell("trying without giving up travel", 0.88)
        kept = {code: bench for code, bench in on.items() if not bench.remedy.takes_travel}
        pair = _furthest(kept, verdict, by, grids, hopeless)
        known = max((cure.after.least for cure in cures if not cure.takes_travel), default=-inf)
        if pair is not None and pair[-1].case.after.least > known + FELT:
            cures.append(Cure(pair, by.price(pair), goal.reached(pair[-1].case.after)))
    tell("checking what is near the shaft", 0.95)
    cures = [replace(cure, works=cure.works and not cure.stops) for cure in cures]
    ordered = in_order(cures)
    return Cures(
        rig,
        before,
        verdict,
        ordered,
        by,
        tuple(found),
        tuple(code for code in found if not any(code in cure.codes for cure in ordered)),
        ruled_out,
    )


def in_order(cures: Iterable[Cure]) -> tuple[Cure, ...]:
    """Those that hold first, then those that work on some trucks only; the cheapest of each first.

    Of several that cost the same, the one that leaves most.
    """

    def order(cure: Cure) -> tuple[bool, bool, float, float]:
        return not cure.holds, not cure.works, cure.score, -cure.after.least

    return tuple(sorted(cures, key=order))


SHARES = (0.5, 0.25, 0.75)
"""Shares of the reserves wanted that a pair is looked for, where none gets to all of them: half of
it first, then a quarter or three."""


def _furthest(
    on: Mapping[str, Bench],
    aimed_at: Verdict,
    by: Weights,
    grids: Grids,
    hopeless: Collection[str],
) -> tuple[Trial, Trial] | None:
    """The cheapest pair that gets to all that was aimed at; else the one that gets the furthest.

    Which two remedies those are is told by the share of the reserves that a pair gets to.
    """

    def one(goal: Goal) -> tuple[Trial, Trial] | None:
        pairs = cheapest_pairs(on, goal, by, inf, grids, most_offered=1, hopeless=hopeless)
        return next(iter(pairs), None)

    whole = one(Goal(aimed_at))
    if whole is not None or aimed_at == "close":
        return whole
    half, quarter, most = SHARES
    found = one(Goal("clear", share=half))
    better = one(Goal("clear", share=most if found is not None else quarter))
    found = better or found or one(Goal("close"))
    if found is None:
        return None
    first, second = (on[trial.remedy.code] for trial in found)
    return furthest(first, second, grids) or found


def _goals(before: Assessment) -> tuple[Verdict, ...]:
    """What to aim at: the reserve wanted, else that nothing touches."""
    return ("clear",) if before.verdict == "close" else ("clear", "close")


def _singles(
    on: Mapping[str, Bench], goal: Goal, hopeless: Collection[str], tell: Progress
) -> dict[str, list[Trial]]:
    """The smallest dose of each remedy that makes sense here, of some each way; none: no help.

    hopeless : codes of those that leave the shaft stopped by something besides, which then does not
        count for them.
    """
    found: dict[str, list[Trial]] = {}
    for number, (code, bench) in enumerate(on.items()):
        tell(f"trying {code.replace('-', ' ')}", 0.8 * number / len(on))
        wanted = replace(goal, beside=code not in hopeless)
        if bench.remedy.each_way:
            found[code] = each_smallest(bench, wanted)
        else:
            least = smallest(bench, wanted)
            found[code] = [] if least is None else [least]
    return found


__all__ = ["REMEDIES", "Cure", "Cures", "find_cures"]
