from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.line import line
from sim.suspension.base import SuspensionError
from sim.suspension.measured.motion import Measured, Reading
from tests.sim.vehicles import measured, plain, vehicles

QUIET = settings(deadline=None, max_examples=60)

P_C_OUTPUT, P_A_PINION = (1180.0, 30.0, 230.0), (280.0, -10.0, 15.0)
RIDE_LENGTH = float(np.linalg.norm(np.subtract(P_C_OUTPUT, P_A_PINION)))


def with_readings(*readings, **more):
    return Measured(p_C_output=P_C_OUTPUT, p_A_pinion=P_A_PINION, readings=readings, **more)


def points_up(axle, front):
    """Side-view angle by which a pinion that points along the housing's x points up, rad."""
    ahead = axle.direction([-1.0 if front else 1.0, 0.0, 0.0])
    return np.arctan2(ahead[..., 2], -ahead[..., 0] if front else ahead[..., 0])


@pytest.mark.slow
@given(data=st.data())
@QUIET
def test_every_reading_is_reproduced(data):
    vehicle = data.draw(vehicles("measured", at="shaft"))
    suspension = vehicle.suspension
    travel = np.array([reading.travel for reading in suspension.readings])
    state = line(vehicle, travel, 0.0, 0.0)
    lengths = [reading.length for reading in suspension.readings]
    np.testing.assert_allclose(state.length, lengths, rtol=0, atol=1e-9)
    axle = suspension.poses(travel, 0.0, 0.0)
    angles = [reading.points_up - 0.04 for reading in suspension.readings]
    np.testing.assert_allclose(points_up(axle, vehicle.front), angles, rtol=0, atol=1e-9)


def test_three_readings_of_a_parabola_give_it_back_everywhere():
    def shift(t):
        return 2e-4 * t * (t - 70.0)

    def nose(t):
        return -3e-4 * t + 2e-7 * t * t

    moves = [(t, shift(t), nose(t)) for t in (-200.0, 0.0, 100.0)]
    suspension = measured(False, P_C_OUTPUT, P_A_PINION, moves)
    t = np.linspace(-200.0, 100.0, 61)
    axle = suspension.poses(t, 0.0, 0.0)
    np.testing.assert_allclose(axle.p_C_A[:, 0], shift(t), rtol=0, atol=1e-10)
    np.testing.assert_allclose(axle.p_C_A[:, 2], t, rtol=0, atol=0)
    np.testing.assert_allclose(points_up(axle, False), nose(t), rtol=0, atol=1e-13)


def test_more_readings_close_in_on_an_arc_with_fourth_order():
    def shift(t):
        return np.sqrt(450.0**2 - (t - 40.0) ** 2) - np.sqrt(450.0**2 - 40.0**2)

    t = np.linspace(-200.0, 200.0, 401)
    errors = []
    for steps in (8, 16, 32):
        heights = np.linspace(-200.0, 200.0, steps + 1)
        suspension = measured(
            False, P_C_OUTPUT, P_A_PINION, [(float(h), float(shift(h)), 0.0) for h in heights]
        )
        got = suspension.poses(t, 0.0, 0.0).p_C_A[:, 0]
        errors.append(np.abs(got - shift(t)).max())
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert (orders > 3.5).all(), (errors, orders)


def test_outside_the_readings_it_goes_on_straight_and_says_so():
    moves = [(-150.0, 9.0, 0.03), (-60.0, 2.0, 0.02), (0.0, 0.0, 0.0), (80.0, 3.0, -0.02)]
    suspension = measured(True, P_C_OUTPUT, (-280.0, 0.0, 0.0), moves)
    assert suspension.range() == (-150.0, 80.0)
    for end, outward in ((-150.0, -1.0), (80.0, 1.0)):
        axle = suspension.poses(end + outward * np.array([0.0, 20.0, 40.0, 60.0]), 0.0, 0.0)
        for values in (axle.p_C_A[:, 0], points_up(axle, True)):
            steps = np.diff(values)
            np.testing.assert_allclose(steps, steps[0], rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("end", [-150.0, 80.0])
def test_the_curve_has_no_kink_where_the_readings_end(end):
    moves = [(-150.0, 9.0, 0.03), (-60.0, 2.0, 0.02), (0.0, 0.0, 0.0), (80.0, 3.0, -0.02)]
    suspension = measured(False, P_C_OUTPUT, P_A_PINION, moves)
    h = 1e-3
    x = suspension.poses(end + h * np.array([-1.0, 0.0, 1.0]), 0.0, 0.0).p_C_A[:, 0]
    np.testing.assert_allclose((x[2] - x[1]) / h, (x[1] - x[0]) / h, rtol=0, atol=1e-5)


def test_a_ride_reading_within_the_tape_error_shifts_all_lengths_alike():
    exact = with_readings(
        Reading(-150.0, 940.0, 0.05), Reading(0.0, RIDE_LENGTH, 0.02), Reading(90.0, 915.0, 0.0)
    )
    taped = with_readings(
        Reading(-150.0, 942.0, 0.05),
        Reading(0.0, RIDE_LENGTH + 2.0, 0.02),
        Reading(90.0, 917.0, 0.0),
    )
    assert exact.ride_error == pytest.approx(0.0, abs=1e-9)
    assert taped.ride_error == pytest.approx(2.0, abs=1e-9)
    np.testing.assert_allclose(taped.shift_and_pitch, exact.shift_and_pitch, rtol=0, atol=1e-9)


def test_roll_is_about_the_housing_centre():
    suspension = measured(False, P_C_OUTPUT, P_A_PINION, [(-99, 2, 0.01), (0, 0, 0), (99, 2, 0)])
    level, rolled = suspension.poses(50.0, 0.0, 0.0), suspension.poses(50.0, 0.1, 0.0)
    np.testing.assert_array_equal(rolled.p_C_A, level.p_C_A)


def test_readings_come_in_any_order():
    readings = (
        Reading(-150.0, 940.0, 0.05),
        Reading(0.0, RIDE_LENGTH, 0.02),
        Reading(90.0, 915.0, 0.0),
    )
    assert with_readings(*readings) == with_readings(*readings[::-1])


RIDE = Reading(0.0, RIDE_LENGTH, 0.02)
LOW, HIGH = Reading(-150.0, 940.0, 0.05), Reading(90.0, 915.0, 0.0)


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        ((RIDE, LOW), "got 2 heights, expected at least 3"),
        ((LOW, HIGH, Reading(30.0, 920.0, 0.0)), "expected exactly one at ride height"),
        ((RIDE, RIDE, HIGH), "expected exactly one at ride height"),
        ((RIDE, HIGH, replace(HIGH, travel=90.001)), "expected unlike heights"),
        ((RIDE, LOW, replace(HIGH, length=float("nan"))), "expected finite numbers"),
        ((RIDE, LOW, replace(HIGH, length=-5.0)), "a length above zero"),
        ((RIDE, LOW, replace(HIGH, length=50.0)), "the joints are apart in height"),
        ((replace(RIDE, length=RIDE_LENGTH + 20.0), LOW, HIGH), "expected the same within"),
    ],
)
def test_impossible_readings_are_refused_by_name(readings, says):
    with pytest.raises(SuspensionError, match=says):
        with_readings(*readings)


def test_a_reading_of_the_plain_vehicle_matches_its_suspension():
    vehicle = plain()
    t = np.array([-180.0, 0.0, 90.0])
    lengths = line(vehicle, t, 0.0, 0.0).length
    again = Measured(
        p_C_output=tuple(vehicle.p_C_output.tolist()),
        p_A_pinion=tuple(vehicle.p_A_pinion.tolist()),
        readings=tuple(Reading(*pair, 0.02) for pair in zip(t.tolist(), lengths, strict=True)),
    )
    at = np.linspace(-180.0, 90.0, 19)
    for ours, theirs in zip(
        line(replace(vehicle, suspension=again), at, 0.05, 0.03).p_C_pinion,
        line(vehicle, at, 0.05, 0.03).p_C_pinion,
        strict=True,
    ):
        np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-9)
