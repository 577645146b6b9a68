"""How sure each cure is: chances of many, those that leave next to none first."""

from dataclasses import replace
from math import erf, sqrt

import pytest

from sim.accuracy.source import SURE
from sim.bars.doubts import Doubts, doubts_of
from sim.bars.result import LITTLE
from sim.cures import Cure, Cures, find_cures, sure
from sim.cures.cures import in_order
from sim.cures.first_cure import first_cure, keep_first
from sim.kept.answers import FOLDER_VARIABLE
from sim.rig import Rig, load_demo
from tests.kept import kept
from tests.sim.bars.by_hand import source

GOAT = "goat-path-buggy"


@kept
def cures() -> Cures:
    return find_cures(load_demo(GOAT))


def only(off: float) -> object:
    """Everything is known but how far the slip opens, which may be off by as much, mm."""
    return lambda rig, _joints: Doubts((source(rig, "shaft.slip.opens", off),))


def told(monkeypatch: pytest.MonkeyPatch, off: float) -> Cures:
    monkeypatch.setattr(sure, "doubts_of", only(off))
    return sure.with_chances(cures())


@pytest.mark.slow
def test_chances_are_those_of_the_one_number_that_may_be_off(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What is left to open is normal about what it is, so its tail is the error function."""
    found, asked = told(monkeypatch, 10.0 * SURE), 0
    for each in (found, *found.cures):
        after = each.before if isinstance(each, Cures) else each.after
        apart = after.swept.slip.apart_left
        others = [*after.margins.values(), after.closes_left, 1.0 if apart is None else apart]
        if after.reaches and min(others) > 0.0:
            asked += 1
            expected = 0.5 * (1.0 - erf(after.opens_left / 10.0 / sqrt(2.0)))
            assert each.chance == pytest.approx(expected, abs=0.005)
    assert asked >= 4


@pytest.mark.slow
def test_one_that_leaves_more_than_a_little_stands_behind_those_that_leave_less(
    monkeypatch: pytest.MonkeyPatch, tmp_path: object
) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    was, found = cures(), told(monkeypatch, 25.4)
    assert {cure.codes for cure in found.cures} == {cure.codes for cure in was.cures}
    order = [(not cure.holds, not cure.works, cure.score) for cure in found.cures]
    assert order == sorted(order)
    working = [cure for cure in found.cures if cure.works]
    assert {cure.holds for cure in working} == {True, False}
    for cure in working:
        assert cure.chance is not None
        assert cure.holds == (cure.chance <= LITTLE)
    keep_first(found)
    first = first_cure(found.rig)
    assert first is not None
    assert first.says == found.cures[0].says
    assert first.chance == (None if found.cures[0].holds else found.cures[0].chance)


@pytest.mark.slow
def test_with_nothing_off_the_order_is_as_without_chances(monkeypatch: pytest.MonkeyPatch) -> None:
    found = told(monkeypatch, 1e-6)
    assert [cure.codes for cure in found.cures] == [cure.codes for cure in cures().cures]
    assert [cure.chance for cure in found.cures if cure.works] == [0.0] * sum(
        cure.works for cure in found.cures
    )
    assert found.chance == 1.0


def test_where_there_is_no_cure_nobody_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sure, "doubts_of", None)
    none = find_cures(load_demo("quarry-hauler"))
    assert not none.cures
    assert sure.with_chances(none) is none


def test_a_cure_of_no_known_chance_holds_where_it_works() -> None:
    cure = Cure((), 1.0, works=True)
    assert cure.holds
    assert replace(cure, chance=LITTLE).holds
    assert not replace(cure, chance=LITTLE + 1e-9).holds
    assert not replace(cure, works=False, chance=0.0).holds


@pytest.mark.slow
def test_a_demo_is_asked_in_all_that_may_be_off() -> None:
    rig: Rig = load_demo(GOAT)
    found = sure.with_chances(cures())
    assert all(cure.chance is not None for cure in found.cures)
    assert doubts_of(rig, found.before.joints).shapes
    assert in_order(found.cures) == found.cures
