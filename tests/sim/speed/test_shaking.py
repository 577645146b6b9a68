"""Shaking of whole shafts and the best phase: symmetry, scaling, search against closed form."""

from math import cos, degrees, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cardan import ChainError, chain, equivalent_angle, greatest_acceleration
from sim.speed import (
    SpeedError,
    best_phase,
    cancelling_phase,
    excitation,
    whole_teeth,
)

slopes = st.floats(-20.0, 20.0)


def flat(*degs):
    return [[cos(radians(d)), 0.0, sin(radians(d))] for d in degs]


def askew(*pairs):
    return [[1.0, tan(radians(yaw)), tan(radians(pitch))] for pitch, yaw in pairs]


@given(first=slopes, second=slopes, speed=st.floats(1.0, 900.0))
def test_drive_and_coast_are_those_of_the_end_joints(first, second, speed):
    found = excitation(flat(0.0, first, first + second), speed)
    for told, bend in ((found.drive, first), (found.coast, second)):
        exact = speed**2 * float(greatest_acceleration(abs(radians(bend))))
        assert told == pytest.approx(exact, rel=1e-6, abs=1e-6 * speed**2)


@given(first=slopes, speed=st.floats(1.0, 900.0))
def test_equal_bends_leave_nothing(first, speed):
    for axes in (flat(0.0, first, 0.0), flat(0.0, first, 2.0 * first)):
        assert excitation(axes, speed).torsional == pytest.approx(0.0, abs=1e-9 * speed**2)


def test_turned_round_drive_and_coast_swap():
    """A two-piece shaft askew, with phases, seen from its other end."""
    axes = np.array(askew((-2.0, 0.0), (-7.0, 3.0), (-12.0, -2.0), (1.0, 1.0)))
    one = excitation(axes, 300.0, [0.3, -0.5])
    other = excitation(-axes[::-1], 300.0, [-0.5, 0.3])
    assert (one.drive, one.coast) == pytest.approx((other.coast, other.drive), rel=1e-9)


def test_driving_back_turns_each_joint_the_same_way():
    """Turned evenly from either end, the two leads are each other's inverse."""
    axes = np.array(askew((-2.0, 0.0), (-9.0, 4.0), (3.0, -2.0)))
    ahead, back = chain(axes, [0.4]), chain(-axes[::-1], [0.4])
    assert ahead.speed_ratio.max() == pytest.approx(1.0 / back.speed_ratio.min(), rel=1e-6)
    assert ahead.speed_ratio.min() == pytest.approx(1.0 / back.speed_ratio.max(), rel=1e-6)


def test_what_is_past_a_limit_is_told():
    found = excitation(flat(0.0, 9.0, 2.0), 300.0)
    assert {flag.code for flag in found.flags} == {
        "torsional-over", "inertia-drive-over", "inertia-coast-over",
    }  # fmt: skip
    straight = excitation(flat(0.0, 0.2, 0.0), 300.0)
    assert [flag.code for flag in straight.flags] == ["too-straight"]
    assert not excitation(flat(0.0, 2.0, 0.0), 300.0).flags


@pytest.mark.slow
@given(speed=st.floats(1.0, 500.0), factor=st.floats(0.1, 4.0))
def test_grows_with_the_square_of_the_speed(speed, factor):
    one, other = (excitation(flat(0.0, 8.0, 5.0), f * speed) for f in (1.0, factor))
    for name in ("torsional", "drive", "coast"):
        told = factor**2 * getattr(one, name)
        assert getattr(other, name) == pytest.approx(told, rel=1e-12)


angle = st.floats(-25.0, 25.0)


@pytest.mark.slow
@settings(max_examples=12)
@given(pairs=st.tuples(st.tuples(angle, angle), st.tuples(angle, angle), st.tuples(angle, angle)))
def test_search_finds_the_closed_form(pairs):
    """Random shafts in space: no phase leaves less than the one that lines the bend planes up; to
    3e-5, which the samples of a turn miss its peak by."""
    axes = askew(*pairs)
    closed = cancelling_phase(axes)
    at_closed = chain(axes, [closed]).greatest_acceleration
    found = best_phase(axes)
    left, in_line = (chain(axes, p, samples=96).greatest_acceleration for p in (found, [0.0]))
    assert at_closed <= left * (1.0 + 3e-5) + 1e-9
    assert left <= in_line + 1e-12
    assert -pi / 2 < found[0] <= pi / 2


@settings(max_examples=30)
@given(pairs=st.tuples(st.tuples(angle, angle), st.tuples(angle, angle), st.tuples(angle, angle)))
def test_what_the_best_phase_leaves_for_small_bends(pairs):
    """sqrt(|b1^2 - b2^2|), from bends of a tenth of those."""
    axes = askew(*((0.1 * p, 0.1 * q) for p, q in pairs))
    turning = chain(axes, [cancelling_phase(axes)])
    left = abs(turning.bends[0] ** 2 - turning.bends[1] ** 2)
    assert turning.greatest_acceleration == pytest.approx(left, rel=0.02, abs=1e-5)
    assert turning.equivalent_angle**2 == pytest.approx(left, abs=1e-9)


def test_two_free_phases_cancel_three_unlike_joints():
    """Bends 6, 8 and 10 deg: turned right, three small vectors close a triangle, and nearly nothing
    is left; in line they leave 10^2 + 6^2 - 8^2 or the like."""
    axes = flat(0.0, 6.0, -2.0, 8.0)
    turning = chain(axes, list(best_phase(axes)))
    assert turning.greatest_acceleration < 0.02 * chain(axes).greatest_acceleration
    assert equivalent_angle(turning.bends, turning.ear_turns) < radians(1.5)


def test_a_straight_joint_has_no_best_phase():
    assert cancelling_phase(flat(0.0, 0.0, 5.0)) == 0.0
    assert cancelling_phase(flat(0.0, 5.0, 5.0)) == 0.0


def test_phase_in_whole_teeth():
    """16 teeth: 22.5 deg each; -30 deg is one tooth back, -22.5."""
    moved, phase = whole_teeth(radians(-30.0), 16)
    assert (moved, degrees(phase)) == (-1, pytest.approx(-22.5))
    assert whole_teeth(radians(178.0), 16) == (0, 0.0)


def test_refused():
    with pytest.raises(ChainError, match="3 or 4"):
        best_phase(flat(0.0, 5.0))
    with pytest.raises(ChainError, match="three"):
        cancelling_phase(flat(0.0, 5.0, 3.0, 1.0))
    with pytest.raises(SpeedError, match="speed"):
        excitation(flat(0.0, 5.0, 3.0), -1.0)
    with pytest.raises(SpeedError, match="teeth"):
        whole_teeth(0.1, 0)
