"""Couples and cap forces of a bent joint: vector statics, power, limits."""

from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.strength import StrengthError, joint_load, slip_thrust
from tests.closed_forms import speed_ratio

bends = st.floats(0.0, radians(44.0))
spins = st.floats(0.0, 2.0 * pi)


def statics(bend, spin):
    """Moment of the cross (3,) of a unit torque in the driving shaft, and both shafts' directions.

    It acts along the normal of the bores, as no other moment passes the needles.
    """
    first, second = np.array([1.0, 0.0, 0.0]), np.array([-cos(bend), sin(bend), 0.0])
    bores = np.array([0.0, cos(spin), sin(spin)])
    normal = np.cross(bores, np.cross(bores, second))
    normal /= np.linalg.norm(normal)
    return normal / (normal @ first), first, second


@given(bend=bends, spin=spins)
def test_power_goes_through(bend, spin):
    """Torque out times speed out is torque in times speed in."""
    moment, _, second = statics(bend, spin)
    assert abs(moment @ second) * speed_ratio(spin, bend) == pytest.approx(1.0, rel=1e-9)


@pytest.mark.parametrize("bend", [0.0, 5.0, 30.0, 44.0, 50.0, 60.0])
def test_greatest_over_a_turn(bend):
    """The loads are the most that the statics of the cross come to at any spin."""
    bent = radians(bend)
    turned = [statics(bent, spin) for spin in np.linspace(0.0, 2.0 * pi, 721)]
    load = joint_load(1e6, bent, 30.0)
    couples = [np.linalg.norm(moment - first) for moment, first, _ in turned]
    torques = [abs(moment @ second) for moment, _, second in turned]
    crosses = [np.linalg.norm(moment) for moment, *_ in turned]
    assert 1e6 * max(couples) == pytest.approx(load.couple, rel=1e-9, abs=1e-3)
    assert 1e6 * max(torques) == pytest.approx(load.greatest_torque, rel=1e-9)
    assert 1e6 * max(crosses) == pytest.approx(2.0 * 30.0 * load.cap_force, rel=1e-9)


@given(bend=bends)
def test_cap_force_has_its_two_parts(bend):
    load = joint_load(1e6, bend, 30.0)
    assert load.cap_force**2 == pytest.approx(load.across**2 + load.along**2, rel=1e-12)


def test_a_straight_joint_bends_nothing():
    load = joint_load(-1e6, 0.0, 25.0)
    assert (load.couple, load.along) == (0.0, 0.0)
    assert load.cap_force == 20_000.0
    assert joint_load(1e6, 0.0, 25.0, thrust=-3000.0).along == 1500.0


def test_thrust_of_a_slip():
    """A block on a wedge of no slope: friction times the force on the flanks, T / r."""
    assert slip_thrust(-2e6, 40.0, 0.1) == pytest.approx(0.1 * 2e6 / 20.0, rel=1e-14)


@pytest.mark.parametrize(
    ("torque", "bend", "arm"), [(1.0, pi / 2, 30.0), (1.0, -0.1, 30.0), (1.0, 0.1, 0.0),
                                (float("nan"), 0.1, 30.0), (1.0, float("nan"), 30.0)]
)  # fmt: skip
def test_no_such_joint(torque, bend, arm):
    with pytest.raises(StrengthError, match="expected"):
        joint_load(torque, bend, arm)


def test_how_much_a_bend_costs():
    """At 30 deg a cap carries 15 % more and the tube is bent with 58 % of its torque."""
    load = joint_load(1.0, radians(30.0), 0.5)
    assert load.cap_force == pytest.approx(2.0 / 3.0**0.5, rel=1e-12)
    assert load.couple == pytest.approx(tan(radians(30.0)), rel=1e-12)
