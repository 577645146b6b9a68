"""Road and shaft speed, limits, orders: inverses, limits, what is refused."""

from math import inf, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cardan import greatest_acceleration
from sim.speed import (
    INERTIA,
    ORDERS,
    Gearing,
    SpeedError,
    bend_limit,
    nearest_orders,
    road_speed_of,
    second_bend_limit,
    speed_angle,
    speed_limit,
    vibrations,
)
from sim.speed.limits import MOST

GEARING = Gearing(
    400.0, 4.1, gears=(3.8, 2.0, 1.4, 1.0, 0.75), ranges=(1.0, 2.72), engine_top=500.0
)
speeds = st.floats(20.0, 900.0)


@given(road=st.floats(0.0, 60_000.0))
def test_there_and_back(road):
    shaft = GEARING.shaft_speed(road)
    assert GEARING.road_speed(shaft) == pytest.approx(road, rel=1e-12)
    assert shaft == pytest.approx(4.1 * GEARING.wheel_speed(road), rel=1e-12)
    assert GEARING.engine_speed(road) == pytest.approx(0.75 * shaft, rel=1e-12)
    assert GEARING.engine_speed(road, 0, 1) == pytest.approx(3.8 * 2.72 * shaft, rel=1e-12)


def test_what_the_gears_allow():
    """Overdrive turns the shaft faster than the engine; low gear in low range slowest."""
    found = GEARING.top_speeds()
    assert len(found) == 10
    assert [row.shaft for row in found[:5]] == sorted(row.shaft for row in found[:5])
    assert found[4].shaft == pytest.approx(500.0 / 0.75)
    assert found[5].shaft == min(row.shaft for row in found)
    for row in found:
        assert GEARING.engine_speed(row.road, row.gear - 1, row.range) == pytest.approx(500.0)


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
    assert second_bend_limit(0.0, 1e-6) == MOST


@given(speed=st.floats(300.0, 900.0), limit=st.floats(50.0, 1000.0))
def test_small_bends_follow_speed_times_angle(speed, limit):
    """Better than 1 % up to 6 deg; the exact bend is the smaller, by less than b^2 / 3."""
    bend, rule = bend_limit(speed, limit), speed_angle(limit) / speed
    assert rule * (1.0 - rule**2 / 3.0) < bend < rule


@given(first=st.floats(0.0, 0.3), speed=speeds, limit=st.floats(50.0, 1000.0))
def test_second_bend_leaves_what_is_allowed(first, speed, limit):
    second = second_bend_limit(first, speed, limit)
    if second < MOST:
        assert speed**2 * (second**2 - first**2) == pytest.approx(limit, rel=1e-9)


def test_orders_at_a_road_speed():
    found = {v.order.name: v.frequency for v in vibrations(GEARING, 20_000.0, 3)}
    wheel = 20_000.0 / 400.0 / (2.0 * pi)
    assert found["wheel, once a turn"] == pytest.approx(wheel)
    assert found["shaft, once a turn"] == pytest.approx(4.1 * wheel)
    assert found["shaft, twice a turn"] == pytest.approx(8.2 * wheel)
    assert found["engine, once a turn"] == pytest.approx(4.1 * wheel)


@pytest.mark.parametrize("order", ORDERS)
def test_a_measured_frequency_points_at_its_order(order):
    """In overdrive, where no two orders fall together."""
    exact = {v.order.name: v.frequency for v in vibrations(GEARING, 25_000.0)}
    found = nearest_orders(GEARING, 25_000.0, 1.03 * exact[order.name])
    assert found[0].order == order
    assert order.causes
    assert order.source == "common practice, no source"


def test_where_the_critical_speed_is_met():
    """Twice a turn meets it at half the road speed."""
    once, twice = (road_speed_of(GEARING, 100.0, per_turn) for per_turn in (1.0, 2.0))
    assert once == pytest.approx(2.0 * twice, rel=1e-12)
    assert GEARING.shaft_speed(once) == pytest.approx(200.0 * pi, rel=1e-12)


@pytest.mark.parametrize(
    "made",
    [
        lambda: Gearing(0.0, 4.1),
        lambda: Gearing(400.0, 4.1, gears=()),
        lambda: Gearing(400.0, 4.1, gears=(3.8, -1.0)),
        lambda: Gearing(400.0, 4.1, engine_top=0.0),
        lambda: Gearing(400.0, 4.1).top_speeds(),
        lambda: GEARING.shaft_speed(-1.0),
        lambda: GEARING.engine_speed(1.0, gear=5),
        lambda: GEARING.engine_speed(1.0, low=2),
        lambda: bend_limit(-1.0),
        lambda: bend_limit(1.0, 0.0),
        lambda: speed_limit(2.0),
        lambda: second_bend_limit(0.1, 0.0),
        lambda: nearest_orders(GEARING, 1.0, 0.0),
    ],
)
def test_no_such_speed(made):
    with pytest.raises(SpeedError, match=r"got|not given"):
        made()


def test_limits_are_those_of_the_trade():
    assert (INERTIA, round(float(speed_limit(radians(3.0))), 0)) == (1000.0, 604.0)
