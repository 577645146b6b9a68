"""Two remedies on a grid of doses: what each pair of doses costs, and whether it may do at all."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import isfinite

import numpy as np

from geometry.errors import BindpointError
from sim.assessment.glance import Glance
from sim.assessment.limits import Limits
from sim.cures.ranking import Weights
from sim.cures.remedy import Dose, Trial
from sim.cures.trial import Bench, Goal
from sim.derive import vehicle_of
from sim.rig import Rig
from sim.vehicle import Slip, TravelRegion, Vehicle


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
        if "travel" not in self.first.remedy.changes | self.second.remedy.changes:
            return takes
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
        did, does = self.first.remedy.changes, self.second.remedy.changes
        (parts, vehicle), (other, changed) = one, two
        if "line" in does or ("joints" in does and did & {"joints", "line"}):
            return None
        if "output" in does and vehicle.section is not None:
            return None
        if does & {"output", "slip"} and self.base.slip.at == "output":
            return None  # the joint slides along
        if "joints" in does:
            parts = other
        if "travel" in does:
            vehicle = replace(vehicle, travel=_both(vehicle.travel, changed.travel))
        if "output" in does:
            vehicle = _moved(vehicle, changed.p_C_output - self.base.p_C_output, "slip" in does)
        elif "slip" in does:
            was, now = self.base.slip, changed.slip
            vehicle = _slipped(vehicle, now.closes - was.closes, now.opens - was.opens)
        return parts, vehicle


def _share(bench: Bench, dose: Dose) -> float:
    largest = max(each.size for series in bench.series for each in series)
    return dose.size / largest if largest > 0.0 else 0.0


def _both(one: TravelRegion, other: TravelRegion) -> TravelRegion:
    """The travel that two remedies leave, each of which takes some away."""
    return replace(
        one,
        bump=min(one.bump, other.bump),
        droop=min(one.droop, other.droop),
        roll=min(one.roll, other.roll),
        nose_up=min(one.nose_up, other.nose_up),
        nose_down=min(one.nose_down, other.nose_down),
        wrap_at_droop=max(one.wrap_at_droop, other.wrap_at_droop),
    )


def _moved(vehicle: Vehicle, by: np.ndarray, same_shaft: bool) -> Vehicle:
    """A vehicle with its output moved, with the same shaft in it or one made anew."""
    p_C_output = vehicle.p_C_output + by
    was = float(np.linalg.norm(vehicle.p_A_pinion - vehicle.p_C_output))
    now = float(np.linalg.norm(vehicle.p_A_pinion - p_C_output))
    moved = replace(vehicle, p_C_output=p_C_output)
    return _slipped(moved, now - was, was - now) if same_shaft else moved


def _slipped(vehicle: Vehicle, closes: float, opens: float) -> Vehicle:
    """A vehicle whose slip has this much more left, mm."""
    slip = vehicle.slip
    left = _more(slip.closes, closes), _more(slip.opens, opens)
    return replace(vehicle, slip=Slip(slip.at, *left))


def _more(has: float, by: float) -> float:
    """What a slip has after a change; what nobody measured stays unknown."""
    return max(0.0, has + by) if isfinite(has) else has
