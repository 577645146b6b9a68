"""The smallest dose of a remedy that works, found by trying."""

from collections.abc import Callable, Iterator, Sequence
from math import inf

from sim.cures.remedy import Dose, Trial
from sim.cures.trial import Bench, Goal

STRIDE = 4
"""Every so many doses are tried first; what lies before the first that works is then halved."""


def each_smallest(bench: Bench, goal: Goal) -> list[Trial]:
    """The smallest dose of each way that gets as far as `goal`; else the best of them all.

    Of ways that go on from one another (one joint, then two) only those that need no more than
    they have: none goes on from one that works.
    """
    working: list[Trial] = []
    for series in bench.series:
        here = set(bench.remedy.covers(series[0].way))
        if any(set(bench.remedy.covers(trial.case.dose.way)) <= here for trial in working):
            continue
        for dose in _in_series(lambda each: bench.works(each, goal), series, inf):
            trial = bench.trial(dose) if bench.works(dose, goal) else None
            working += [] if trial is None else [trial]
    if working:
        return working
    best = smallest(bench, goal)
    return [] if best is None else [best]


def smallest(bench: Bench, goal: Goal) -> Trial | None:
    """The smallest dose that gets at least as far as `goal`; the best there is where none does.

    None where nothing helps at all; where only the readings are gone beyond there is no more or
    less of that, and the best is not asked for.
    """
    asked: list[Dose] = []
    enough: list[Trial] = []
    for series in bench.series:
        least = min((trial.case.dose.size for trial in enough), default=inf)
        for dose in _in_series(lambda each: bench.works(each, goal), series, least):
            asked.append(dose)
            trial = bench.trial(dose) if bench.works(dose, goal) else None
            if trial is not None:
                enough.append(trial)
    if enough:
        return min(enough, key=lambda trial: (trial.case.dose.size, -trial.case.after.least))
    return None if goal.within_readings else bench.most_helpful(asked)


def _in_series(
    works: Callable[[Dose], bool], series: Sequence[Dose], least: float
) -> Iterator[Dose]:
    """Try the doses of a series one after the other until one works, or gets as large as `least`.

    None is left out, since a remedy may work over a few doses only: a longer tube that stops the
    slip from parting soon makes it bottom. Most are told not to work at a glance.
    """
    for dose in series:
        if dose.size >= least:
            return
        yield dose
        if works(dose):
            return


def strided(count: int) -> list[int]:
    """Places 0 ... count - 1 at a stride, the last among them."""
    places = [*range(STRIDE - 1, count, STRIDE)]
    return places if count - 1 in places else [*places, count - 1]
