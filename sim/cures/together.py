"""Two remedies on a grid of doses: what each pair of doses costs, and whether it may do at all."""

from collections.abc import Callable, Sequence

import numpy as np

from geometry.errors import BindpointError
from sim.assessment.glance import Glance
from sim.assessment.limits import Limits
from sim.cures.ranking import Weights
from sim.cures.remedy import Dose, Trial
from sim.cures.trial import Bench, Goal
from sim.derive import vehicle_of
from sim.rig import Rig
from sim.vehicle import Vehicle


class Grid:
    """Doses of a first remedy (rows) and, in the rig that it leaves, of a second (columns)."""

    def __init__(
        self, first: Bench, second: Bench, rows: Sequence[Dose], columns: Sequence[Dose]
    ) -> None:
        self.first, self.second, self.rows, self.columns = first, second, rows, columns
        self.base = vehicle_of(first.rig)
        self._best: dict[tuple[int, int, Goal], Limits | None] = {}
        self._row_sensible: dict[int, bool] = {}
        self._seen: dict[tuple[int, int], tuple[Rig, Vehicle, Glance] | None] = {}

    def price(self, row: int, column: int, by: Weights) -> float:
        """Cost of both doses by the weights; infinite where one of them cannot be."""
        one, two = self.first.made(self.rows[row]), self.second.made(self.columns[column])
        if one is None or two is None:
            return np.inf
        takes = self.first.cost(self.rows[row], by) + self.second.cost(self.columns[column], by)
        return takes + by.lost(self.first.rig, one[0], two[0])

    def share(self, row: int, column: int) -> float:
        """How much of both remedies it takes, each as a share of its largest dose."""
        return _share(self.first, self.rows[row]) + _share(self.second, self.columns[column])

    def may(self, row: int, column: int, goal: Goal) -> bool:
        """Whether a glance leaves hope."""
        if (row, column, goal) not in self._best:
            self._best[row, column, goal] = self.at_best(row, column, goal.met)
        best = self._best[row, column, goal]
        return best is not None and goal.met(best)

    def trials(self, row: int, column: int, goal: Goal) -> tuple[Trial, Trial] | None:
        """Both remedies with their sweeps, where they meet the goal together."""
        one = self.first.made(self.rows[row])
        if one is None:
            return None
        assessor, dose = self.first.assessor, self.columns[column]
        made = Bench(self.second.remedy, one[0], self.first.before, assessor).made(dose)
        after = None if made is None else assessor.could(made[0])
        if after is None or not goal.met(after):
            return None
        first = self.first.trial(self.rows[row])
        if first is None:
            return None
        bench = Bench(self.second.remedy, one[0], first.case.after, assessor)
        second = bench.trial(dose)
        return None if second is None else (first, second)

    def at_best(self, row: int, column: int, enough: Callable[[Limits], bool]) -> Limits | None:
        """No less than what a sweep of both doses would find; None where they cannot be so.

        enough : whether it is worth building joints to know it better.
        """
        one, two = self.first.made(self.rows[row]), self.second.made(self.columns[column])
        if one is None or two is None or not self._sensible(row, one[0]):
            return None
        assessor, cell = self.first.assessor, (row, column)
        try:
            if cell not in self._seen:
                made = self._composed(one, two) or self._really(one[0], self.columns[column])
                self._seen[cell] = (*made, assessor.glance(made[1]))
            seen = self._seen[cell]
            return None if seen is None else assessor.at_best(*seen, enough)
        except BindpointError:
            self._seen[cell] = None
            return None

    def _sensible(self, row: int, cured: Rig) -> bool:
        """Whether the second remedy makes sense where the first was done."""
        if row not in self._row_sensible:
            ways = {dose.way for series in self.second.remedy.doses(cured) for dose in series}
            self._row_sensible[row] = self.columns[0].way in ways
        return self._row_sensible[row]

    def _really(self, cured: Rig, dose: Dose) -> tuple[Rig, Vehicle]:
        rig = self.second.remedy.applied(cured, dose)
        return rig, vehicle_of(rig)

    def _composed(
        self, one: tuple[Rig, Vehicle], two: tuple[Rig, Vehicle]
    ) -> tuple[Rig, Vehicle] | None:
        """Joints and vehicle with both, put together without a new rig; None where it takes one."""
        (parts, vehicle), (_, changed) = one, two
        both = self.second.remedy.effect.added(vehicle, self.base, changed)
        return None if both is None else (parts, both)


def _share(bench: Bench, dose: Dose) -> float:
    largest = max(each.size for series in bench.series for each in series)
    return dose.size / largest if largest > 0.0 else 0.0
