"""Wind-up of leaf springs and torque at the axle, against tables computed apart and a textbook."""

from math import degrees, pi, radians

import pytest

from sim.derive import derive
from sim.rig import parse_rig
from sim.wrap.estimate import Estimate
from sim.wrap.springs import from_leaves, from_rate, spring_wrap
from sim.wrap.torque import AxleTorque, grip, low_gear, pinion_torque
from tests.sim.rigs import PHONE_CALL

exactly = Estimate.exactly


@pytest.mark.parametrize(
    ("ahead", "behind", "rates", "windup", "per_degree"),
    [
        (600.0, 600.0, (17.5, 17.5), 12_600.0, 219.911),
        (550.0, 700.0, (24.94545, 12.1), 12_730.98, 222.198),
    ],
)
def test_windup(ahead, behind, rates, windup, per_degree):
    """Computed apart, and measured with a frame program; k 35 N/mm; N m/rad and N m/deg."""
    spring = from_rate(35.0, ahead, behind)
    assert (spring.rate_ahead, spring.rate_behind) == pytest.approx(rates, abs=5e-6)
    assert spring.windup / 1e3 == pytest.approx(windup, abs=5e-3)
    assert spring.windup / 1e3 * pi / 180.0 == pytest.approx(per_degree, abs=5e-4)


def test_the_short_cut_is_right_for_equal_halves_only():
    """k a b would say 13 475 N m/rad for 550 and 700 mm; the true number is less."""
    assert 35.0 * 550.0 * 700.0 / 1e3 == 13_475.0
    assert from_rate(35.0, 550.0, 700.0).windup / 1e3 < 13_475.0 - 700.0
    assert from_rate(35.0, 600.0, 600.0).windup == pytest.approx(35.0 * 600.0**2, rel=1e-12)


def test_wrap_of_two_springs():
    """2000 N m in the shaft through 4.1, linear: 18.644 deg."""
    spring = from_rate(35.0, 600.0, 600.0)
    told = spring_wrap(exactly(spring.windup), exactly(2.0e6 * 4.1))
    assert degrees(told.value) == pytest.approx(18.644, abs=5e-4)


def test_rate_of_a_spring_from_its_leaves():
    """[SARKAR, prob. 8.10]: 750 mm, 8 kN for 20 mm, 200 MPa; unrounded t 7.03125 mm, b 84.375 mm,
    n 10.788 with E 200 GPa, which the deflection formula of the problem implies."""
    spring = from_leaves(10.788, 84.375, 7.03125, 375.0, 375.0, modulus=200_000.0)
    assert spring.vertical == pytest.approx(8000.0 / 20.0, rel=5e-5)
    modulus = 200.0 * 750.0**2 / (4.0 * 7.03125 * 20.0)
    assert modulus == pytest.approx(200_000.0, rel=1e-12)


def test_torque_in_low_gear_and_the_grip_of_the_tyres():
    """Computed apart with g = 9.81: 3953.52 N m in the shaft, slip at 1366.70 N m."""
    engine = low_gear(exactly(450e3), gear=3.8, transfer=2.72, efficiency=0.85)
    slips = grip(exactly(1600.0 * 9.81), exactly(0.85), 420.0, 4.10)
    assert engine.value / 1e3 == pytest.approx(3953.52, abs=5e-3)
    assert slips.value / 1e3 == pytest.approx(1366.70, abs=5e-3)
    with_losses = grip(exactly(1600.0 * 9.81), exactly(0.85), 420.0, 4.10, efficiency=0.95)
    assert with_losses.value / 1e3 == pytest.approx(1438.63, abs=5e-3)
    assert pinion_torque(engine, slips).governs == "grip"


def test_torque_at_the_wheels_of_an_owners_sum():
    """350 N m x 4.556 x 2 x 4.111: 13 110.8 N m."""
    shaft = low_gear(exactly(350e3), gear=4.556, transfer=2.0, efficiency=1.0)
    wheels = AxleTorque.of(pinion_torque(shaft, exactly(1e9)), 4.111).driving
    assert wheels.value / 1e3 == pytest.approx(13_110.8, abs=0.15)


def test_degrees_that_circulate_are_met_by_ordinary_springs():
    """Ordinary leaves 4 to 7 deg, soft ones over the axle 7 to 12 (common practice, no source):
    the grip of a light axle on springs of 45 and of 30 N/mm."""
    torque = grip(exactly(0.5 * 1900.0 * 9.81), exactly(0.6), 370.0, 1.0)
    ordinary = spring_wrap(exactly(from_rate(45.0, 600.0, 650.0).windup), torque)
    soft = spring_wrap(exactly(from_rate(30.0, 600.0, 650.0).windup), torque, 90.0, 370.0)
    assert radians(3.0) < ordinary.value < radians(7.0)
    assert radians(5.0) < soft.value < radians(12.0)


def test_a_rig_file_comes_to_the_numbers_of_the_tables():
    """Two springs of 12 600 N m/rad; 3953.52 N m in the shaft against a grip of 1366.70 N m."""
    wrap = """
    [wrap]
    kind = "springs"
    rate = "35 N/mm"
    ahead = "600 mm"
    behind = "600 mm"
    seat_higher = "0 mm"
    [wrap.drive]
    engine_torque = "450 N m"
    low_gear = 3.8
    low_range = 2.72
    efficiency = 0.85
    axle_ratio = 4.10
    axle_load = "15.696 kN"
    tyre_radius = "420 mm"
    friction = 0.85
    """
    found = derive(parse_rig(PHONE_CALL + wrap)).wrap
    assert found.up_governs == "grip"
    assert found.torque.driving.value / 4.10 / 1e3 == pytest.approx(1366.70, abs=5e-3)
    assert found.nose_up.value == pytest.approx(1366.70 * 4.10 / 25_200.0, rel=1e-5)
