"""What the rig says, against the check that whoever drives the truck reads, and by thresholds."""

from functools import cache
from math import radians

import pytest

from sim.assessment import Assessment, Assessor
from sim.cardan import NEEDLES_ROLL
from sim.causes.codes import ComputedCode
from sim.finders import all_findings
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.demos import demo_names, load_demo
from sim.speed import LOADS, felt, speed_limit
from sim.vehicle import Joint
from sim.why.case import Case
from sim.why.evidence import HEADS_DIFFER, ROLLS, Computed, from_the_rig


@cache
def assessed(name: str) -> Assessment:
    """A demo rig over its travel."""
    return Assessor().assess(load_demo(name))


def said(rig: Rig | str, joint: Joint = "pinion") -> dict[ComputedCode, Computed]:
    """Each sign that a rig says of a joint."""
    found = assessed(rig) if isinstance(rig, str) else Assessor().assess(rig)
    return {each.code: each for each in from_the_rig(Case(found, joint))}


def with_changes(name: str, changes: dict[str, str]) -> Rig:
    """A demo rig with other values."""
    return changed(load_demo(name), changes)


@pytest.mark.parametrize("name", demo_names())
def test_it_agrees_with_the_check(name: str) -> None:
    """What a check calls touching, close or clear is what the evidence calls so."""
    found = assessed(name)
    verdicts = {(each.code, each.subject): each.verdict for each in all_findings(found)}
    for joint in found.joints:
        signs = said(name, joint)
        bend = verdicts["joint-bend", joint]
        gap = verdicts.get(("joint-gap", joint), "clear")
        assert signs["touches-in-reach"].says == (bend == "touches")
        if bend != "touches":
            assert signs["nearly-touches"].says == ("close" in (bend, gap))
        else:
            assert "nearly-touches" not in signs, "it does more than come near"
        for code, finding in (("slip-runs-in", "slip-closes"), ("slip-runs-out", "slip-opens")):
            if ("slip-not-measured", "slip") not in verdicts:
                runs = verdicts[finding, "slip"] == "touches"
                assert signs[code].says == runs


def test_a_slip_nobody_measured_says_nothing() -> None:
    text = {"shaft.slip.opens": None, "shaft.slip.closes": None, "shaft.slip.comes_apart": None}
    signs = said(with_changes("goat-path-buggy", text))
    assert not {"slip-runs-in", "slip-runs-out"} & set(signs)


def test_the_slip_runs_out_exactly_where_it_has_less_than_the_travel_asks() -> None:
    asked = assessed("goat-path-buggy").swept.slip.longest.value
    for opens, runs in ((asked - 0.01, True), (asked + 0.01, False)):
        rig = with_changes("goat-path-buggy", {"shaft.slip.opens": f"{opens} mm"})
        assert said(rig)["slip-runs-out"].says is runs


def test_a_bend_is_past_its_limit_exactly_at_the_speed_that_shakes_it_to_the_limit() -> None:
    """`speed_limit` is the inverse of what the evidence asks; its table is in its own tests."""
    rig = load_demo("quarry-hauler")
    case = Case(assessed("quarry-hauler"), "pinion")
    assert case.gearing is not None
    road = case.gearing.road_speed(speed_limit(case.bend))
    for speed, past in ((0.999 * road, False), (1.001 * road, True)):
        faster = changed(rig, {"drive.top_speed": f"{speed * 3.6e-3} km/h"})
        assert said(faster)["bend-past-limit"].says is past


def test_a_shaft_that_stands_still_on_the_road_neither_shakes_nor_runs_bent() -> None:
    signs = said("heather-moor-scout")
    assert not signs["bend-past-limit"].says
    assert not signs["shake-computed"].says


def test_what_the_rig_does_not_tell_is_no_evidence() -> None:
    signs = said("goat-path-buggy")  # no top speed, nothing near it
    assert not {"bend-past-limit", "shake-computed", "thing-hit"} & set(signs)
    wrap = {"travel.nose_up": None, "travel.nose_down": None}
    assert "much-wrap" not in said(with_changes("goat-path-buggy", wrap))


def test_only_a_head_runs_out_of_ball() -> None:
    """A single joint never does; a head of unknown make does not tell between 18/28 and its end."""
    assert not said("marsh-runner", "output")["head-past-its-ball"].says
    head, most = _head_of(load_demo("short-tailed-scout"))
    assert HEADS_DIFFER * head < most < head
    assert "head-past-its-ball" not in said("short-tailed-scout", "output")
    little = with_changes("short-tailed-scout", {"travel.droop": "1/2 in", "travel.bump": "2 in"})
    head, most = _head_of(little)
    assert most < HEADS_DIFFER * head
    assert not said(little, "output")["head-past-its-ball"].says


def _head_of(rig: Rig) -> tuple[float, float]:
    """The limit of its output head and the most that it bends, rad."""
    found = Assessor().assess(rig)
    return found.vehicle.heads["output"].limit, found.joints["output"].most


@pytest.mark.parametrize("name", demo_names())
def test_needles_roll_where_the_joint_runs_bent(name: str) -> None:
    """Under half a degree they do not, from one on they do; between, the trade does not agree."""
    for joint in assessed(name).joints:
        bend = Case(assessed(name), joint).bend
        signs = said(name, joint)
        if bend < NEEDLES_ROLL or bend >= ROLLS:
            assert signs["needles-do-not-roll"].says is (bend < NEEDLES_ROLL)
        else:
            assert "needles-do-not-roll" not in signs


@pytest.mark.parametrize(("wrap", "says"), [("3 deg", False), ("5 deg", None), ("8 deg", True)])
def test_ordinary_leaves_wrap_so_that_nothing_follows(wrap: str, says: bool | None) -> None:
    rig = with_changes("goat-path-buggy", {"travel.nose_up": wrap, "travel.nose_down": "2 deg"})
    found = said(rig).get("much-wrap")
    assert (None if found is None else found.says) is says


def test_the_demo_that_binds_names_what_meets() -> None:
    """The same pair and the same first pose as the check's own finding."""
    found = assessed("long-legged-trail-wagon")
    bend = next(
        each
        for each in all_findings(found)
        if each.code == "joint-bend" and each.subject == "pinion"
    )
    why = said("long-legged-trail-wagon")["touches-in-reach"].why
    assert {why["one"], why["other"]} == set(bend.detail["surfaces"])
    assert why["at"]["travel"] == pytest.approx(bend.detail["first"].travel, abs=1e-9)  # type: ignore[index, call-overload]


@pytest.mark.parametrize("up", [True, False])
def test_it_winds_up_much_whichever_way(up: bool) -> None:
    much, little = "travel.nose_up", "travel.nose_down"
    if not up:
        much, little = little, much
    sign = said(with_changes("goat-path-buggy", {much: "8 deg", little: "2 deg"}))["much-wrap"]
    assert sign.says is True
    assert sign.why["most"] == pytest.approx(radians(8.0))


def test_the_slip_runs_in_exactly_where_it_has_less_than_the_travel_asks() -> None:
    swept = assessed("goat-path-buggy").swept.slip
    asked = swept.has.closes - swept.closes_left
    for closes, runs in ((asked - 0.01, True), (asked + 0.01, False)):
        rig = with_changes("goat-path-buggy", {"shaft.slip.closes": f"{closes} mm"})
        signs = said(rig)
        assert signs["slip-runs-in"].says is runs


@pytest.mark.parametrize("first", [True, False])
def test_of_two_things_near_the_shaft_the_one_that_it_hits_is_named(first: bool) -> None:
    """A crossmember that it clears, and one that stands right across it."""
    rig = load_demo("quarry-hauler")
    (clear,) = rig.typed()["surroundings"]
    through = {
        "name": "brace",
        "box": {"at": ["40 in", "0 in", "0 in"], "size": ["3 in", "30 in", "40 in"]},
    }
    both = [through, clear] if first else [clear, through]
    sign = said(changed(rig, {"surroundings": both}))["thing-hit"]
    assert sign.says is True
    assert sign.why["thing"] == "brace"


def test_it_shakes_from_the_lowest_speed_at_which_any_driving_is_felt() -> None:
    """Just over it there is a way to drive in which it is felt, and just under it there is none."""
    rig = load_demo("quarry-hauler")
    case = Case(assessed("quarry-hauler"), "pinion")
    assert case.gearing is not None
    loads = {load: felt(case.found.vehicle, case.gearing, load).speed for load in LOADS}
    assert len({round(speed, 3) for speed in loads.values()}) > 1, "ways of driving differ"
    for share, shakes in ((0.999, False), (1.001, True)):
        top = share * case.felt.speed
        assert any(speed < top for speed in loads.values()) is shakes
        road = case.gearing.road_speed(top)
        slower = changed(rig, {"drive.top_speed": f"{road * 3.6e-3} km/h"})
        assert said(slower)["shake-computed"].says is shakes
