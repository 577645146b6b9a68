"""Straps are looked for down to the last of the droop, and say what they take with it."""

from math import asin, degrees, radians, sin

import numpy as np
import pytest

from sim.assessment import Assessor
from sim.cures.remedies.travel import BumpStops, LimitStraps
from sim.cures.remedy import Case, Dose
from sim.cures.search import smallest
from sim.cures.trial import Bench, Goal
from sim.derive import vehicle_of
from sim.rig import load_demo
from sim.rig.change import changed
from sim.ticket.ticket import build_ticket
from tests.sim.cures.cases import case_of
from viewer.words.cures import cost_words
from viewer.words.remarks import said
from viewer.words.units import format_fraction

INCH = 25.4


@pytest.mark.slow
def test_straps_do_where_the_ticket_says_that_they_do() -> None:
    """Once they were looked for over three quarters of the droop only: "not enough".

    The ticket finds how far the axle may hang by another search, in sixteenths.
    """
    rig = load_demo("long-legged-trail-wagon")
    free = build_ticket(rig).limits.free_droop
    assessor = Assessor()
    found = smallest(Bench(LimitStraps(), rig, assessor.assess(rig), assessor), Goal("clear"))
    assert found is not None
    assert found.case.dose.size > 0.75 * rig.travel.droop.mm
    left = found.case.cured.travel.droop.mm
    assert free - 0.25 * INCH - 0.02 < left <= free + 1.0 / 16.0 * INCH


@pytest.mark.parametrize("droop", ["8 in", "8 1/8 in", "1/8 in"])
def test_the_last_dose_is_all_of_the_droop(droop: str) -> None:
    rig = changed(load_demo("goat-path-buggy"), {"travel.droop": droop})
    (series,) = LimitStraps().doses(rig)
    assert series[-1].size == pytest.approx(rig.travel.droop.mm, abs=1e-9)
    steps = np.diff([dose.size for dose in series])
    assert np.all(steps > 0.0)
    assert np.all(steps <= 0.25 * INCH + 1e-9)
    assert LimitStraps().applied(rig, series[-1]).travel.droop.mm == pytest.approx(0.0, abs=1e-9)


@pytest.mark.slow
def test_straps_at_the_ends_say_so_and_what_they_take_of_the_roll() -> None:
    """By hand: a side goes down by half the distance of the stops times the sine of the roll."""
    rig = load_demo("long-legged-trail-wagon")
    case = case_of(LimitStraps(), "long-legged-trail-wagon", Dose(4.0 * INCH))
    apart = rig.travel.stops_apart.mm
    lift = 0.5 * apart * sin(radians(8.0))
    does, costs = said(LimitStraps().says(case)), cost_words(LimitStraps().costs(case))
    assert f"Limit straps or shorter shocks, {apart / INCH:g} in" in does
    assert "stop each side at 5 in" in does
    assert f"{format_fraction(5.0 * INCH - lift)} of droop, not " in costs
    assert f"{format_fraction(9.0 * INCH - lift)} of droop" in costs
    tight = case_of(LimitStraps(), "long-legged-trail-wagon", Dose(9.0 * INCH))
    most = degrees(asin(min(1.0, 2.0 * 2.0 * INCH / apart)))
    assert most < 8.0
    assert f"{most:.1f} deg at most" in cost_words(LimitStraps().costs(tight))


def test_a_strap_in_the_middle_leaves_the_roll() -> None:
    rig = changed(load_demo("long-legged-trail-wagon"), {"travel.droop_strap": "middle"})
    dose, assessor = Dose(4.0 * INCH), Assessor()
    cured = LimitStraps().applied(rig, dose)
    low = vehicle_of(cured).travel
    assert float(low.roll_limit(-5.0 * INCH)) == pytest.approx(radians(8.0), abs=1e-9)
    case = Case(rig, dose, cured, assessor.assess(rig), assessor.assess(cured))
    assert "of the droop" in cost_words(LimitStraps().costs(case))
    assert "roll" not in cost_words(LimitStraps().costs(case))


def test_longer_stops_take_roll_too() -> None:
    case = case_of(BumpStops(), "long-legged-trail-wagon", Dose(1.0 * INCH))
    lift = 0.5 * case.rig.travel.stops_apart.mm * sin(radians(8.0))
    left = format_fraction(3.0 * INCH - lift)
    assert left == "3/4 in"
    assert f"up to {left} of bump" in cost_words(BumpStops().costs(case))


def test_a_strap_does_not_unload_the_tyres() -> None:
    """Wrap at a height is what it was there: the spring and the tyre know nothing of the strap."""
    rig = changed(load_demo("long-legged-trail-wagon"), {"travel.wrap_at_droop": "40 %"})
    before = vehicle_of(rig).travel
    after = vehicle_of(LimitStraps().applied(rig, Dose(4.0 * INCH))).travel
    for inches in (0.0, -2.0, -5.0):
        for was, now in zip(
            before.wrap_limits(inches * INCH), after.wrap_limits(inches * INCH), strict=True
        ):
            assert float(now) == pytest.approx(float(was), abs=1e-6)
