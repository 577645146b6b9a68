import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from sim.cardan import (
    ChainError,
    acceleration,
    angle_of_greatest_acceleration,
    bend_of_lead,
    chain,
    equivalent_angle,
    greatest_acceleration,
)
from tests.closed_forms import greatest_lead, lead, speed_ratio

QUIET = settings(deadline=None, max_examples=60)
BENDS = st.floats(0.01, 1.2)
ANGLES = st.floats(-20.0, 20.0)


def planar(*headings):
    """Directions in one plane, headings in degrees."""
    a = np.radians(headings)
    return np.stack([np.cos(a), np.zeros_like(a), np.sin(a)], axis=-1)


@given(angle=ANGLES, bend=BENDS)
@QUIET
def test_speed_and_acceleration_are_the_derivatives(angle, bend):
    """Finite differences; the step's own error grows with the bend."""
    h = 1e-5
    slope = 1.0 + (lead(angle + h, bend) - lead(angle - h, bend)) / (2 * h)
    np.testing.assert_allclose(speed_ratio(angle, bend), slope, rtol=1e-6, atol=0)
    slope = (speed_ratio(angle + h, bend) - speed_ratio(angle - h, bend)) / (2 * h)
    np.testing.assert_allclose(acceleration(angle, bend), slope, rtol=1e-6, atol=1e-8)


@given(bend=BENDS)
@QUIET
def test_the_extremes_are_those_of_a_whole_turn(bend):
    angle = np.linspace(0.0, 2 * np.pi, 72001)
    np.testing.assert_allclose(bend_of_lead(lead(angle, bend).max()), bend, rtol=1e-6, atol=1e-12)
    alpha = acceleration(angle, bend)
    np.testing.assert_allclose(greatest_acceleration(bend), alpha.max(), rtol=1e-5)
    assert (greatest_acceleration(bend) >= alpha - 1e-12).all()
    assert acceleration(angle_of_greatest_acceleration(bend), bend) < 0.0


def test_a_straight_joint_is_even():
    straight = chain(planar(0.0, 0.0))
    np.testing.assert_allclose(straight.speed_ratio, 1.0, rtol=0, atol=1e-15)
    assert bend_of_lead(0.0) == greatest_acceleration(0.0) == 0.0
    assert angle_of_greatest_acceleration(0.0) == pytest.approx(np.pi / 4, rel=1e-15)


def test_near_a_right_angle_everything_stays_finite():
    assert np.isfinite(greatest_acceleration(np.radians(89.9)))


@given(bend=st.floats(0.01, 1.0))
@QUIET
def test_one_joint_as_a_chain_is_the_joint(bend):
    turned = chain(planar(0.0, np.degrees(bend)), samples=360)
    np.testing.assert_allclose(turned.lead, lead(turned.angle, bend), rtol=0, atol=1e-13)
    np.testing.assert_allclose(turned.speed_ratio, speed_ratio(turned.angle, bend), rtol=1e-12)
    np.testing.assert_allclose(
        turned.acceleration, acceleration(turned.angle, bend), rtol=0, atol=1e-7
    )
    assert turned.lead_amplitude == pytest.approx(float(greatest_lead(bend)), rel=1e-6)
    assert turned.greatest_acceleration == pytest.approx(
        float(greatest_acceleration(bend)), rel=1e-5
    )
    assert turned.equivalent_angle == pytest.approx(bend, rel=1e-12)


@given(
    one=st.floats(1.0, 30.0),
    two=st.floats(1.0, 30.0),
    phase=st.floats(-3.0, 3.0),
    third=st.floats(-30.0, 30.0),
)
@QUIET
def test_a_planar_chain_is_the_joints_one_after_the_other(one, two, phase, third):
    """The exact vectors against the tan law applied joint by joint."""
    turned = chain(planar(0.0, one, one + two, one + two + third), [phase, 0.3])
    angle = turned.angle
    for bend, offset in ((one, np.pi / 2 + phase), (two, np.pi / 2 + 0.3), (third, 0.0)):
        angle = angle + lead(angle, np.radians(abs(bend))) + offset
    ahead = angle - turned.angle
    np.testing.assert_allclose(turned.lead, ahead - ahead.mean(), rtol=0, atol=1e-12)


@pytest.mark.slow
@given(bend=st.floats(0.5, 35.0), sense=st.sampled_from((1.0, -1.0)), aside=st.floats(0.1, 6.0))
@QUIET
def test_equal_bends_in_line_cancel_and_a_quarter_turn_out_they_add(bend, sense, aside):
    z_or_w = planar(0.0, bend, bend + sense * bend)
    even, uneven = chain(z_or_w), chain(z_or_w, [np.pi / 2])
    assert even.lead_amplitude < 1e-12
    assert even.greatest_acceleration < 1e-10
    assert even.equivalent_angle < 1e-6
    assert uneven.equivalent_angle == pytest.approx(np.sqrt(2) * np.radians(bend), rel=1e-9)
    assert chain(z_or_w, [np.radians(aside)]).lead_amplitude > 0.0


def test_joints_in_two_planes_cancel_when_the_phase_makes_up_for_the_planes():
    """Equal bends whose planes are 40 deg apart about the middle shaft need that much phase."""
    first = [np.cos(0.3), 0.0, np.sin(0.3)]
    out = np.array([np.cos(0.3), np.sin(0.3) * np.sin(0.7), np.sin(0.3) * np.cos(0.7)])
    axes = np.array([first, [1.0, 0.0, 0.0], out])
    dihedral = [chain(axes, [p]).lead_amplitude for p in (0.7, -0.7, np.pi - 0.7, 0.7 - np.pi)]
    assert min(dihedral) < 1e-12


def test_the_small_angle_rule_becomes_exact_with_the_square_of_the_bends():
    """Convergence order of its relative error, two joints of 2:1 and a phase."""
    errors = []
    for size in (8.0, 4.0, 2.0, 1.0):
        turned = chain(planar(0.0, size, size + 0.5 * size), [0.4])
        errors.append(abs(turned.equivalent_angle**2 / turned.greatest_acceleration - 1.0))
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    np.testing.assert_allclose(orders, 2.0, rtol=0, atol=0.1)


@pytest.mark.parametrize("bend", [0.1, 5.0, 30.0, 75.0])
def test_the_one_joint_that_runs_like_several_is_exact(bend):
    """One joint is itself; two, a quarter turn out of phase, are one with cos(b)^2 (tan law)."""
    one = chain(planar(0.0, bend))
    assert one.like_one_joint == pytest.approx(np.radians(bend), rel=1e-6)
    two = chain(planar(0.0, bend, 2.0 * bend), [np.pi / 2])
    alike = np.arccos(np.cos(np.radians(bend)) ** 2)
    assert two.like_one_joint == pytest.approx(alike, rel=1e-6)
    assert chain(planar(0.0, bend, 2.0 * bend)).like_one_joint < 1e-6


def test_a_chain_leads_as_much_as_the_one_joint_it_runs_like():
    """Unequal bends in space against the numerical chain of the one joint; far from the rule."""
    axes = np.array([[1.0, 0.1, 0.0], [1.0, 0.0, 0.9], [0.4, 0.6, 0.9], [0.9, 0.9, 0.1]])
    several = chain(axes, [0.3, -0.8])
    one = chain(planar(0.0, np.degrees(several.like_one_joint)))
    assert one.lead_amplitude == pytest.approx(several.lead_amplitude, rel=1e-6)
    assert abs(several.equivalent_angle / several.like_one_joint - 1.0) > 0.01


def test_no_joint_leads_by_a_right_angle():
    found = bend_of_lead(np.radians([0.0, 89.999, 90.0, 120.0]))
    np.testing.assert_allclose(np.degrees(found), [0.0, 90.0, 90.0, 90.0], rtol=0, atol=0.01)


def test_equivalent_angle_of_a_batch():
    bends = np.radians([[3.0, 4.0], [5.0, 5.0]])
    turns = np.array([[0.0, 0.0], [0.0, np.pi / 2]])
    np.testing.assert_allclose(
        np.degrees(equivalent_angle(bends, turns)), [5.0, 0.0], rtol=1e-12, atol=1e-6
    )


@given(seed=st.integers(0, 2**32 - 1))
@QUIET
def test_turning_the_whole_chain_changes_nothing(seed):
    rng = np.random.default_rng(seed)
    axes = np.array([1.0, 0.0, 0.0]) + rng.uniform(-0.3, 0.3, (4, 3))
    R = Rotation.random(rng=rng).as_matrix()
    here, there = chain(axes, [0.2, -0.5]), chain(axes @ R.T, [0.2, -0.5])
    np.testing.assert_allclose(there.lead, here.lead, rtol=0, atol=1e-11)
    np.testing.assert_allclose(there.speed_ratio, here.speed_ratio, rtol=0, atol=1e-11)


def test_a_chain_needs_axes_and_fitting_phases():
    with pytest.raises(ChainError, match="got 1 axes"):
        chain([[1.0, 0.0, 0.0]])
    with pytest.raises(ChainError, match="got 2 axes and 1 phases"):
        chain(planar(0.0, 5.0), [0.1])
