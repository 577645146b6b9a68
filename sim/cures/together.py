"""Two remedies on a grid of doses: what each pair of doses costs, and whether it may do at all."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np

from sim.cures.own_joints import with_own_joints
from sim.cures.ranking import Weights
from sim.cures.remedy import Dose, Trial
from sim.cures.trial import Bench, Glanced, Goal
from sim.derive import vehicle_of
from sim.rig import Rig
from sim.vehicle import Vehicle

Cell = tuple[int, int]
"""Row and column of a grid."""


class Grid(Glanced[Cell]):
    """Doses of a first remedy (rows) and, in the rig that it leaves, of a second (columns)."""

    def __init__(
        self, first: Bench, second: Bench, rows: Sequence[Dose], columns: Sequence[Dose]
    ) -> None:
        super().__init__(first.assessor)
        self.first, self.second, self.rows, self.columns = first, second, rows, columns
        self.base = vehicle_of(first.rig)
        self._best = cache(lambda cell, goal: self.at_best(cell, goal.met))
        self._sensible = cache(self._makes_sense)

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
        best = self._best((row, column), goal)
        return best is not None and goal.met(best)

    def trials(self, row: int, column: int, goal: Goal) -> tuple[Trial, Trial] | None:
        """Both remedies with their sweeps, where they meet the goal together."""
        one = self.first.made(self.rows[row])
        if one is None:
            return None
        bench = Bench(self.second.remedy, one[0], self.first.before, self.assessor)
        second = bench.trial(self.columns[column])
        if second is None or not goal.reached(second.case.after):
            return None
        first = self.first.trial(self.rows[row])
        if first is None:
            return None
        return first, replace(second, case=replace(second.case, before=first.case.after))

    def _make(self, cell: Cell) -> tuple[Rig, Vehicle] | None:
        """Joints and vehicle with both doses, put together without a new rig where that can be."""
        row, column = cell
        one, two = self.first.made(self.rows[row]), self.second.made(self.columns[column])
        if one is None or two is None or not self._sensible(row):
            return None
        both = self.second.remedy.effect.added(one[1], self.base, two[1])
        if both is not None:
            return one[0], both
        rig = with_own_joints(one[0], self.second.remedy.applied(one[0], self.columns[column]))
        return rig, vehicle_of(rig)

    def _makes_sense(self, row: int) -> bool:
        """Whether the second remedy makes sense where the first was done."""
        one = self.first.made(self.rows[row])
        cured = self.first.rig if one is None else one[0]
        ways = {dose.way for series in self.second.remedy.doses(cured) for dose in series}
        return self.columns[0].way in ways


def _share(bench: Bench, dose: Dose) -> float:
    largest = max(each.size for series in bench.series for each in series)
    return dose.size / largest if largest > 0.0 else 0.0
