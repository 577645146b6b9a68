"""A slip that nobody measured is asked, never judged; one that was measured is judged as ever."""

from dataclasses import replace
from math import inf

import pytest

from sim.check import check
from sim.cures import find_cures
from sim.cures.restate import pinion_turned, same_shaft
from sim.derive import measured_slip, vehicle_of
from sim.pose import check_pose
from sim.rig import Rig, changed, parse_rig
from sim.ticket.slips import slip_parts
from sim.vehicle import Pose, Slip, VehicleError
from tests.sim.rigs import PHONE_CALL, spoilt

MUCH = spoilt(PHONE_CALL, ('droop = "8 in"', 'droop = "9 in"\nroll = "0 deg"\nnose_down = "0 deg"'))
"""Opens its slip past the generic 3 in, with yokes that stay clear."""


def rig_of(*pairs: tuple[str, object]) -> Rig:
    deep = {
        "shaft.output_end.output_yoke": "deep-throat flange yoke",
        "shaft.output_end.shaft_yoke": "deep-throat weld yoke",
        "shaft.pinion_end.shaft_yoke": "deep-throat weld yoke",
        "shaft.pinion_end.pinion_yoke": "deep-throat strap yoke",
    }
    return changed(parse_rig(MUCH), deep | dict(pairs))


@pytest.mark.slow
def test_nothing_is_red_for_a_slip_that_nobody_measured() -> None:
    unmeasured = check(rig_of())
    assert unmeasured.found.swept.slip.longest.value > 3.0 * 25.4
    said = [each for each in unmeasured.findings if each.subject == "slip"]
    assert [each.code for each in said] == ["slip-not-measured"]
    assert said[0].verdict == "clear"
    assert unmeasured.verdict == "clear"
    # The same slip, typed as it was assumed, runs out.
    typed = check(rig_of(("shaft.slip.closes", "1 1/2 in"), ("shaft.slip.opens", "3 in")))
    verdicts = {each.code: each.verdict for each in typed.findings}
    assert verdicts["slip-opens"] == "touches"
    assert "slip-not-measured" not in verdicts
    assert typed.verdict == "touches"


def test_it_says_what_the_travel_asks_and_which_generic_slip_has_it() -> None:
    rig = rig_of()
    result = check(rig)
    found = next(each for each in result.findings if each.code == "slip-not-measured")
    asked, swept, wanted = found.detail["asked"], result.found.swept.slip, rig.wanted.slip.mm
    assert asked["closes"] == (max(0.0, -swept.shortest.value), swept.shortest.at)
    assert asked["opens"] == (swept.longest.value, swept.longest.at)
    stroke = asked["closes"][0] + asked["opens"][0]
    assert found.worst.value == pytest.approx(stroke, abs=1e-9)
    # The shortest of the catalogue whose usable stroke is what is asked and a reserve at each end,
    # to the sixteenth of an inch that it is set to.
    enough = [p for p in slip_parts(rig) if p.usable >= stroke + 2.0 * wanted + 1.0]
    assert found.detail["generic"] == min(enough, key=lambda part: part.stroke).name
    closes, opens = found.detail["set"]
    assert closes - asked["closes"][0] >= wanted - 1e-9
    assert opens - asked["opens"][0] >= wanted - 1e-9


def test_no_generic_slip_is_named_where_none_has_it() -> None:
    rig = rig_of(("wanted.slip", "9 in"))
    found = next(each for each in check(rig).findings if each.code == "slip-not-measured")
    assert found.detail["generic"] is None
    assert found.verdict == "clear"


def test_the_side_that_was_measured_is_judged() -> None:
    result = check(rig_of(("shaft.slip.closes", "1/8 in")))
    verdicts = {each.code: each.verdict for each in result.findings if each.subject == "slip"}
    assert verdicts == {"slip-closes": "touches", "slip-not-measured": "clear"}
    found = next(each for each in result.findings if each.code == "slip-not-measured")
    assert set(found.detail["asked"]) == {"opens"}


@pytest.mark.slow
def test_where_it_comes_apart_is_judged_though_its_opening_is_not_known() -> None:
    result = check(rig_of(("shaft.slip.comes_apart", "3 1/8 in")))
    verdicts = {each.code: each.verdict for each in result.findings if each.subject == "slip"}
    assert verdicts == {"slip-comes-apart": "touches", "slip-not-measured": "clear"}
    # What comes apart before the generic opening is no contradiction: nobody gave the opening.
    assert check(rig_of(("shaft.slip.comes_apart", "2 in"))).verdict == "touches"


@pytest.mark.slow
def test_a_pose_does_not_stop_at_a_slip_that_nobody_measured() -> None:
    rig, at = rig_of(), Pose(travel=-9.0 * 25.4)
    found = check_pose(rig, at, 0.0)
    assert (found.closes_left, found.opens_left) == (inf, inf)
    assert not found.stopped
    typed = {"shaft.slip.closes": "1 1/2 in", "shaft.slip.opens": "3 in"}
    assert check_pose(changed(rig, typed), at, 0.0).stopped


def test_no_cure_is_sought_for_it_and_none_gives_it_a_number() -> None:
    rig = rig_of()
    found = find_cures(rig)
    assert found.before.verdict == "clear"
    assert found.cures == ()
    turned = pinion_turned(rig, 0.02)
    assert measured_slip(turned) == frozenset()
    moved = same_shaft(rig, changed(rig, {"ride_height.length": "37 in"}))
    assert measured_slip(moved) == frozenset()


@pytest.mark.slow
def test_a_bad_joint_is_cured_without_touching_the_slip() -> None:
    found = find_cures(parse_rig(spoilt(PHONE_CALL, ('droop = "8 in"', 'droop = "9 in"'))))
    assert found.before.verdict == "touches"
    assert found.cures
    for cure in found.cures:
        codes = {trial.remedy.code for trial in cure.trials}
        assert not codes & {"longer-slip", "reset-slip"}
        assert measured_slip(cure.rig) == frozenset()
        assert vehicle_of(cure.rig).slip == Slip("shaft", inf, inf)


def test_a_vehicle_takes_an_unmeasured_side_and_still_refuses_what_cannot_be() -> None:
    slip = Slip("shaft", inf, 30.0, 40.0)
    assert not slip.measured
    assert replace(slip, closes=10.0).measured
    assert Slip("shaft", 10.0, inf, 20.0).comes_apart == 20.0
    for bad in ({"closes": -1.0}, {"opens": float("nan")}, {"opens": 50.0}):
        with pytest.raises(VehicleError):
            replace(slip, **bad)
