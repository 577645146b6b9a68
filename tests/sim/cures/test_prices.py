"""A price is that of the dose, and the order and the best without travel follow from it."""

from math import radians
from typing import get_args

import pytest

from geometry.errors import BindpointError
from sim.cures import REMEDIES, Cures, find_cures, weights
from sim.cures.remedies.double_cardan import DoubleCardan
from sim.cures.remedies.pinion import PinionTurn
from sim.cures.remedies.slip import LongerSlip
from sim.cures.remedies.yokes import DeepThroat
from sim.cures.remedy import Dose, Remedy, RemedyCode
from sim.rig import Rig, load_demo
from sim.rig.demos import demo_names
from tests.kept import kept

WAGON, GOAT = "long-legged-trail-wagon", "goat-path-buggy"


def price(remedy: Remedy, rig: Rig, dose: Dose) -> float:
    """Parts and hours of a dose by the shipped weights."""
    return weights().of(remedy.bill(rig, dose, remedy.applied(rig, dose)))


def test_a_shim_is_not_a_cut_perch() -> None:
    rig, turn = load_demo(WAGON), PinionTurn()
    shim, thick, perch = (price(turn, rig, Dose(radians(deg), "up")) for deg in (1.0, 6.0, 8.0))
    assert shim < thick < perch
    assert perch > 2.0 * shim
    assert turn.bill(rig, Dose(0.0, "up"), turn.applied(rig, Dose(radians(6.5), "up")))[
        0
    ].row.endswith("perches")


def test_two_yokes_are_not_four_and_a_yoke_that_is_deep_costs_nothing() -> None:
    rig, yokes = load_demo(WAGON), DeepThroat()
    two, four = price(yokes, rig, Dose(1.0, "pinion")), price(yokes, rig, Dose(2.0, "both"))
    by = weights()
    each = by.remedies["deep-throat-yokes"]
    assert four - two == pytest.approx(2.0 * (each.parts_each + by.hour * each.hours_each))
    assert four > 1.5 * two


def test_a_barrel_off_the_shelf_is_not_one_that_is_made() -> None:
    rig, longer = load_demo(GOAT), LongerSlip()
    two, four_and_a_half = (price(longer, rig, Dose(25.4 * size, "opens")) for size in (2.0, 4.5))
    assert four_and_a_half > 2.0 * two
    assert longer.bill(rig, Dose(25.4 * 3.0, "opens"), rig)[0].row == "longer-slip"
    assert longer.bill(rig, Dose(25.4 * 3.5, "opens"), rig)[0].row == "longer-slip-special"


def test_a_head_is_paid_for_with_the_turn_of_the_pinion_that_it_needs() -> None:
    rig, head = load_demo("marsh-runner"), DoubleCardan()
    dose = head.doses(rig)[0][0]
    rows = [item.row for item in head.bill(rig, dose, head.applied(rig, dose))]
    assert rows == ["double-cardan-head", "pinion-turn-perches"]


def test_every_code_is_that_of_one_remedy_and_of_a_row_that_is_shipped() -> None:
    assert sorted(get_args(RemedyCode)) == sorted(remedy.code for remedy in REMEDIES)
    assert set(get_args(RemedyCode)) <= set(weights().remedies)


@pytest.mark.slow
@pytest.mark.parametrize("remedy", REMEDIES, ids=lambda remedy: remedy.code)
def test_more_of_a_remedy_is_never_cheaper_and_every_row_is_shipped(remedy: Remedy) -> None:
    for name in demo_names():
        rig = load_demo(name)
        for series in remedy.doses(rig):
            prices = []
            for dose in series:
                try:
                    prices.append(price(remedy, rig, dose))
                except BindpointError:
                    continue
            assert prices == sorted(prices)


@kept
def only(*codes: str) -> Cures:
    """Cures of the wagon by these remedies alone."""
    return find_cures(
        load_demo(WAGON), without=[each.code for each in REMEDIES if each.code not in codes]
    )


@pytest.mark.slow
def test_the_best_that_costs_no_travel_is_named_where_it_ends_close() -> None:
    """Straps alone get clear; a turned pinion with a bar gets furthest of what takes none."""
    found = only("limit-straps", "pinion-turn", "anti-wrap-bar")
    assert found.cures[0].takes_travel
    place = found.all_travel_kept
    assert place is not None
    best = found.cures[place]
    assert best.codes == ("pinion-turn", "anti-wrap-bar")
    assert not best.works
    assert best.ends_close
    others = [cure for cure in found.cures if not cure.takes_travel and cure is not best]
    assert all(cure.after.least < best.after.least for cure in others)
    assert set(found.without) == {
        each.code
        for each in REMEDIES
        if each.code not in ("limit-straps", "pinion-turn", "anti-wrap-bar")
    }


@pytest.mark.slow
def test_no_other_dose_of_the_best_two_gets_further() -> None:
    """Every turn of the pinion with the bar, swept one by one."""
    found = only("limit-straps", "pinion-turn", "anti-wrap-bar")
    place = found.all_travel_kept
    assert place is not None
    turn, bar = found.cures[place].trials
    from sim.assessment import Assessor

    assessor = Assessor()
    least = []
    for series in turn.remedy.doses(found.rig):
        for dose in series:
            turned = turn.remedy.applied(found.rig, dose)
            after = assessor.could(bar.remedy.applied(turned, bar.case.dose))
            least.append(-9.0 if after is None else after.least)
    assert found.cures[place].after.least == pytest.approx(max(least), abs=1e-6)


@pytest.mark.slow
def test_where_nothing_keeps_the_travel_nothing_is_named() -> None:
    found = only("limit-straps", "output-drop")
    assert found.all_travel_kept is None
    assert [cure.codes for cure in found.cures if cure.works] == [("limit-straps",)]
