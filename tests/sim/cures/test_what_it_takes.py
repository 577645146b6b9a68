"""What a remedy is for, and what is told of what it makes worse."""

from dataclasses import replace
from math import radians

import pytest

from sim.assessment import Assessor
from sim.cures import REMEDIES, Cure
from sim.cures.remedies.double_cardan import DoubleCardan
from sim.cures.remedies.pinion import PinionTurn
from sim.cures.remedies.slip import LongerSlip, ResetSlip
from sim.cures.remedies.wrap import AntiWrapBar
from sim.cures.remedy import Dose, Trial
from sim.cures.trial import benches
from sim.cures.worse import made_worse, slip_left
from sim.derive import ride_height_of
from sim.rig.change import changed
from sim.rig.demos import load_demo
from sim.speed import Load
from sim.ticket.felt_of import felt_of
from tests.sim.cures.cases import case_of
from viewer.words.cures import cost_words
from viewer.words.felt import felt_above
from viewer.words.remarks import said


def codes_tried(name: str, **values: str) -> set[str]:
    rig = load_demo(name)
    rig = changed(rig, {key.replace("_", "."): text for key, text in values.items()})
    assessor = Assessor()
    return set(benches(REMEDIES, rig, assessor.assess(rig), assessor))


FOR_JOINTS = {remedy.code for remedy in REMEDIES if remedy.for_joints}


@pytest.mark.slow
def test_for_a_slip_that_is_short_nobody_gets_other_joints_or_another_shaft() -> None:
    """A slip short by 1/8 in is no reason for a shaft 7 in longer."""
    assert "longer-shaft" in FOR_JOINTS
    assert "double-cardan-head" in FOR_JOINTS
    tried = codes_tried("heather-moor-scout")
    assert not tried & FOR_JOINTS
    assert {"reset-slip", "longer-slip", "limit-straps"} <= tried
    assert not codes_tried("goat-path-buggy") & FOR_JOINTS


@pytest.mark.slow
def test_where_a_joint_is_short_too_they_are_tried() -> None:
    """Of bend or of the gap alone, which an outcome does not look for where the slip is short."""
    assert FOR_JOINTS & codes_tried("goat-path-buggy", wanted_bend="10 deg") == {
        "longer-shaft",
        "other-size",
    }
    assert FOR_JOINTS & codes_tried("goat-path-buggy", wanted_gap="1 in")
    assert {"deep-throat-yokes", "longer-shaft"} <= codes_tried("marsh-runner")


def test_links_hold_the_wrap_themselves() -> None:
    bar = AntiWrapBar()
    assert bar.doses(load_demo("heather-moor-scout")) == ()
    assert bar.doses(load_demo("ridge-crawler")) == ()
    assert bar.doses(load_demo("long-legged-trail-wagon"))


def test_a_slip_that_then_bottoms_is_told() -> None:
    case = case_of(ResetSlip(), "goat-path-buggy", Dose(25.4, "longer"))
    assert case.after.closes_left < 0.0
    assert [said(each) for each in slip_left(case)] == [
        "the slip then bottoms out, 1/8 in (3.0 mm) short"
    ]
    less = replace(case, after=replace(case.after, closes_left=10.0))
    (left,) = map(said, slip_left(less))
    assert left.startswith("leaves only 3/8 in")
    assert left.endswith("of closing")
    enough = replace(case, after=replace(case.after, closes_left=case.after.slip_reserve))
    assert slip_left(enough) == []
    out = replace(case, after=replace(case.after, closes_left=20.0, opens_left=-40.0))
    assert [said(each) for each in slip_left(out)] == [
        "the slip then runs out, 1 5/8 in (40.0 mm) short"
    ]


@pytest.mark.parametrize(
    ("name", "up"),
    [("goat-path-buggy", 8.0), ("long-legged-trail-wagon", 7.0), ("marsh-runner", 8.0)],
)
def test_shake_felt_sooner_is_told_level_and_under_power(name: str, up: float) -> None:
    """Held to the felt speed of both rigs: the numbers named are theirs."""
    case = case_of(PinionTurn(), name, Dose(radians(up), "up"))
    (shakes,) = [each for each in made_worse(case) if each.code == "shakes-more"]
    told = said(shakes)
    assert told.startswith("shakes sooner: ")
    cure = Cure((Trial(PinionTurn(), case),), 0.0, works=False)
    assert shakes in cure.worse
    loads: dict[Load, str] = {"level": "at ride height", "power": "under power"}
    for load, words in loads.items():
        was, now = felt_of(case.rig, load), felt_of(case.cured, load)
        sooner = now.speed < 0.95 * was.speed
        assert (words in told) == sooner
        if sooner:
            assert f"{words} {felt_above(now)}; it was" in told
            assert not was.ever or felt_above(was).removeprefix("felt ") in told


def test_a_shake_that_is_felt_later_is_no_price() -> None:
    case = case_of(PinionTurn(), "marsh-runner", Dose(radians(1.0), "up"))
    assert felt_of(case.cured).speed > 0.95 * felt_of(case.rig).speed
    assert not [each for each in made_worse(case) if "at ride height" in said(each)]


@pytest.mark.slow
def test_a_turn_past_any_shim_says_what_it_takes() -> None:
    for name, far in (("long-legged-trail-wagon", 6.5), ("marsh-runner", 6.5)):
        case = case_of(PinionTurn(), name, Dose(radians(far), "up"))
        assert "perches" in said(PinionTurn().says(case))
        assert "no shim goes that far" in said(PinionTurn().says(case))
        assert "thick end" not in said(PinionTurn().says(case))
    case = case_of(PinionTurn(), "long-legged-trail-wagon", Dose(radians(6.0), "up"))
    assert "6 deg shims, thick end" in said(PinionTurn().says(case))
    case = case_of(PinionTurn(), "marsh-runner", Dose(radians(6.0), "up"))
    assert "shims on leaf springs, longer arms, or cut and turned perches" in said(
        PinionTurn().says(case)
    )
    head = case_of(DoubleCardan(), "marsh-runner", Dose(0.0, "ordinary head, 1 deg low"))
    assert "no shim goes that far" in cost_words(DoubleCardan().costs(head))


@pytest.mark.slow
def test_caster_is_told_with_what_is_left() -> None:
    case = case_of(PinionTurn(), "heather-moor-scout", Dose(radians(6.0), "up"))
    assert "costs 6.0 deg of caster, leaving 2.0 deg negative," in cost_words(
        PinionTurn().costs(case)
    )
    case = case_of(PinionTurn(), "heather-moor-scout", Dose(radians(1.0), "down"))
    assert "adds 1.0 deg of caster, leaving 5.0 deg positive," in cost_words(
        PinionTurn().costs(case)
    )
    assert case.cured.axle.steers == pytest.approx(radians(5.0), abs=1e-5)
    head = case_of(DoubleCardan(), "heather-moor-scout", Dose(0.0, "ordinary head, 2 deg high"))
    turn = ride_height_of(head.cured).pinion_up - ride_height_of(head.rig).pinion_up
    assert head.cured.axle.steers == pytest.approx(radians(4.0) - turn, abs=1e-5)
    assert f"{abs(turn) * 57.29577951308232:.1f} deg of caster" in cost_words(
        DoubleCardan().costs(head)
    )


@pytest.mark.slow
def test_a_sliding_yoke_has_no_stub() -> None:
    case = case_of(LongerSlip(), "goat-path-buggy", Dose(50.8, "opens"))
    assert "barrel, 6 13/16 in" in said(LongerSlip().says(case))
    assert "stub" not in cost_words(LongerSlip().costs(case))
    assert "the output shaft needs spline that far" in cost_words(LongerSlip().costs(case))
    inside = case_of(LongerSlip(), "marsh-runner", Dose(50.8, "opens"))
    assert "stub" in cost_words(LongerSlip().costs(inside))
