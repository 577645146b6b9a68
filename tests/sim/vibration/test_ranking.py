"""What a shake most likely is: cases as the trade tells them, and rules that hold for any."""

from itertools import product
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.assessment import Assessor
from sim.rig import Rig, changed, load_demo
from sim.speed import RPM
from sim.vibration import SUSPECTS, Symptom
from sim.vibration.case import Case
from sim.vibration.evidence import BANDS, reasons
from sim.vibration.find import AS_LIKELY, Suspected, _ranked
from sim.vibration.suspect import SuspectCode
from sim.vibration.symptom import Feel, Follows, Only, When
from tests.sim.vibration.rigs import flat

MPH = 1_609_344.0 / 3600.0


def ranked(rig: Rig, **said: object) -> tuple[Suspected, ...]:
    """Every suspect without any cure, the likeliest first."""
    case = Case(rig, Symptom(**said), Assessor())  # type: ignore[arg-type]
    found = []
    for suspect in SUSPECTS:
        if suspect.comes_in(case):
            told = suspect.predicted(case)
            found.append(
                Suspected(suspect, suspect.frequencies(case), told, reasons(suspect, case, told))
            )
    return _ranked(found)


def first(rig: Rig, **said: object) -> SuspectCode:
    return ranked(rig, **said)[0].code


BENT, STRAIGHT = flat(10.0, 4.0), flat(1.0, 1.0)


@pytest.mark.parametrize(
    ("rig", "said", "cause"),
    [
        # twice a turn, torque-sensitive: joint angles
        (BENT, {"road": 45 * MPH, "when": "power", "feel": "buzz"}, {"joint-angles"}),
        (BENT, {"road": 60 * MPH, "when": "coast", "feel": "boom"}, {"joint-angles"}),
        (BENT, {"road": 45 * MPH, "per_turn": 2}, {"joint-angles"}),
        # angles that do not shake are not blamed: joints are felt for play first
        (STRAIGHT, {"road": 45 * MPH, "when": "power", "feel": "buzz"}, {"worn-joint"}),
        # speed-related whatever the torque: tires first, then balance
        (STRAIGHT, {"road": 70 * MPH, "when": "any"}, {"tyres"}),
        (STRAIGHT, {"road": 70 * MPH, "when": "any", "per_turn": 1}, {"balance"}),
        (STRAIGHT, {"road": 60 * MPH, "when": "any", "feel": "buzz"}, {"balance"}),
        (STRAIGHT, {"road": 55 * MPH, "when": "any", "feel": "shudder"}, {"tyres"}),
        # same engine speed in every gear: engine
        (BENT, {"shaft": 2000 * RPM, "gear": 1.0, "follows": "engine"}, {"engine"}),
        # pulling away: wind-up
        (flat(3.0, 3.0, wrap=12.0), {"when": "takeoff", "feel": "shudder"}, {"wind-up"}),
        # gone in two-wheel drive: the front shaft, not this rear one
        (BENT, {"road": 45 * MPH, "only": "4wd"}, {"other-shaft"}),
        (BENT, {"road": 45 * MPH, "only": "hubs-locked"}, {"other-shaft"}),
        # with weight in it: angles
        (BENT, {"road": 45 * MPH, "only": "loaded"}, {"joint-angles"}),
    ],
)
def test_cases_as_the_trade_tells_them(rig, said, cause):
    """Common practice, no source: drive, coast and neutral split pinion angle from balance."""
    assert first(rig, **said) in cause


def test_a_carrier_bearing_is_a_suspect_where_there_is_one():
    codes = {each.code for each in ranked(load_demo("timber-crew-carrier"), when="takeoff")}
    assert {"carrier", "wind-up"} <= codes
    assert "carrier" not in {each.code for each in ranked(BENT, when="takeoff")}


@pytest.mark.slow
def test_a_shaft_that_stands_still_shakes_nothing():
    rig = changed(
        load_demo("heather-moor-scout"), {"drive": {"axle_ratio": 4.1, "tyre_radius": "16 in"}}
    )
    for when in get_args(When):
        order = ranked(rig, road=60 * MPH, when=when)
        assert all(each.points < 0 for each in order if each.suspect.of_shaft)
        assert "other-shaft" in {each.code for each in order}
    locked = ranked(rig, road=60 * MPH, when="power", only="hubs-locked")
    assert locked[0].suspect.of_shaft
    assert "other-shaft" not in {each.code for each in locked}


def test_a_shaft_on_its_whirl_is_foretold_and_leads():
    case = Case(STRAIGHT, Symptom(shaft=100.0), Assessor())
    critical = case.whirl.critical
    assert critical is not None
    assert first(STRAIGHT, shaft=0.95 * critical, when="any", per_turn=1) == "balance"
    order = ranked(STRAIGHT, shaft=0.95 * critical, when="any", per_turn=1)
    (whirl,) = [each for each in order if each.code == "whirl"]
    assert whirl.points >= order[0].points - AS_LIKELY


@pytest.mark.slow
@pytest.mark.parametrize("rig", [BENT, STRAIGHT], ids=["bent", "straight"])
@pytest.mark.parametrize("at", [{"road": 45 * MPH}, {"shaft": 900 * RPM}, {}], ids=str)
def test_points_and_order_hold_together_for_whatever_is_said(rig, at):
    """Sorted by points but for those as likely as the first; no rule twice."""
    answers = product((None, *get_args(When)), (None, "buzz", "shudder"), (None, 1, 2))
    for when, feel, per_turn in answers:
        if not at and when != "takeoff":
            continue
        order = ranked(rig, when=when, feel=feel, per_turn=per_turn, **at)
        points = [each.points for each in order]
        most = max(points)
        rest = [p for p in points if p < most - AS_LIKELY]
        assert rest == sorted(rest, reverse=True)
        assert points[: len(points) - len(rest)] == [p for p in points if p >= most - AS_LIKELY]
        for each in order:
            codes = [reason.code for reason in each.reasons]
            assert len(codes) == len(set(codes))
            assert all(reason.points for reason in each.reasons)


@pytest.mark.slow
@given(feel=st.sampled_from(get_args(Feel)), mph=st.floats(15.0, 80.0), bend=st.floats(0.5, 12.0))
@settings(max_examples=20, deadline=None)
def test_a_feel_never_speaks_for_what_is_far_from_it(feel, mph, bend):
    low, high = BANDS[feel]
    for each in ranked(flat(round(bend, 2), 1.0), road=mph * MPH, feel=feel):
        told = {reason.code: reason.points for reason in each.reasons}.get("feel", 0)
        inside = any(low <= hertz <= high for hertz in each.frequencies)
        assert (told > 0) == inside
        if told < 0:
            assert max(each.frequencies) < low or min(each.frequencies) > high


@pytest.mark.parametrize("only", get_args(Only))
@pytest.mark.parametrize("follows", get_args(Follows))
def test_whatever_it_takes_every_suspect_is_weighed(only, follows):
    order = ranked(BENT, road=45 * MPH, only=only, follows=follows)
    assert len({each.code for each in order}) == len(order) >= 6


def test_nothing_that_turns_slowly_is_felt_as_imbalance():
    slow = {each.code: each for each in ranked(STRAIGHT, road=12 * MPH, when="any")}
    told = {reason.code for reason in slow["balance"].reasons}
    assert "too-slow" in told
    fast = {each.code: each for each in ranked(STRAIGHT, road=60 * MPH, when="any")}
    assert "too-slow" not in {reason.code for reason in fast["balance"].reasons}


@pytest.mark.parametrize(
    ("feel", "hertz", "points"),
    [("buzz", 26, 1), ("buzz", 20, 0), ("buzz", 16, -2), ("shudder", 30, 0), ("shudder", 40, -2)],
)
def test_a_feel_speaks_against_only_what_is_well_beside_its_band(feel, hertz, points):
    """Bands of 25 to 150 and 3 to 25 Hz; by half as much again, which nobody tells for sure."""
    shaft = hertz * 60.0 * RPM
    (balance,) = [
        each for each in ranked(STRAIGHT, shaft=shaft, feel=feel) if each.code == "balance"
    ]
    assert balance.frequencies == pytest.approx((hertz,))
    assert {reason.code: reason.points for reason in balance.reasons}.get("feel", 0) == points
