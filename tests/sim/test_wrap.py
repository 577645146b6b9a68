"""Wrap in degrees: readings, springs, bushes, and how far off each may be."""

from dataclasses import replace
from math import asin, degrees, inf, nan, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.suspension.leaf.motion import clamp_rotation
from sim.suspension.links.torque import under_torque
from sim.wrap.bushes import bush_wrap
from sim.wrap.estimate import Estimate, WrapError, carried
from sim.wrap.simple_test import MeasuredWrap, from_angles, from_mark
from sim.wrap.springs import HalfRates, from_leaves, from_rate, spring_wrap
from sim.wrap.torque import AxleTorque, grip, low_gear, pinion_torque, torque_of_pull
from tests.sim.linkages import PARALLEL, RADIUS_ARMS, THREE_LINK

exactly, within = Estimate.exactly, Estimate.within
KNOWN = exactly(2.0e6)


# --- estimates


@given(
    low=st.floats(1.0, 5.0), middle=st.floats(5.0, 6.0), high=st.floats(6.0, 9.0),
    share=st.floats(0.0, 1.0), other=st.floats(0.0, 1.0),
)  # fmt: skip
def test_what_may_be_stays_within_what_is_told(low, middle, high, share, other):
    a, b = Estimate(low, low, middle), Estimate(middle, low, high)
    told = carried(lambda x, y: x / y, a, b)
    x, y = a.low + share * (a.high - a.low), b.low + other * (b.high - b.low)
    assert told.low * (1.0 - 1e-15) <= x / y <= told.high * (1.0 + 1e-15)


def test_ways_to_say_an_estimate():
    assert within(10.0, 2.0) == Estimate(10.0, 8.0, 12.0)
    assert Estimate.share(-10.0, 0.1) == Estimate(-10.0, -11.0, -9.0)
    assert exactly(3.0).spread == 0.0
    assert within(3.0, 1.0).spread == 2.0


@pytest.mark.parametrize("numbers", [(1.0, 2.0, 3.0), (2.0, 1.0, 1.5), (nan, 1.0, 2.0),
                                     (1.0, 1.0, inf)])  # fmt: skip
def test_an_estimate_out_of_order_is_refused(numbers):
    with pytest.raises(WrapError, match="in that order"):
        Estimate(*numbers)


# --- two angles


def test_two_angles_are_off_by_two_readings():
    test = from_angles(radians(2.0), radians(7.5), KNOWN)
    assert [degrees(v) for v in (test.wrap.value, test.wrap.low, test.wrap.high)] == (
        pytest.approx([5.5, 4.5, 6.5], rel=1e-12)
    )
    assert test.told


def test_the_squat_of_the_frame_is_taken_off():
    """The frame noses up by 1 deg while the pinion goes from 2 down to 6 up."""
    test = from_angles(radians(-2.0), radians(6.0), KNOWN, chassis=(radians(0.5), radians(1.5)))
    assert degrees(test.wrap.value) == pytest.approx(7.0, rel=1e-12)
    assert degrees(test.wrap.spread) == pytest.approx(4.0, rel=1e-12)


def test_a_wrap_within_the_readings_tells_nothing():
    test = from_angles(0.0, radians(0.8), KNOWN)
    assert not test.told
    assert test.at(exactly(4.0e6)).low < 0.0 < test.at(exactly(4.0e6)).high


def test_wrap_at_another_torque():
    test = from_angles(0.0, radians(5.0), Estimate.share(2.0e6, 0.1))
    full = test.at(exactly(6.0e6))
    assert degrees(full.value) == pytest.approx(15.0)
    assert degrees(full.low) == pytest.approx(4.0 * 6.0 / 2.2)
    assert degrees(full.high) == pytest.approx(6.0 * 6.0 / 1.8)
    backward = test.at(exactly(-6.0e6))
    assert (backward.low, backward.high) == pytest.approx((-full.high, -full.low))


def test_a_torque_that_turns_the_nose_down_gives_the_same_wrap():
    up = from_angles(0.0, radians(5.0), KNOWN)
    down = from_angles(0.0, radians(-5.0), exactly(-2.0e6))
    assert up.at(KNOWN) == down.at(KNOWN)


# --- a mark


@given(wrap=st.floats(-0.25, 0.25), slope=st.floats(-0.5, 0.5), lever=st.floats(150.0, 400.0))
def test_a_mark_gives_back_the_turn_that_made_it(wrap, slope, lever):
    rise = lever * (sin(slope + wrap) - sin(slope))
    test = from_mark(rise, lever, KNOWN, slope, reading=0.0)
    assert test.wrap.value == pytest.approx(wrap, abs=1e-9)
    assert test.wrap.spread == 0.0


def test_a_mark_is_off_by_its_length_and_its_lever():
    test = from_mark(25.0, 280.0, KNOWN, reading=1.0)
    assert test.wrap.value == asin(25.0 / 280.0)
    assert test.wrap.low == asin(24.0 / 281.0)
    assert test.wrap.high == asin(26.0 / 279.0)
    down = from_mark(-25.0, 280.0, KNOWN, reading=1.0)
    assert (down.wrap.low, down.wrap.high) == (-test.wrap.high, -test.wrap.low)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: from_mark(300.0, 280.0, KNOWN), "less than the mark can rise"),
        (lambda: from_mark(1.0, 0.0, KNOWN), "lever of the mark: got 0.0 mm"),
        (lambda: from_mark(nan, 200.0, KNOWN), "rise: got nan"),
        (lambda: from_mark(1.0, 200.0, KNOWN, slope=2.0), "under a right angle"),
        (lambda: from_angles(0.0, inf, KNOWN), "after: got inf"),
        (lambda: from_angles(0.0, 0.1, within(1.0, 2.0)), "surely not zero"),
        (lambda: MeasuredWrap(exactly(0.1), exactly(0.0)), "surely not zero"),
        (lambda: from_rate(0.0, 600.0, 600.0), "spring rate: got 0.0"),
        (lambda: from_leaves(0, 60.0, 7.0, 600.0, 600.0), "spring leaves: got 0"),
        (lambda: HalfRates(600.0, -1.0, 17.0, 17.0), "spring behind: got -1.0"),
        (lambda: spring_wrap(exactly(1e7), exactly(1e6), 80.0, 0.0), "tire radius: got 0.0"),
        (lambda: low_gear(exactly(1.0), gear=0.0), "gear: got 0.0"),
        (lambda: grip(exactly(1.0), exactly(1.0), -1.0, 4.1), "tyre_radius: got -1.0"),
        (lambda: bush_wrap(THREE_LINK, exactly(1e6), stiffness_off=1.0), "stiffness_off: got 1.0"),
        (lambda: bush_wrap(THREE_LINK, exactly(1e6), travel=-900.0), "out of reach"),
    ],
)
def test_what_cannot_be_is_refused_by_name(make, says):
    with pytest.raises(WrapError, match=says):
        make()


# --- springs


@given(a=st.floats(300.0, 900.0), b=st.floats(300.0, 900.0), ka=st.floats(5.0, 60.0),
       kb=st.floats(5.0, 60.0))  # fmt: skip
def test_rates_of_two_cantilevers_on_a_clamp(a, b, ka, kb):
    """Own derivation: eyes pinned at their heights, clamp lifted by z and turned by t. The eyes
    push ka (z + a t) and kb (z - b t); a force F and a moment M on the clamp balance them."""
    stiffness = np.array([[ka + kb, a * ka - b * kb], [a * ka - b * kb, a * a * ka + b * b * kb]])
    z, t = np.linalg.solve(stiffness, [1.0, 0.0])
    spring = HalfRates(a, b, ka, kb)
    assert spring.vertical == pytest.approx(1.0 / z, rel=1e-9)
    _, t = np.linalg.solve(stiffness, [0.0, 1.0])
    assert spring.windup == pytest.approx(1.0 / t, rel=1e-9)


@given(a=st.floats(300.0, 900.0), b=st.floats(300.0, 900.0))
def test_the_turn_of_the_clamp_is_that_of_the_leaf_suspension(a, b):
    spring = from_rate(35.0, a, b)
    ka, kb = spring.rate_ahead, spring.rate_behind
    turn = (b / ka - a / kb) / (b**2 / ka + a**2 / kb)
    assert turn == pytest.approx(clamp_rotation(a, b), rel=1e-9, abs=1e-15)
    assert spring.vertical == pytest.approx(35.0, rel=1e-12)


def test_springs_over_the_axle_wrap_more_and_under_it_less():
    over, level, under = (
        spring_wrap(exactly(1.26e7), exactly(8.0e6), seat, 400.0).value
        for seat in (80.0, 0.0, -80.0)
    )
    assert over == pytest.approx(1.2 * level)
    assert under == pytest.approx(0.8 * level)
    assert spring_wrap(exactly(1.26e7), exactly(8.0e6)).value == level


def test_the_spread_of_the_springs_is_carried():
    told = spring_wrap(Estimate.share(1.26e7, 0.1), Estimate.share(8.0e6, 0.2))
    assert told.low == pytest.approx(6.4e6 / (2.2 * 1.26e7))
    assert told.high == pytest.approx(9.6e6 / (1.8 * 1.26e7))


# --- torque


def test_the_lesser_of_engine_and_grip_governs():
    weak = pinion_torque(exactly(1.0e6), exactly(1.4e6))
    strong = pinion_torque(exactly(4.0e6), exactly(1.4e6))
    assert (weak.governs, weak.torque.value) == ("engine", 1.0e6)
    assert (strong.governs, strong.torque.value) == ("grip", 1.4e6)
    either = pinion_torque(within(1.3e6, 0.3e6), within(1.4e6, 0.1e6))
    assert (either.torque.low, either.torque.high) == (1.0e6, 1.5e6)
    assert AxleTorque.of(strong, 4.1).driving.value == pytest.approx(1.4e6 * 4.1)


def test_a_pull_on_a_bar():
    assert torque_of_pull(within(500.0, 50.0), within(1000.0, 10.0)) == Estimate(
        5.0e5, 450.0 * 990.0, 550.0 * 1010.0
    )


# --- bushes


def test_softer_bushes_wrap_more():
    told = bush_wrap(THREE_LINK, exactly(3.0e6), 400.0, stiffness_off=0.25)
    assert told.wrap.value == float(under_torque(THREE_LINK, 3.0e6, 400.0).wrap)
    assert told.wrap.high / told.wrap.value == pytest.approx(1.0 / 0.75, rel=0.02)
    assert told.wrap.low / told.wrap.value == pytest.approx(1.0 / 1.25, rel=0.02)
    assert told.softest in {"upper", "lower", "lower right"}
    assert 0.5 < degrees(told.wrap.value) < 4.0


def test_a_front_axle_noses_down_when_it_drives():
    told = bush_wrap(RADIUS_ARMS, Estimate.share(3.0e6, 0.1), 400.0)
    assert told.wrap.high < 0.0


def stiffer(links, scale):
    """The same links with every bush so many times as stiff."""
    return replace(
        links,
        bush_stiffness=scale * links.bush_stiffness,
        members=tuple(
            m if m.stiffness is None else replace(m, stiffness=scale * m.stiffness)
            for m in links.members
        ),
    )


@pytest.mark.parametrize("scale", [0.7, 1.3])
@pytest.mark.parametrize("links", [THREE_LINK, PARALLEL, RADIUS_ARMS])
def test_other_bushes_are_the_same_bushes_under_another_torque(links, scale):
    np.testing.assert_allclose(
        under_torque(stiffer(links, scale), 3.0e6, 400.0, -60.0, 0.05).wrap,
        under_torque(links, 3.0e6 / scale, 400.0, -60.0, 0.05).wrap,
        rtol=1e-6,
        atol=0,
    )


def test_the_spread_is_that_of_the_bushes_where_the_links_hardly_reach():
    """What a bush can give is no matter of how stiff it is: the spread at a pose that just comes
    within reach is as wide as with all the give there is."""
    links, travel, roll = PARALLEL, -80.0, 0.12
    needed = float(links.give(travel, roll).most)
    assert needed > 0.0
    tight = replace(links, most_give=1.01 * needed)
    told = bush_wrap(tight, exactly(3.0e6), 400.0, travel=travel, roll=roll)
    ample = bush_wrap(replace(links, most_give=1e3), exactly(3.0e6), 400.0, 0.3, travel, roll)
    assert told.wrap == ample.wrap
    assert told.bottoms
    assert not ample.bottoms
    for scale, end in ((1.3, told.wrap.low), (0.7, told.wrap.high)):
        wrap = float(under_torque(stiffer(tight, scale), 3.0e6, 400.0, travel, roll).wrap)
        assert end == pytest.approx(wrap, rel=1e-6)


def test_a_torque_beyond_the_links_is_told_and_no_spread_is_made_up():
    with pytest.raises(WrapError, match="the links and their bushings can balance"):
        bush_wrap(THREE_LINK, exactly(1.0e12), 400.0)
