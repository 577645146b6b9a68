from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.line import line
from sim.search.envelope import envelope
from sim.vehicle import Slip, TravelRegion
from tests.sim.vehicles import ends, first_contacts, measured, plain, vehicles

FLAT = TravelRegion(bump=100.0, droop=200.0, roll=0.0, nose_up=0.0, nose_down=0.0)


def test_a_flat_layout_has_closed_forms():
    """Side view only: slope atan((230 - travel) / 900); own derivation."""
    found = envelope(plain(travel=FLAT))
    low, ride, high = (np.arctan2(h, 900.0) for h in (430.0, 230.0, 130.0))
    assert found.joints["output"].most.value == pytest.approx(low - 0.05, abs=1e-12)
    assert found.joints["output"].most.at.travel == pytest.approx(-200.0, abs=1e-9)
    assert found.joints["output"].least.value == pytest.approx(high - 0.05, abs=1e-12)
    assert found.joints["output"].ride == pytest.approx(ride - 0.05, abs=1e-14)
    assert found.joints["pinion"].most.value == pytest.approx(low - 0.02, abs=1e-12)
    lengths = [np.hypot(900.0, h) for h in (130.0, 230.0, 430.0)]
    assert found.length_least == pytest.approx(lengths[0], abs=1e-9)
    assert found.length_ride == pytest.approx(lengths[1], abs=1e-9)
    assert found.length_most == pytest.approx(lengths[2], abs=1e-9)
    assert found.slip.closes_left == pytest.approx(30.0 + lengths[0] - lengths[1], abs=1e-9)
    assert found.slip.opens_left == pytest.approx(60.0 + lengths[1] - lengths[2], abs=1e-9)
    assert found.slip.apart_left == pytest.approx(100.0 + lengths[1] - lengths[2], abs=1e-9)
    assert found.unreachable is None
    assert found.extrapolated == (0.0, 0.0)


def test_the_least_bend_and_length_lie_inside_the_travel_when_it_passes_them():
    """The shaft is shortest where both joints are level, straight where the slopes agree."""
    vehicle = plain(travel=replace(FLAT, bump=300.0))
    found = envelope(vehicle)
    assert found.slip.shortest.at.travel == pytest.approx(230.0, abs=1e-3)
    assert found.length_least == pytest.approx(900.0, abs=1e-9)
    assert found.joints["output"].least.value == pytest.approx(0.0, abs=1e-7)
    assert found.joints["output"].least.at.travel == pytest.approx(
        230.0 - 900.0 * np.tan(0.05), abs=1e-4
    )
    assert found.joints["pinion"].least.at.travel == pytest.approx(
        230.0 - 900.0 * np.tan(0.02), abs=1e-4
    )


def test_wrap_adds_to_the_pinion_bend_in_droop_when_the_nose_goes_down():
    found = envelope(plain())
    assert found.joints["pinion"].most.at.travel == pytest.approx(-200.0, abs=1e-6)
    assert found.joints["pinion"].most.at.wrap == pytest.approx(-0.07, abs=1e-9)


def test_a_sliding_yoke_has_one_length():
    found = envelope(plain(slip=Slip("output", 40.0, 80.0)))
    assert found.length_least == found.length_ride == found.length_most
    assert found.slip.apart_left is None
    assert found.slip.shortest.value < 0.0 < found.slip.longest.value


def test_what_cannot_be_reached_is_told():
    found = envelope(plain(slip=Slip("output", 40.0, 80.0), travel=replace(FLAT, droop=900.0)))
    assert found.unreachable is not None
    assert found.unreachable.travel < -200.0
    assert np.isfinite(found.joints["output"].most.value)


def test_going_beyond_the_readings_is_told():
    vehicle = plain()
    suspension = measured(
        False, vehicle.p_C_output, vehicle.p_A_pinion, [(-180, 2, 0.01), (0, 0, 0), (120, 2, 0)]
    )
    assert envelope(replace(vehicle, suspension=suspension)).extrapolated == (20.0, 0.0)


def test_nothing_moves_in_a_closed_box():
    vehicle = plain(travel=TravelRegion(0.0, 0.0, 0.0, 0.0, 0.0))
    found = envelope(vehicle)
    assert found.joints["output"].most.value == pytest.approx(
        found.joints["output"].ride, abs=1e-12
    )
    assert found.slip.shortest.value == found.slip.longest.value == 0.0


def test_the_first_contact_of_a_flat_layout_has_a_closed_form():
    """The pinion joint reaches 24 deg where the shaft slopes 24 deg + 0.02 rad + wrap less."""
    touch = np.radians(24.0)
    vehicle = plain(travel=replace(FLAT, nose_up=0.14, nose_down=0.07))
    found = first_contacts(vehicle, ends(1.0, touch))
    assert len(found.by_wrap) == 9
    for row in found.by_wrap:
        x, z = 900.0 + 280.0 * (1.0 - np.cos(row.wrap)), 280.0 * np.sin(row.wrap)
        travel = 230.0 - z - x * np.tan(touch + 0.02 + row.wrap)
        if travel < -200.0:
            assert row.contact is None
        else:
            assert row.contact.joint == "pinion"
            assert row.contact.at.travel == pytest.approx(travel, abs=1e-5)
    assert found.first.at.wrap == -0.07
    assert found.first == found.by_wrap[0].contact


def test_no_contact_is_none_and_contact_at_ride_is_at_ride():
    clear = first_contacts(plain(), ends(1.0, 1.0))
    assert clear.first is None
    assert all(row.contact is None for row in clear.by_wrap)
    touching = first_contacts(plain(), ends(0.1, 1.0))
    assert touching.first.at.travel == 0.0
    assert touching.first.joint == "output"


def test_a_joint_that_never_touches_leaves_the_other_one_alone():
    both, alone = (first_contacts(plain(), ends(touch, 0.4)) for touch in (1.5, np.inf))
    assert alone == both
    assert first_contacts(plain(), ends(np.inf, np.inf)).first is None


def test_a_hump_between_two_nodes_is_not_jumped_over():
    """A pinion read nose down half way and nose up at full droop: its bend rises and falls."""
    vehicle = plain(travel=replace(FLAT, droop=260.0))
    moves = [(-260.0, 0.0, 0.25), (-130.0, 0.0, -0.05), (0.0, 0.0, 0.0)]
    vehicle = replace(
        vehicle,
        suspension=measured(False, vehicle.p_C_output, vehicle.p_A_pinion, moves),
    )
    t = np.linspace(0.0, -260.0, 400001)
    bend = line(vehicle, t, 0.0, 0.0).pinion_bend
    peak = int(np.argmax(bend))
    assert 0 < peak < len(t) - 1
    touch = float(bend[peak]) - 1e-7
    expected = t[np.argmax(bend >= touch)]
    found = first_contacts(vehicle, ends(2.0, touch))
    assert found.first is not None
    assert found.first.at.travel == pytest.approx(expected, abs=0.01)
    (row,) = found.by_wrap
    assert row.contact is not None
    assert row.contact.at.travel == pytest.approx(expected, abs=0.01)
    over = first_contacts(vehicle, ends(2.0, float(bend[peak]) + 1e-7))
    assert over.first is None
    assert over.by_wrap[0].contact is None


@pytest.mark.slow
@pytest.mark.parametrize("direction", ["down", "up"])
@given(data=st.data(), share=st.floats(0.2, 1.0))
@settings(deadline=None, max_examples=25)
def test_the_way_is_clear_before_the_first_contact_and_not_after(direction, data, share):
    vehicle = data.draw(vehicles())
    worst = envelope(vehicle)
    touch = [
        joint.ride + share * (joint.most.value - joint.ride) for joint in worst.joints.values()
    ]
    found = first_contacts(vehicle, ends(*touch), direction)
    end = vehicle.travel.bump if direction == "up" else -vehicle.travel.droop
    travel = np.linspace(0.0, end, 5001)
    for row in found.by_wrap:
        state = line(vehicle, travel, row.roll, row.wrap)
        past = np.maximum(state.output_bend - touch[0], state.pinion_bend - touch[1]) >= 0.0
        if row.contact is None:
            assert not past.any()
            continue
        reached = abs(row.contact.at.travel)
        assert not past[np.abs(travel) < reached - 0.01].any()
        at = line(vehicle, row.contact.at.travel, row.roll, row.wrap)
        bend, limit = (
            (at.output_bend, touch[0])
            if row.contact.joint == "output"
            else (at.pinion_bend, touch[1])
        )
        assert bend >= limit - 1e-9
        if reached > 0.0:
            assert bend == pytest.approx(limit, abs=1e-6)
    contacts = [abs(row.contact.at.travel) for row in found.by_wrap if row.contact]
    if contacts:
        assert abs(found.first.at.travel) <= min(contacts)


@pytest.mark.slow
@given(data=st.data(), share=st.floats(0.3, 0.95))
@settings(deadline=None, max_examples=15)
def test_no_roll_and_wrap_between_touches_sooner(data, share):
    vehicle = data.draw(vehicles())
    worst = envelope(vehicle)
    touch = [
        joint.ride + share * (joint.most.value - joint.ride) for joint in worst.joints.values()
    ]
    found = first_contacts(vehicle, ends(*touch))
    box = vehicle.travel
    roll = np.linspace(-box.roll, box.roll, 15)[:, None]
    wrap = np.linspace(-box.nose_down, box.nose_up, 25)
    travel = np.linspace(0.0, -box.droop, 201)[:, None, None]
    state = line(vehicle, travel, roll, wrap)
    past = (state.output_bend >= touch[0]) | (state.pinion_bend >= touch[1])
    if past.any():
        soonest = np.abs(travel[past.any(axis=(1, 2))]).min()
        assert abs(found.first.at.travel) <= soonest + 1e-5
    elif found.first is not None:
        assert abs(found.first.at.travel) > 0.0
