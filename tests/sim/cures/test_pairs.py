"""Pairs of remedies: no grid of doses has a cheaper one, and no glance refuses what would do."""

from collections.abc import Sequence
from itertools import product
from math import inf
from pathlib import Path

import numpy as np
import pytest

from geometry.errors import BindpointError
from sim.assessment import Assessor
from sim.assessment.limits import Limits
from sim.cures import find_cures, weights
from sim.cures.pairs import cheapest, cheapest_pairs
from sim.cures.remedies.double_cardan import DoubleCardan
from sim.cures.remedies.heights import OutputDrop
from sim.cures.remedies.longer_shaft import LongerShaft
from sim.cures.remedies.pinion import PinionTurn
from sim.cures.remedies.slip import LongerSlip, ResetSlip
from sim.cures.remedies.slip_in_shaft import SlipInShaft
from sim.cures.remedies.travel import BumpStops, LimitStraps
from sim.cures.remedies.wrap import AntiWrapBar
from sim.cures.remedies.yokes import DeepThroat
from sim.cures.remedy import Dose, Remedy
from sim.cures.together import Grid
from sim.cures.trial import Bench, Goal, benches
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.demos import load_demo

WAGON, GOAT, MARSH, SCOUT = (
    "long-legged-trail-wagon",
    "goat-path-buggy",
    "marsh-runner",
    "heather-moor-scout",
)


class Few(Bench):
    """A bench with every so manyeth dose, for a grid small enough to be tried whole."""

    def __init__(self, remedy: Remedy, rig: Rig, assessor: Assessor, step: int) -> None:
        super().__init__(remedy, rig, assessor.assess(rig), assessor)
        self.series: Sequence[Sequence[Dose]] = tuple(s[step - 1 :: step] for s in self.series)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "one", "other"),
    [
        (WAGON, PinionTurn(), LimitStraps()),
        (WAGON, PinionTurn(), OutputDrop()),
        (WAGON, LimitStraps(), DeepThroat()),
        (GOAT, PinionTurn(), LongerSlip()),
        (MARSH, OutputDrop(), BumpStops()),
    ],
    ids=lambda it: getattr(it, "code", None),
)
def test_no_two_doses_of_the_grid_cost_less(name: str, one: Remedy, other: Remedy) -> None:
    """Every pair of doses swept, against the search."""
    rig, assessor, by = load_demo(name), Assessor(), weights()
    first, second = (Few(remedy, rig, assessor, 4) for remedy in (one, other))
    if not second.series[0]:
        second = Few(other, rig, assessor, 1)
    goal, least = Goal("clear"), inf
    for series, more in product(first.series, second.series):
        grid = Grid(first, second, series, more)
        for row, column in product(range(len(series)), range(len(more))):
            try:
                both = other.applied(one.applied(rig, series[row]), more[column])
                works = goal.met(assessor.assess(both))
            except BindpointError:
                continue
            if works:
                least = min(least, grid.price(row, column, by))
    found = cheapest(first, second, goal, by)
    assert (found is None) == (least == inf)
    if found is not None:
        assert by.price(found) == pytest.approx(least, abs=1e-12)


@pytest.mark.slow
@pytest.mark.parametrize("name", [WAGON, GOAT, MARSH, SCOUT])
def test_a_glance_never_promises_less_than_a_sweep_finds(name: str) -> None:
    """Margins and slip of pairs put together without a new rig, against the sweep of that rig."""
    rig, assessor = load_demo(name), Assessor()
    before = assessor.assess(rig)
    rng = np.random.default_rng(3)
    seconds = (LimitStraps(), BumpStops(), ResetSlip(), LongerSlip(), OutputDrop(), LongerShaft())
    firsts = (
        PinionTurn(),
        OutputDrop(),
        AntiWrapBar(),
        DoubleCardan(),
        ResetSlip(),
        SlipInShaft(),
        LongerSlip(),
    )
    compared, build = 0, False
    for one, other in product(firsts, seconds):
        first, second = (Bench(remedy, rig, before, assessor) for remedy in (one, other))
        if one is other or not (first.series and second.series):
            continue
        build = not build
        rows, columns = (b.series[int(rng.integers(len(b.series)))] for b in (first, second))
        grid = Grid(first, second, rows, columns)
        row, column = int(rng.integers(len(rows))), int(rng.integers(len(columns)))
        best = grid.at_best((row, column), (_never, _always)[build])
        try:
            both = other.applied(one.applied(rig, rows[row]), columns[column])
            true = assessor.assess(both)
        except BindpointError:
            continue
        if best is None or not (true.reaches and best.reaches):
            assert best is None or not true.reaches
            continue
        compared += 1
        for joint, margin in true.margins.items():
            assert best.margins[joint] >= margin - 1e-7, (one.code, other.code)
        assert best.closes_left >= true.closes_left - 1e-4, (one.code, other.code)
        assert best.opens_left >= true.opens_left - 1e-4, (one.code, other.code)
        assert best.least >= true.least - 1e-4
    assert compared > 12


def _never(_found: Limits) -> bool:
    return False


def _always(_found: Limits) -> bool:
    return True


@pytest.mark.slow
def test_a_dear_remedy_goes_into_a_pair_that_is_cheaper(tmp_path: Path) -> None:
    """Where travel is dear, a strap that does alone is let out again by a second remedy."""
    place = tmp_path / "mine.toml"
    place.write_text(
        "travel = 40.0\n[longer-slip]\nparts = 90\nhours = 0\n"
        "[slip-in-shaft]\nparts = 90\nhours = 0\n",
        "utf-8",
    )
    found = find_cures(load_demo(GOAT), weights(place))
    first = found.cures[0]
    assert len(first.trials) == 2
    straps = [t for t in first.trials if t.remedy.code == "limit-straps"]
    alone = next(
        cure
        for cure in found.cures
        if cure.works and [trial.remedy.code for trial in cure.trials] == ["limit-straps"]
    )
    assert first.score < alone.score
    assert all(t.case.dose.size < alone.trials[0].case.dose.size for t in straps)
    assert all(len(c.trials) == 1 or c.score < alone.score for c in found.cures)


def test_a_stop_that_leaves_nothing_to_take_is_no_remedy() -> None:
    """An axle that rides on its bump stops: there is not a single dose of longer ones."""
    rig = changed(load_demo(GOAT), {"travel.bump": "0 in"})
    assessor = Assessor()
    assert Bench(BumpStops(), rig, assessor.assess(rig), assessor).series == ()


@pytest.mark.slow
def test_the_pinion_is_not_turned_under_a_head_that_aims_it() -> None:
    """With a turn as the best thing besides a head, and both for nothing, they are no pair."""
    rig = changed(load_demo(WAGON), {"wanted.bend": "4 deg"})
    assessor = Assessor()
    before = assessor.assess(rig)
    on = benches((PinionTurn(), DoubleCardan()), rig, before, assessor)
    assert cheapest_pairs(on, Goal("close"), weights(), inf) == []
    assert cheapest(on["double-cardan-head"], on["pinion-turn"], Goal("close"), weights())
