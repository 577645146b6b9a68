"""The smallest dose of a remedy that works, found by trying."""

from collections.abc import Callable, Iterator, Sequence
from math import inf

from sim.cures.remedy import Dose
from sim.cures.trial import Bench, Goal, Trial

STRIDE = 4
"""Every so many doses are tried first; what lies before the first that works is then halved."""


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
    """Try a series coarsely, then close in on its first dose that works.

    Gives up where only doses above `least`, which works elsewhere, are left.
    """
    low = -1
    for place in strided(len(series)):
        if series[max(low, 0)].size > least or (low >= 0 and series[low].size >= least):
            return
        yield series[place]
        if works(series[place]):
            yield from _close_in(works, series, low, place)
            return
        low = place


def strided(count: int) -> list[int]:
    """Places 0 ... count - 1 at a stride, the last among them."""
    places = [*range(STRIDE - 1, count, STRIDE)]
    return places if count - 1 in places else [*places, count - 1]


def _close_in(
    works: Callable[[Dose], bool], series: Sequence[Dose], low: int, high: int
) -> Iterator[Dose]:
    """Try the doses between one that does not work and one that does, until they are neighbours."""
    while high - low > 1:
        middle = (low + high) // 2
        yield series[middle]
        if works(series[middle]):
            high = middle
        else:
            low = middle
