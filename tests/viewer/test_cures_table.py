"""Cures in words and in the table: what is said agrees with the row, and every value has a head."""

import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sim.around.surroundings import SurroundingGap
from sim.assessment import Assessor
from sim.cures import Cure, Cures, weights
from sim.cures.remedies.slip import LongerSlip, ResetSlip
from sim.cures.remedies.two_piece import TwoPiece
from sim.cures.remedy import Case, Dose, Remedy, Trial
from sim.rig import load_demo
from sim.vehicle import Pose
from viewer.cures.remedy_names import remedies_named
from viewer.cures.table import cures_table
from viewer.cures.text import cures_text
from viewer.words.cures import cure_price, near_as_it_is, travel_kept
from viewer.written.files import AskedError

GOAT, MARSH = "goat-path-buggy", "marsh-runner"


@cache
def cures_by_hand(name: str, *steps: tuple[Remedy, Dose]) -> Cures:
    """One cure of those remedies one after the other."""
    rig, assessor = load_demo(name), Assessor()
    before = assessor.assess(rig)
    trials: list[Trial] = []
    now, was = rig, before
    for remedy, dose in steps:
        cured = remedy.applied(now, dose)
        after = assessor.assess(cured)
        trials.append(Trial(remedy, Case(now, dose, cured, was, after)))
        now, was = cured, after
    by = weights()
    cure = Cure(tuple(trials), by.price(trials), was.held == "clear")
    codes = tuple(trial.remedy.code for trial in trials)
    return Cures(rig, before, "clear", (cure,), by, codes, ())


TWO_PIECES = (TwoPiece(), Dose(0.5, "0.5"))


@pytest.mark.slow
@pytest.mark.parametrize("width", [80, 120])
def test_a_joint_that_a_cure_adds_has_a_column_of_its_own(width: int) -> None:
    """Once there were seven values under six heads."""
    found = cures_by_hand(MARSH, TWO_PIECES)
    heads, units, was, now = cures_table(found, width)
    assert heads.split() == [
        "output", "middle", "pinion", "closes", "opens", "shake", "length", "price",
    ]  # fmt: skip
    ends = [match.end() for match in re.finditer(r"\S+", heads)]
    for line in (units, was, now):
        assert len(line) <= 80
        starts = [7, *ends[:-1]]
        cells = [line[a:b] for a, b in zip(starts, ends, strict=True)]
        assert all(cell[:1] in (" ", "") for cell in cells), "no value runs into another"
    middle = slice(ends[0], ends[1])
    assert was[middle].strip() == ""
    after = found.cures[0].after
    assert float(now[middle]) == pytest.approx(after.margins["middle"] * 57.29577951, abs=0.051)
    assert float(now[7 : ends[0]]) == pytest.approx(
        after.margins["output"] * 57.29577951, abs=0.051
    )


@pytest.mark.slow
def test_the_price_of_a_pair_is_that_of_both_together() -> None:
    """A tube an inch longer bottoms the slip; with 2 in more to close it does not."""
    longer_tube, stroke = (ResetSlip(), Dose(25.4, "longer")), (LongerSlip(), Dose(50.8, "both"))
    alone = cures_by_hand(GOAT, longer_tube)
    assert "The slip then bottoms out" in cure_price(alone.cures[0])
    pair = cures_by_hand(GOAT, longer_tube, stroke)
    assert pair.cures[0].after.closes_left > 0.0
    assert "bottoms" not in cure_price(pair.cures[0])
    row = list(cures_table(pair, 80))[3]
    assert "-" not in row.split()[3], "and the row says so as well"


def _hits(found: Cures, after: bool, works: bool) -> Cures:
    points = np.zeros((2, 3))
    bar = SurroundingGap("bar", "tube", "shaft", False, 0.0, 0.0, True, Pose(), points, False)
    (cure,) = found.cures
    (trial,) = cure.trials
    before, then = replace(found.before), replace(cure.after)
    vars(before)["near"], vars(then)["near"] = (bar,), (bar,) if after else ()
    hit = replace(trial, case=replace(trial.case, after=then))
    return replace(found, before=before, cures=(replace(cure, trials=(hit,), works=works),))


@pytest.mark.slow
def test_it_is_not_said_that_nothing_helps_above_a_cure_that_is_clear() -> None:
    found = cures_by_hand(GOAT, (LongerSlip(), Dose(50.8, "opens")))
    assert "number 1 takes care of it" in near_as_it_is(_hits(found, after=False, works=True))
    assert "No cure here takes care of that" in near_as_it_is(_hits(found, after=True, works=False))


@pytest.mark.slow
def test_prices_are_labelled_generic_and_text_fits_the_terminal(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found = cures_by_hand(MARSH, TWO_PIECES)
    for columns in (80, 120):
        monkeypatch.setenv("COLUMNS", str(columns))
        lines = cures_text(found).splitlines()
        assert max(map(len, lines)) <= min(columns, 96)
        assert "generic: common practice, no source" in " ".join(lines)
    assert travel_kept(found) == ""


def test_remedies_are_named_as_people_do() -> None:
    assert remedies_named(["straps", "limit-straps", "Double Cardan head"]) == (
        "limit-straps",
        "double-cardan-head",
    )
    for name, why in (("slip", "several"), ("magic", "no remedy"), ("", "no remedy")):
        with pytest.raises(AskedError) as caught:
            remedies_named([name])
        assert why in str(caught.value)
        assert "limit-straps" in str(caught.value)
        assert "\n" not in str(caught.value)
