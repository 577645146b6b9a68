"""From which speed on shake is felt: the exact chain by finite differences, tables of the trade."""

from dataclasses import replace
from math import degrees, inf, pi, radians, tan

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.cardan import chain
from sim.derive import vehicle_of
from sim.frames import spoken_direction
from sim.line import running, shafts, turn
from sim.rig import load_demo
from sim.speed import (
    ABSURD,
    LOADS,
    RPM,
    Gearing,
    driven,
    excitation,
    felt,
    felt_by_load,
    pose_under,
)
from sim.suspension.vertical import Vertical
from sim.vehicle import Slip, TravelRegion, Vehicle
from tests.sim.vehicles import vehicles
from viewer.words.felt import felt_above, felt_number


def level(first: float, last: float, wrap: float = 0.0) -> Vehicle:
    """A rear shaft in a plane, 1 m long and level, its joints bent so (rad; opposite signs: Z)."""
    return Vehicle(
        p_C_output=(1280.0, 0.0, 200.0),
        axis_C_output=-spoken_direction(forward=False, down=first, left=0.0),
        p_A_pinion=(280.0, 0.0, 200.0),
        axis_A_pinion=-spoken_direction(forward=True, down=-last, left=0.0),
        suspension=Vertical(front=False, wrap_centre=(0.0, 0.0, 0.0)),
        travel=TravelRegion(bump=50.0, droop=50.0, roll=0.0, nose_up=wrap, nose_down=wrap),
        slip=Slip("shaft", 40.0, 80.0),
        front=False,
    )


@pytest.mark.parametrize(
    ("rpm", "bend"),
    [(3500, 5.0), (3000, 5.83), (2500, 7.0), (2000, 8.67), (1500, 11.5)],
)
def test_equal_bends_are_felt_where_the_trades_table_of_speed_and_bend_has_them(rpm, bend):
    """Its limit is 994 to 1023 rad/s2 in place of 1000; speed goes with the root of that."""
    found = felt(level(radians(bend), radians(bend)))
    assert found.governs in ("drive", "coast")
    assert found.speed / RPM == pytest.approx(rpm, rel=0.013)


@pytest.mark.parametrize(
    ("first", "second", "rpm"),
    [(0, 7.3, 1500), (4, 8.3, 1500), (0, 6.9, 1600), (0, 6.5, 1700), (6, 8.8, 1700)],
)
def test_unequal_bends_are_felt_where_the_table_of_two_joint_angles_has_them(first, second, rpm):
    """Printed to 0.1 deg, by a small-angle rule; 400 rad/s2 left at the pinion."""
    found = felt(level(radians(first), radians(second)))
    assert found.governs == "torsional"
    assert found.speed / RPM == pytest.approx(rpm, rel=0.02)


@given(vehicle=vehicles(), load=st.sampled_from(LOADS))
@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
def test_at_that_speed_what_governs_shakes_with_its_limit(vehicle, load):
    """Accelerations here are second differences of the turned joints, no chain of theirs."""
    found = felt(vehicle, load=load)
    at = pose_under(vehicle.travel, vehicle.front, load)
    spins = np.arange(720) * (2.0 * pi / 720)
    state = turn(vehicle, at.travel, at.roll, at.wrap, spins)
    bends = [float(np.atleast_1d(bend)[0]) for bend in state.line.bends.values()]
    angles = np.unwrap(np.arctan2(np.sin(spins), np.cos(spins) * np.cos(bends[0])))
    far = np.unwrap(_driven(state.spins["pinion"], bends[1]))
    swing = {"drive": angles, "torsional": far}
    if found.governs in swing:
        step = 2.0 * pi / 720
        lead = swing[found.governs] - spins
        second = (np.roll(lead, 1) - 2.0 * lead + np.roll(lead, -1)) / step**2
        assert np.abs(second).max() * found.speed**2 == pytest.approx(found.limit, rel=3e-3)


def _driven(spin, bend):
    """Turn of a driven yoke by the tan law, in the quarter of its driving one."""
    return np.arctan2(np.sin(spin), np.cos(spin) * np.cos(bend))


def test_each_load_sits_where_the_wrap_puts_it():
    vehicle = level(radians(3.0), radians(3.0), wrap=radians(8.0))
    by_load = felt_by_load(vehicle)
    assert degrees(pose_under(vehicle.travel, False, "power").wrap) == pytest.approx(4.0)
    assert degrees(pose_under(vehicle.travel, False, "coast").wrap) == pytest.approx(-2.0)
    for load, found in by_load.items():
        at = pose_under(vehicle.travel, False, load)
        left = running(vehicle, at).greatest_acceleration
        assert found.load == load
        if found.governs == "torsional":
            assert found.speed == pytest.approx((400.0 / left) ** 0.5, rel=1e-9)
    assert by_load["power"].speed < by_load["level"].speed


def test_a_front_axle_wraps_the_other_way():
    travel = TravelRegion(bump=50.0, droop=50.0, roll=0.0, nose_up=0.1, nose_down=0.2)
    assert driven(travel, front=True) == pytest.approx(-0.1)
    assert pose_under(travel, True, "coast").wrap == pytest.approx(0.025)
    assert pose_under(travel, True, "level").wrap == 0.0


def test_a_straight_shaft_is_never_felt():
    found = felt(level(0.0, 0.0), Gearing(400.0, 4.1))
    assert (found.speed, found.road, found.bend) == (inf, None, 0.0)
    assert not found.ever
    assert felt_above(found) == "not felt at any speed"


def test_the_road_speed_is_that_of_the_gearing():
    gearing = Gearing(tyre_radius=400.0, axle_ratio=4.0)
    found = felt(level(radians(7.0), radians(7.0)), gearing)
    assert found.road == pytest.approx(found.speed * 400.0 / 4.0, rel=1e-12)
    assert gearing.shaft_speed(found.road) == pytest.approx(found.speed, rel=1e-12)
    assert felt_above(found) == "felt above 58 mph (93 km/h), shaft 2,470 rpm"
    assert felt_above(found, top=2000 * RPM) == (
        "not felt up to top speed; it would be above 58 mph (93 km/h), shaft 2,470 rpm"
    )
    assert degrees(found.bend) == pytest.approx(7.0, abs=1e-6)
    assert felt_number(found) == "(uneven as one joint bent 7.0 deg)"


def test_a_heads_centre_yoke_is_no_shaft():
    """What a head passes on is nearly even, though its center yoke turns like a bent joint's."""
    vehicle = vehicle_of(load_demo("short-tailed-scout"))
    axes, phases = shafts(vehicle)
    found, whole = felt(vehicle), excitation(axes, 1.0, phases)
    assert found.speed > 2.0 * (1000.0 / whole.drive) ** 0.5
    behind = chain(axes[:3], phases[:1]).greatest_acceleration
    back = chain(-axes[:1:-1], ()).greatest_acceleration
    expected = min((1000.0 / max(behind, back)) ** 0.5, (400.0 / whole.torsional) ** 0.5)
    assert found.speed == pytest.approx(expected, rel=1e-9)


def test_without_heads_it_agrees_with_what_build_tells():
    """A shaft in three pieces of chain: the same limits, the same exact chain."""
    for name in ("timber-crew-carrier", "marsh-runner"):
        vehicle = vehicle_of(load_demo(name))
        axes, phases = shafts(vehicle)
        shake = excitation(axes, felt(vehicle).speed, phases)
        most = max(shake.torsional / 400.0, shake.drive / 1000.0, shake.coast / 1000.0)
        assert most == pytest.approx(1.0, rel=1e-9)


def test_it_is_felt_sooner_with_more_bend():
    speeds = [felt(level(radians(b), radians(0.5 * b))).speed for b in (2, 4, 8, 16)]
    assert speeds == sorted(speeds, reverse=True)
    small = felt(level(radians(0.2), radians(0.2)))
    assert small.speed > ABSURD
    assert small.speed == pytest.approx((1000.0 / tan(radians(0.2)) ** 2) ** 0.5, rel=1e-4)


def test_a_shaft_turned_round_swaps_drive_and_coast():
    one = felt(level(radians(9.0), radians(8.0)))
    other = felt(level(radians(8.0), radians(9.0)))
    assert (one.governs, other.governs) == ("drive", "coast")
    assert one.speed == pytest.approx(other.speed, rel=1e-9)
    assert replace(one, gearing=None) == one
