"""Straps and stops, against the check of a rig whose travel ends there."""

from math import pi

import pytest

from sim.check import Check, check
from sim.rig import Rig, changed, demo_names, load_demo, parse_rig
from sim.ticket.owner_limits import STRETCH, OwnerLimits
from sim.ticket.reserves import BEND_STEP, READINGS
from sim.ticket.slip_plan import SIXTEENTH
from sim.ticket.ticket import build_ticket
from tests.sim.rigs import PHONE_CALL, spoilt
from tests.sim.ticket.rigs import DRIVE, demo_ticket, with_crossmember


def checked(rig: Rig, key: str, mm: float) -> Check:
    """The check of a rig with that much travel."""
    return check(changed(rig, {key: f"{mm:.6f} mm"}))


LIMITED = [
    "goat-path-buggy",
    "heather-moor-scout",
    "long-legged-trail-wagon",
    "marsh-runner",
]
"""Demos that are not clear down to their whole droop."""


@pytest.mark.slow
@pytest.mark.parametrize("name", LIMITED)
def test_a_check_with_the_stated_droop_is_clear_and_not_with_more(name: str) -> None:
    limits, rig = demo_ticket(name).limits, load_demo(name)
    sixteenths = limits.free_droop / SIXTEENTH
    assert sixteenths == pytest.approx(round(sixteenths), abs=1e-9)
    assert 0.0 < limits.free_droop < rig.travel.droop.mm
    assert checked(rig, "travel.droop", limits.free_droop).verdict == "clear"
    further = limits.free_droop + 25.4 / 8.0
    assert checked(rig, "travel.droop", further).verdict != "clear"


@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in demo_names() if name not in LIMITED])
def test_where_nothing_is_short_the_whole_travel_is_left(name: str) -> None:
    made, wanted = demo_ticket(name), load_demo(name).wanted
    limits, slip, travel = made.limits, made.found.swept.slip, made.found.vehicle.travel
    assert all(each.margin >= wanted.bend.rad for each in made.found.joints.values())
    assert min(slip.closes_left, slip.opens_left) >= wanted.slip.mm
    assert not made.found.tight_gaps
    assert (limits.free_droop, limits.free_bump) == (travel.droop, travel.bump)
    assert (limits.stopped_by, limits.stopped_above, limits.straps) == ("", "", None)


def straps_hold(limits: OwnerLimits) -> bool:
    """Whether straps as set give no further than the limit."""
    return limits.straps is not None and limits.straps + STRETCH <= limits.free_droop + 1e-9


@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "marsh-runner", "goat-path-buggy"])
def test_straps_with_what_they_give_hold(name: str) -> None:
    limits = demo_ticket(name).limits
    assert straps_hold(limits)
    assert limits.free_droop - STRETCH - (limits.straps or 0.0) < 25.4 / 4.0


@pytest.mark.slow
def test_the_gap_wanted_sets_straps_where_the_bend_alone_would_not() -> None:
    """Once 2 7/16 in was said, where a check tells of 0.044 in of room."""
    rig = load_demo("long-legged-trail-wagon")
    limits = demo_ticket("long-legged-trail-wagon").limits
    found = checked(rig, "travel.droop", limits.free_droop + 25.4 / 8.0)
    assert {each.code for each in found.findings if each.verdict != "clear"} == {"joint-gap"}
    loose = build_ticket(changed(rig, {"wanted.gap": "0 in"})).limits
    assert loose.free_droop > limits.free_droop + 25.4 / 4.0
    assert loose.bends["pinion"] > limits.bends["pinion"]
    pinion = demo_ticket("long-legged-trail-wagon").found.joints["pinion"]
    assert loose.bends["pinion"] == pytest.approx(pinion.clear - rig.wanted.bend.rad, abs=1e-12)


@pytest.mark.slow
def test_bends_for_the_owner_are_those_that_a_check_calls_clear() -> None:
    made = demo_ticket("long-legged-trail-wagon")
    found = check(changed(load_demo("long-legged-trail-wagon"), {})).joints["pinion"]
    assert found.room.verdict(made.limits.bends["pinion"]) == "clear"
    assert found.room.verdict(made.limits.bends["pinion"] + BEND_STEP) == "close"


@pytest.mark.slow
def test_another_split_of_the_slip_comes_before_straps() -> None:
    made = demo_ticket("heather-moor-scout")
    limits, best = made.limits, made.slip.best
    assert limits.stopped_by == "slip"
    assert (limits.split_droop, limits.split_by) == (made.found.vehicle.travel.droop, "")
    slip = {"shaft.slip.closes": f"{best.closes} mm", "shaft.slip.opens": f"{best.opens} mm"}
    assert check(changed(load_demo("heather-moor-scout"), slip)).verdict == "clear"
    # The slip of this one is too short however it is split.
    assert demo_ticket("goat-path-buggy").limits.split_droop is None


@pytest.mark.slow
def test_a_crossmember_below_the_shaft_sets_straps() -> None:
    rig = with_crossmember("-2 in")
    limits = build_ticket(rig).limits
    assert (limits.stopped_by, limits.stopped_above) == ("crossmember", "")
    assert 0.0 < limits.free_droop < rig.travel.droop.mm
    assert checked(rig, "travel.droop", limits.free_droop).verdict == "clear"
    assert checked(rig, "travel.droop", limits.free_droop + 25.4 / 8.0).verdict == "close"


@pytest.mark.slow
def test_bump_stops_are_told_where_the_slip_bottoms() -> None:
    rig = changed(load_demo("quarry-hauler"), {"shaft.slip.closes": "1 1/8 in"})
    limits = build_ticket(rig).limits
    assert (limits.stopped_by, limits.stopped_above) == ("", "slip")
    assert checked(rig, "travel.bump", limits.free_bump).verdict == "clear"
    assert checked(rig, "travel.bump", limits.free_bump + 25.4 / 4.0).verdict == "close"


@pytest.mark.slow
def test_travel_beyond_the_readings_is_no_ground_for_straps() -> None:
    short = [
        {"at": at, "length": length, "points_down": down}
        for at, length, down in (
            ("4 in bump", "38 1/2 in", "1 1/2 deg"),
            ("ride", "39 3/8 in", "2 deg"),
            ("1 in droop", "39 5/8 in", "2 deg"),
        )
    ]
    rig = changed(load_demo("marsh-runner"), {"suspension.readings": short})
    limits = build_ticket(rig).limits
    assert (limits.stopped_by, limits.free_droop) == (READINGS, 25.4)


@pytest.mark.slow
def test_a_ticket_is_told_where_some_of_the_travel_cannot_be_reached() -> None:
    """A short shaft with a sliding yoke, hanging lower than it is long: bent to a right angle."""
    slip = 'slip = { at = "output", closes = "1 in", opens = "2 in" }'
    text = spoilt(PHONE_CALL, ('"36 5/16 in"', '"10 in"'), ("8 in", "9 in"))
    rig = parse_rig(f"{text}\n[shaft]\n{slip}\n{DRIVE}")
    told = build_ticket(rig)
    assert told.found.joints["output"].most == pytest.approx(pi / 2)
    assert {"touches", "out-of-reach"} <= {flag.code for flag in told.flags}
    assert told.stops
