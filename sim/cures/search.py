"""The smallest dose of a remedy that works, found by trying."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from geometry.errors import BindpointError
from sim.cures.outcome import Assessor, Outcome
from sim.cures.remedy import Case, Dose, Remedy
from sim.findings import ORDER, Verdict
from sim.rig import Rig

STRIDE = 4
"""Every so many doses are tried first; what lies before the first that works is then halved."""


@dataclass(frozen=True)
class Trial:
    """A remedy tried at one dose.

    Attributes
    ----------
    remedy, case : what was done, and what came of it.
    """

    remedy: Remedy
    case: Case

    @property
    def verdict(self) -> Verdict:
        """What the rig comes to with it."""
        return self.case.after.verdict

    @property
    def helps(self) -> bool:
        """Whether the tightest thing has more left than before."""
        return self.case.after.least > self.case.before.least + _FELT


_FELT = 0.02
"""Share of the reserve. Less than that is within the program's own rounding."""


def tried(
    remedy: Remedy, rig: Rig, before: Outcome, dose: Dose, assessor: Assessor
) -> Trial | None:
    """Try one dose; None where the vehicle or the parts cannot be so."""
    try:
        cured = remedy.applied(rig, dose)
    except BindpointError:
        return None
    after = assessor.could(cured)
    return None if after is None else Trial(remedy, Case(rig, dose, cured, before, after))


def smallest(
    remedy: Remedy, rig: Rig, before: Outcome, goal: Verdict, assessor: Assessor
) -> Trial | None:
    """The smallest dose that gets at least as far as `goal`; the best there is where none does.

    None where nothing helps at all.
    """
    found = [
        trial
        for series in remedy.doses(rig)
        for trial in _in_series(remedy, rig, before, goal, assessor, series)
    ]
    enough = [trial for trial in found if reaches(trial.verdict, goal)]
    if enough:
        return min(enough, key=lambda trial: (trial.case.dose.size, -trial.case.after.least))
    helping = [trial for trial in found if trial.helps]
    return max(helping, key=lambda trial: trial.case.after.least, default=None)


def reaches(verdict: Verdict, goal: Verdict) -> bool:
    """Whether a verdict is at least as good as another."""
    return ORDER.index(verdict) <= ORDER.index(goal)


def _in_series(
    remedy: Remedy,
    rig: Rig,
    before: Outcome,
    goal: Verdict,
    assessor: Assessor,
    series: Sequence[Dose],
) -> Iterator[Trial]:
    """Try a series coarsely, then close in on its first dose that works."""
    met: dict[int, Trial | None] = {}

    def at(place: int) -> Trial | None:
        if place not in met:
            met[place] = tried(remedy, rig, before, series[place], assessor)
        return met[place]

    def works(place: int) -> bool:
        trial = at(place)
        return trial is not None and reaches(trial.verdict, goal)

    places = [*range(STRIDE - 1, len(series), STRIDE)]
    if len(series) - 1 not in places:
        places.append(len(series) - 1)
    low = -1
    for place in places:
        if works(place):
            _close_in(works, low, place)
            break
        low = place
    yield from (trial for trial in met.values() if trial is not None)


def _close_in(works: Callable[[int], bool], low: int, high: int) -> None:
    """Try the doses between one that does not work and one that does, until they are neighbours."""
    while high - low > 1:
        middle = (low + high) // 2
        if works(middle):
            high = middle
        else:
            low = middle


@dataclass(frozen=True)
class Pair:
    """Two remedies together, the second in the rig that the first left."""

    first: Trial
    second: Trial


def pairs(trials: Sequence[Trial], goal: Verdict, assessor: Assessor) -> list[Pair]:
    """Pairs that work where no single remedy does.

    With the first at the dose that helps most, the second is brought down to the smallest that
    works; then the first, with that.
    """
    found = []
    for first, second in combinations(trials, 2):
        after = smallest(second.remedy, first.case.cured, first.case.after, goal, assessor)
        if after is None or not reaches(after.verdict, goal):
            continue
        found.append(_brought_down(first, after, goal, assessor) or Pair(first, after))
    return found


def _brought_down(first: Trial, second: Trial, goal: Verdict, assessor: Assessor) -> Pair | None:
    """The pair with the first at the smallest dose that works with the second as it is."""
    rig, dose = first.case.rig, first.case.dose
    series = next((some for some in first.remedy.doses(rig) if dose in some), ())
    for less in series:
        if less == dose:
            break
        one = tried(first.remedy, rig, first.case.before, less, assessor)
        if one is None:
            continue
        two = tried(second.remedy, one.case.cured, one.case.after, second.case.dose, assessor)
        if two is not None and reaches(two.verdict, goal):
            return Pair(one, two)
    return None
