"""What is left of a joint is one number: in the pose, on the strip, on the map, in the check."""

from collections.abc import Callable
from dataclasses import replace
from math import degrees, inf, radians

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.pose import PoseCheck, pose_of
from sim.vehicle import Pose
from tests.viewer.session.conftest import checked, out_of_reach
from viewer.session.charts.travel_map import travel_map
from viewer.session.charts.turn_strip import StripWork, certified
from viewer.session.session import Session
from viewer.words.now import (
    left_words,
    now_limit,
    now_lines,
    now_says,
    now_told,
    now_word,
    room_words,
)
from viewer.words.poses import pose_words
from viewer.words.units import left_degrees

Opening = Callable[[str], Session]
RIGS = ("long-legged-trail-wagon", "short-tailed-scout", "timber-crew-carrier")
BOUND = st.floats(-1.0, 1.0)


def pose_at(name: str, share: tuple[float, float, float]) -> Pose:
    """A pose at a share, -1 to 1, of each way the axle goes."""
    box = checked(name).derivation.vehicle.travel
    travel, roll, wrap = share
    return Pose(
        travel * (box.bump if travel > 0.0 else box.droop),
        roll * box.roll,
        wrap * (box.nose_up if wrap > 0.0 else box.nose_down),
    )


@pytest.mark.parametrize("name", RIGS)
@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(share=st.tuples(BOUND, BOUND, BOUND))
def test_the_tightest_spot_of_the_strip_is_what_is_left_at_any_turn(
    name: str, share: tuple[float, float, float]
) -> None:
    result, at = checked(name), pose_at(name, share)
    now = pose_of(result, at, 0.0)
    for joint, found in now.joints.items():
        strip = StripWork(result, joint, at).strip
        assert strip.tightest.left == pytest.approx(found.left, abs=1e-12)
        assert (strip.left >= found.left - 1e-12).all()
        fine = StripWork(result, joint, at, 2880).strip
        for spot in strip.spots:
            near = int(np.argmin(np.abs(np.angle(np.exp(1j * (fine.spin - spot.spin))))))
            assert fine.left[near] == pytest.approx(spot.left, abs=radians(0.03))


@pytest.mark.parametrize("name", RIGS)
def test_the_limit_lies_under_the_course_by_no_more_than_the_certificate(name: str) -> None:
    for found in checked(name).joints.values():
        curve = found.curve
        spin, limit = certified(curve)
        assert limit.min() == pytest.approx(curve.certified_clear, abs=1e-12)
        np.testing.assert_array_equal(spin, curve.course[0])
        lowered = curve.course[1] - limit
        assert np.ptp(lowered) < 1e-12, "the shape of the curve stays"
        assert radians(0.01) < lowered.max() < radians(0.1)


def test_nothing_is_lowered_where_nothing_touches() -> None:
    curve = checked(RIGS[0]).joints["pinion"].curve
    free = replace(curve, first=None, touch_min=inf)
    np.testing.assert_array_equal(certified(free), curve.course)


@pytest.mark.parametrize("name", RIGS)
def test_pose_strip_map_and_check_print_the_same(name: str) -> None:
    result = checked(name)
    for joint, found in result.joints.items():
        at = found.sweep.most.at
        now = pose_of(result, at, 0.0)
        shown = left_words(found.margin, result.rig.wanted.bend.rad)
        turn = "at any turn" if found.margin > 0.0 else "at some turn"
        assert room_words(now.joints[joint]).startswith(f"{shown} {turn}")
        assert shown in now_lines(now)
        strip = StripWork(result, joint, at).strip
        assert left_words(strip.tightest.left, result.rig.wanted.bend.rad) == shown
        there = travel_map(result, at.roll)
        row, column = (
            np.abs(there.wrap - at.wrap).argmin(),
            np.abs(there.travel - at.travel).argmin(),
        )
        if there.wrap[row] == at.wrap and there.travel[column] == at.travel:
            room = radians(there.room[joint][row, column])
            assert left_words(room, result.rig.wanted.bend.rad) == shown


@pytest.mark.parametrize(
    ("left", "wanted", "words"),
    [
        (11.04, 2.0, "11.0 deg left"),
        (1.96, 2.0, "1.96 deg left"),
        (2.04, 2.0, "2.0 deg left"),
        (0.03, 2.0, "0.03 deg left"),
        (-0.03, 2.0, "0.03 deg too far"),
        (-9.417, 2.0, "9.4 deg too far"),
        (0.0, 2.0, "just touching"),
        (-1e-5, 2.0, "just touching"),
        (inf, 2.0, "no contact at any bend"),
    ],
)
def test_what_is_less_than_wanted_reads_as_less(left: float, wanted: float, words: str) -> None:
    assert left_words(radians(left), radians(wanted)) == words


def test_words_of_a_room_go_with_its_size() -> None:
    assert left_degrees(radians(-2.25)) == left_degrees(radians(2.25))


def slid(
    now: PoseCheck, closes_left: float | None = None, opens_left: float | None = None
) -> PoseCheck:
    """A pose with the slip (mm) where it has that much left."""
    slip, state = now.vehicle.slip, now.state
    moved = slip.opens - opens_left if opens_left is not None else closes_left - slip.closes
    return replace(now, state=replace(state, line=replace(state.line, slip=np.array(moved))))


def at_ride() -> PoseCheck:
    return pose_of(checked(RIGS[0]), Pose(), 0.0)


def test_the_word_is_followed_by_what_decides() -> None:
    now = at_ride()
    left = degrees(now.joints["pinion"].left)
    assert (now_word(now), now_limit(now)) == ("CLEAR", f"{left:.1f} deg left at the pinion joint")
    assert now_told(now) == f"At ride height: {now_limit(now)}, 2 1/2 in (63.5 mm) of slip."
    assert now_says(now) == f"Clear a{now_told(now)[1:]}"
    worst = checked(RIGS[0]).joints["pinion"].sweep.most.at
    now = pose_of(checked(RIGS[0]), worst, 0.0)
    assert (now_word(now), now_limit(now)) == (
        "TOUCHES",
        "pinion joint 8.4 deg too far at some turn",
    )
    assert now_told(now) == (
        f"At {pose_words(worst)}: the pinion joint hits. It bends 33.9 deg, 8.4 deg too far."
    )


def test_the_slip_decides_where_it_is_worse_than_the_joints() -> None:
    now = slid(at_ride(), closes_left=-9.0)
    assert (now_word(now), now_limit(now)) == ("RUNS OUT", "slip bottomed by 3/8 in (9.0 mm)")
    now = slid(at_ride(), opens_left=-9.0)
    assert now_limit(now) == "slip short of spline by 3/8 in (9.0 mm)"
    assert now_told(now) == f"At ride height: {now_limit(now)}."
    now = slid(at_ride(), opens_left=0.0)
    assert now_limit(now) == "slip has nothing left to open"
    now = slid(at_ride(), opens_left=12.7)
    assert (now_word(now), now_limit(now)) == (
        "CLOSE",
        "1/2 in (12.7 mm) of slip left to open",
    )
    assert now_says(now) == f"Close at ride height: {now_limit(now)}."
    now = out_of_reach(at_ride())
    assert now_word(now) == "OUT OF REACH"
    assert now_told(now) == now_says(now)
