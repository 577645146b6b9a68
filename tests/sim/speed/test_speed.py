"""Road and shaft speed, limits, orders: inverses, limits, what is refused."""

from math import inf, pi, radians, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cardan import greatest_acceleration
from sim.speed import (
    INERTIA,
    Gearing,
    SpeedError,
    bend_limit,
    speed_limit,
    vibrations,
)
from sim.speed.limits import MOST

GEARING = Gearing(400.0, 4.1, 0.75)
speeds = st.floats(20.0, 900.0)


@given(road=st.floats(0.0, 60_000.0))
def test_there_and_back(road):
    shaft = GEARING.shaft_speed(road)
    assert GEARING.road_speed(shaft) == pytest.approx(road, rel=1e-12)
    assert shaft == pytest.approx(4.1 * GEARING.wheel_speed(road), rel=1e-12)
    assert GEARING.engine_speed(road) == pytest.approx(0.75 * shaft, rel=1e-12)


@given(speed=speeds, limit=st.floats(50.0, 3000.0))
def test_bend_limit_is_where_the_joint_shakes_with_it(speed, limit):
    bend = bend_limit(speed, limit)
    if bend < MOST:
        assert speed**2 * float(greatest_acceleration(bend)) == pytest.approx(limit, rel=1e-9)
        assert speed_limit(bend, limit) == pytest.approx(speed, rel=1e-9)
    assert bend_limit(2.0 * speed, limit) < bend
    assert bend_limit(speed, 2.0 * limit) >= bend


def test_limits_at_no_speed_and_no_bend():
    assert bend_limit(0.0) == MOST
    assert speed_limit(0.0) == inf


@given(speed=st.floats(300.0, 900.0), limit=st.floats(50.0, 1000.0))
def test_small_bends_follow_speed_times_angle(speed, limit):
    """Better than 1 % up to 6 deg; the exact bend is the smaller, by less than b^2 / 3."""
    bend, rule = bend_limit(speed, limit), sqrt(limit) / speed
    assert rule * (1.0 - rule**2 / 3.0) < bend < rule


def test_orders_at_a_road_speed():
    found = {v.order.name: v.frequency for v in vibrations(GEARING, 20_000.0)}
    wheel = 20_000.0 / 400.0 / (2.0 * pi)
    assert found["wheel, once a turn"] == pytest.approx(wheel)
    assert found["shaft, once a turn"] == pytest.approx(4.1 * wheel)
    assert found["shaft, twice a turn"] == pytest.approx(8.2 * wheel)
    assert found["engine, once a turn"] == pytest.approx(0.75 * 4.1 * wheel)


@pytest.mark.parametrize(
    "made",
    [
        lambda: Gearing(0.0, 4.1),
        lambda: Gearing(400.0, 4.1, 0.0),
        lambda: GEARING.shaft_speed(-1.0),
        lambda: bend_limit(-1.0),
        lambda: bend_limit(1.0, 0.0),
        lambda: speed_limit(2.0),
    ],
)
def test_no_such_speed(made):
    with pytest.raises(SpeedError, match=r"got|not given"):
        made()


def test_limits_are_those_of_the_trade():
    assert (INERTIA, round(float(speed_limit(radians(3.0))), 0)) == (1000.0, 604.0)
