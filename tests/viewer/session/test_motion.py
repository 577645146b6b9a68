"""Pose and turn: held inside the travel, typed, stepped, played."""

from itertools import pairwise
from math import pi, sin, tau

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.vehicle import Pose, TravelRegion
from viewer.pose.posing import PoseTextError
from viewer.session.moving.drives import DRIVES
from viewer.session.moving.legs import between, poses_between
from viewer.session.moving.motion import AXES, STEPS, Motion

BOX = TravelRegion(bump=100.0, droop=200.0, roll=0.15, nose_up=0.2, nose_down=0.1)
STOPS = TravelRegion(100.0, 200.0, 0.15, 0.2, 0.1, stops_apart=800.0, wrap_at_droop=0.4)
STIFF = TravelRegion(bump=0.0, droop=0.0, roll=0.0, nose_up=0.0, nose_down=0.0)

far = st.floats(-1e4, 1e4)


@given(travel=far, roll=far, wrap=far, spin=far)
def test_the_pose_stays_inside_the_travel(
    travel: float, roll: float, wrap: float, spin: float
) -> None:
    motion = Motion(BOX)
    motion.go(travel=travel, roll=roll, wrap=wrap, spin=spin)
    for axis in AXES:
        low, high = motion.bounds(axis)
        assert low <= motion.value(axis) <= high
    assert motion.at == Pose(
        min(max(travel, -200.0), 100.0), min(max(roll, -0.15), 0.15), min(max(wrap, -0.1), 0.2)
    )
    assert motion.spin == pytest.approx(spin % tau, abs=1e-9)


shares = st.floats(-1.0, 1.0)
held = st.builds(STOPS.at_shares, shares, shares, shares)


@given(one=held, other=held, share=st.floats(0.0, 1.0))
def test_between_two_poses_within_the_stops_lie_others_by_one_and_by_many(
    one: Pose, other: Pose, share: float
) -> None:
    """A wheel's height goes with the sine of the roll, and evenly; so both are in one straight."""
    at = between(one, other, share)
    assert STOPS.contains(at.travel, at.roll, at.wrap)
    (many,) = poses_between(one, other, np.array([share]))
    np.testing.assert_allclose(many, (at.travel, at.roll, at.wrap), rtol=0.0, atol=1e-9)
    wheels = [each.travel + 400.0 * sin(each.roll) for each in (one, at, other)]
    assert wheels[1] == pytest.approx((1.0 - share) * wheels[0] + share * wheels[2], abs=1e-9)


@given(start=st.floats(-100, 60), notches=st.integers(-5, 5))
def test_steps_there_and_back_end_where_they_began(start: float, notches: int) -> None:
    motion = Motion(BOX)
    motion.go(travel=start)
    motion.step("travel", 0)
    settled = motion.at.travel
    assert settled == pytest.approx(start, abs=STEPS["travel"] / 128 + 1e-9)
    for _ in range(abs(notches)):
        motion.step("travel", 1 if notches > 0 else -1)
    assert motion.at.travel == pytest.approx(settled + notches * STEPS["travel"], abs=1e-9)
    motion.step("travel", -notches)
    assert motion.at.travel == pytest.approx(settled, abs=1e-9)


@pytest.mark.parametrize(
    ("axis", "text", "one", "other"),
    [
        ("travel", "6 in", "6 in bump", "6 in droop"),
        ("roll", "3 deg", "3 deg left up", "3 deg right up"),
        ("wrap", "4 deg", "4 deg nose up", "4 deg nose down"),
    ],
)
def test_a_number_that_says_neither_way_is_asked_back(axis, text, one, other) -> None:
    motion = Motion(BOX)
    before = motion.at
    with pytest.raises(PoseTextError, match=f'expected "{one}" or "{other}"'):
        motion.type(axis, text)
    assert motion.at == before
    for said in (f"+{text}", f"-{text}", one, other):
        motion.type(axis, said)
        assert motion.at != before
        motion.type(axis, "0")
    motion.type("spin", "90 deg")


def test_what_is_typed_is_what_the_axle_does() -> None:
    motion = Motion(BOX)
    motion.type("travel", "6 in droop")
    motion.type("roll", "3 deg left up")
    motion.type("wrap", "4 deg nose down")
    motion.type("spin", "90 deg")
    assert motion.at.travel == pytest.approx(-152.4, abs=1e-9)
    assert motion.at.roll == pytest.approx(3 * pi / 180, abs=1e-12)
    assert motion.at.wrap == pytest.approx(-4 * pi / 180, abs=1e-12)
    assert motion.spin == pytest.approx(pi / 2, abs=1e-12)
    with pytest.raises(PoseTextError, match="expected"):
        motion.type("travel", "a lot")
    assert motion.at.travel == pytest.approx(-152.4, abs=1e-9)


def test_it_is_told_once_for_each_move_and_not_where_nothing_moves() -> None:
    motion, heard = Motion(BOX), []
    motion.moved.connect(lambda: heard.append(motion.at))
    motion.go(travel=10.0, roll=0.1)
    motion.go(travel=10.0)
    motion.go(travel=500.0)
    motion.go(travel=600.0)
    assert heard == [Pose(10.0, 0.1), Pose(100.0, 0.1)]


def test_a_shorter_travel_takes_the_axle_along() -> None:
    motion = Motion(BOX)
    motion.go(travel=-180.0)
    motion.bound(TravelRegion(bump=50.0, droop=120.0, roll=0.0, nose_up=0.0, nose_down=0.0))
    assert motion.at == Pose(-120.0)


@pytest.mark.parametrize("front", [False, True])
@pytest.mark.parametrize("name", list(DRIVES))
def test_a_drive_begins_and_ends_where_the_axle_rests(name: str, front: bool) -> None:
    motion = Motion(BOX, front)
    motion.play(DRIVES[name])
    seen = []
    for _ in range(1000):
        motion.advance(0.02)
        seen.append(motion.at)
        if motion.drive is None:
            break
    assert motion.drive is None
    assert not motion.playing
    for axis in ("travel", "roll", "wrap"):
        assert abs(getattr(seen[-1], axis)) < 1e-9
    jumps = [abs(b.travel - a.travel) for a, b in pairwise(seen)]
    assert max(jumps) < 5.0


def test_drives_reach_the_ends_they_are_named_after() -> None:
    half = {name: DRIVES[name].pose(DRIVES[name].seconds / 2, BOX, front=False) for name in DRIVES}
    assert half["droop"] == Pose(-200.0)
    assert half["bump"] == Pose(100.0)
    assert half["launch"].wrap == pytest.approx(0.2, abs=1e-12)
    assert half["braking"].wrap == pytest.approx(-0.1, abs=1e-12)
    quarter = DRIVES["crossed up"].pose(DRIVES["crossed up"].seconds / 4, BOX, front=False)
    assert quarter.roll == pytest.approx(0.15, abs=1e-12)


def test_a_front_axle_dives_under_power() -> None:
    launch = DRIVES["launch"].pose(2.5, BOX, front=True)
    assert launch.wrap == pytest.approx(-0.1, abs=1e-12)
    assert launch.travel < 0.0


def test_speed_and_pause() -> None:
    slow, fast = Motion(BOX), Motion(BOX)
    fast.speed = 4.0
    for motion in (slow, fast):
        motion.play(DRIVES["droop"])
    for _ in range(4):
        slow.advance(0.1)
    fast.advance(0.1)
    assert fast.at.travel == pytest.approx(slow.at.travel, abs=1e-9)
    slow.pause()
    held = slow.at
    slow.advance(1.0)
    assert slow.at == held
    slow.pause()
    slow.advance(0.1)
    assert slow.at != held
    slow.stop()
    assert slow.drive is None


def test_an_axle_that_does_not_move_still_turns() -> None:
    motion = Motion(STIFF)
    for name in DRIVES:
        before = motion.spin
        motion.play(DRIVES[name])
        motion.advance(0.5)
        assert motion.at == Pose()
        assert motion.spin == pytest.approx((before + tau * 0.25) % tau, abs=1e-9)


@given(moves=st.lists(st.tuples(st.sampled_from(AXES), st.floats(-300, 300)), max_size=8))
def test_between_stops_every_move_ends_where_the_axle_can_be(
    moves: list[tuple[str, float]],
) -> None:
    """Both side heights by hand: travel plus and minus 400 mm times the sine of the roll."""
    motion = Motion(STOPS)
    for axis, size in moves:
        motion.go(**{axis: size if axis == "travel" else size / 1500.0})
        at = motion.at
        for side in (1.0, -1.0):
            height = at.travel + side * 400.0 * sin(at.roll)
            assert -200.0 - 1e-6 <= height <= 100.0 + 1e-6
        assert abs(at.roll) <= 0.15
        share = 1.0 - 0.6 * min(1.0, max(0.0, -at.travel / 200.0))
        assert -0.1 * share - 1e-9 <= at.wrap <= 0.2 * share + 1e-9


def test_what_is_moved_goes_first_and_what_gave_way_comes_back() -> None:
    motion = Motion(STOPS)
    motion.go(roll=0.15)
    motion.go(travel=-200.0)
    assert motion.at == Pose(-200.0, 0.0, 0.0)
    motion.go(travel=-100.0)
    assert motion.at.roll == 0.15
    motion.go(travel=-200.0)
    motion.go(roll=0.1)
    assert motion.at.roll == 0.1
    assert motion.at.travel == pytest.approx(-200.0 + 400.0 * sin(0.1), abs=1e-6)
    motion.go(roll=0.0)
    assert motion.at == Pose(-200.0)


def test_a_typed_pose_is_shown_outside_and_held_with_the_next_move() -> None:
    motion = Motion(STOPS)
    motion.go(travel=-200.0)
    motion.type("roll", "5 deg left up")
    assert motion.at == Pose(-200.0, 5 * pi / 180, 0.0)
    motion.go(spin=1.0)
    assert motion.at == Pose(-200.0, 5 * pi / 180, 0.0)
    motion.step("travel", 1)
    assert STOPS.contains(motion.at.travel, motion.at.roll, motion.at.wrap)


@pytest.mark.parametrize("front", [False, True])
@pytest.mark.parametrize("name", list(DRIVES))
def test_every_drive_keeps_to_where_the_axle_can_be(name: str, front: bool) -> None:
    drive = DRIVES[name]
    poses = [drive.pose(drive.seconds * i / 200, STOPS, front) for i in range(201)]
    for at in poses:
        assert STOPS.contains(at.travel, at.roll, at.wrap)
    if name == "crossed up":
        assert max(at.roll for at in poses) == pytest.approx(0.15, abs=1e-9)
        assert min(at.roll for at in poses) == pytest.approx(-0.15, abs=1e-9)
