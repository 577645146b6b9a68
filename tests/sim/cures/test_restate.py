"""A rig said anew is the same vehicle, or the one that was meant."""

from math import degrees, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.yoke import SlidingYoke
from sim.cures.remedies.double_cardan import DoubleCardan
from sim.cures.remedies.heights import OutputDrop
from sim.cures.remedies.longer_shaft import LongerShaft
from sim.cures.remedies.two_piece import TwoPiece
from sim.cures.remedies.yokes import DeepThroat, OtherSize
from sim.cures.remedy import Dose, Remedy
from sim.cures.restate import in_coordinates, pinion_turned, same_shaft
from sim.derive import ride_height_of, vehicle_of
from sim.frames import FloatArray, housing_turned
from sim.line import line
from sim.rig import Rig
from sim.rig.demos import demo_names, load_demo
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of

WRITTEN = 2.6e-3
"""mm. Half of the last place that coordinates are written to, in three directions."""


@pytest.mark.parametrize("name", demo_names())
def test_coordinates_say_the_same_vehicle(name: str) -> None:
    rig = load_demo(name)
    plain = in_coordinates(rig)
    assert plain.ride_height is None or rig.carrier is not None
    one, other = vehicle_of(rig), vehicle_of(plain)
    assert np.allclose(one.p_C_output, other.p_C_output, rtol=0.0, atol=WRITTEN)
    assert np.allclose(one.p_A_pinion, other.p_A_pinion, rtol=0.0, atol=WRITTEN)
    box = one.travel
    for at in ((0.0, 0.0, 0.0), (-0.8 * box.droop, 0.5 * box.roll, 0.5 * box.nose_up)):
        before, after = line(one, *at), line(other, *at)
        assert float(after.pinion_bend) == pytest.approx(float(before.pinion_bend), abs=1e-5)
        assert float(after.slip) == pytest.approx(float(before.slip), abs=3.0 * WRITTEN)


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
@given(turn=st.floats(-0.15, 0.15))
def test_a_turned_housing_is_as_long_and_points_where_it_should(name: str, turn: float) -> None:
    """The joint stays as far from the axle's own axis; the pinion's slope changes by the turn."""
    rig = load_demo(name)
    turned = pinion_turned(rig, turn)
    was, now = ride_height_of(rig), ride_height_of(turned)
    assert now.pinion_up - was.pinion_up == pytest.approx(turn, abs=2e-6)
    for ride_was, ride_now in ((was.p_C_pinion, now.p_C_pinion),):
        before, after = np.hypot(*ride_was[[0, 2]]), np.hypot(*ride_now[[0, 2]])
        assert after == pytest.approx(before, abs=WRITTEN)
        assert ride_now[1] == pytest.approx(ride_was[1], abs=WRITTEN)
    lifted = now.p_C_pinion[2] - was.p_C_pinion[2]
    if abs(turn) > 0.01:
        assert np.sign(lifted) == np.sign(turn)


@pytest.mark.parametrize("name", demo_names())
def test_turning_back_gives_the_rig_that_was(name: str) -> None:
    rig = in_coordinates(load_demo(name))
    there = pinion_turned(rig, radians(3.0))
    back = pinion_turned(there, radians(-3.0))
    one, other = vehicle_of(rig), vehicle_of(back)
    assert np.allclose(one.p_A_pinion, other.p_A_pinion, rtol=0.0, atol=2.0 * WRITTEN)
    assert other.slip.closes == pytest.approx(one.slip.closes, abs=6.0 * WRITTEN)
    box = one.travel
    at = (-0.7 * box.droop, 0.0, 0.0)
    before, after = line(one, *at), line(other, *at)
    assert degrees(float(after.pinion_bend)) == pytest.approx(
        degrees(float(before.pinion_bend)), abs=2e-3
    )
    assert float(after.slip) == pytest.approx(float(before.slip), abs=0.02)


@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "goat-path-buggy"])
@pytest.mark.parametrize("turn", [-0.1, 0.06])
def test_the_shaft_stays_the_same_one(name: str, turn: float) -> None:
    """Fully closed and fully open it is as long as before: closes + length, length - opens."""
    rig = load_demo(name)
    turned = pinion_turned(rig, turn)
    was, now = ride_height_of(rig), ride_height_of(turned)
    before, after = rig.shaft.slip, turned.shaft.slip
    whole = before.closes.mm + before.opens.mm
    assert after.closes.mm + after.opens.mm == pytest.approx(whole, abs=3.0 * WRITTEN)
    if before.at == "shaft":
        shortest = was.length - before.closes.mm
        assert now.length - after.closes.mm == pytest.approx(shortest, abs=3.0 * WRITTEN)
    else:
        assert now.length == pytest.approx(was.length, abs=3.0 * WRITTEN)
        out = float((now.p_C_output - was.p_C_output) @ was.output_points)
        assert after.closes.mm - before.closes.mm == pytest.approx(out, abs=3.0 * WRITTEN)


def test_a_rig_with_its_own_shaft_is_left_alone() -> None:
    rig = in_coordinates(load_demo("marsh-runner"))
    assert same_shaft(rig, rig).shaft.slip.closes.mm == pytest.approx(
        rig.shaft.slip.closes.mm, abs=WRITTEN
    )


def test_readings_turn_with_the_housing() -> None:
    """At each height the shaft is as long as from the output to the turned joint."""
    rig = load_demo("marsh-runner")
    assert rig.suspension.kind == "measured"
    turn = radians(4.0)
    vehicle, turned = vehicle_of(rig), vehicle_of(pinion_turned(rig, turn))
    for travel in (-100.0, -40.0, 30.0):
        moved = vehicle.suspension.poses(travel, 0.0, 0.0)
        there = turned.suspension.poses(travel, 0.0, 0.0)
        joint = moved.p_C_A + moved.R_CA @ turned.p_A_pinion
        again = there.p_C_A + there.R_CA @ turned.p_A_pinion
        one = np.linalg.norm(joint - vehicle.p_C_output)
        other = np.linalg.norm(again - turned.p_C_output)
        assert other == pytest.approx(one, abs=1.0)


@pytest.mark.parametrize("remedy", [OutputDrop(), LongerShaft(), TwoPiece()], ids=lambda r: r.code)
def test_a_measured_axle_moves_as_before_whatever_the_shaft_hangs_on(remedy: Remedy) -> None:
    """Readings of length were taken from the old joint: they are said anew from the new one."""
    rig = load_demo("marsh-runner")
    dose = remedy.doses(rig)[0][0]
    one, other = vehicle_of(rig), vehicle_of(remedy.applied(rig, dose))
    assert not np.allclose(one.p_C_output, other.p_C_output, rtol=0.0, atol=1.0)
    travel = np.linspace(-one.travel.droop, one.travel.bump, 13)
    was, now = (v.suspension.poses(travel, 0.05, 0.02) for v in (one, other))
    assert np.allclose(was.p_C_A, now.p_C_A, rtol=0.0, atol=0.02)
    assert np.allclose(was.R_CA, now.R_CA, rtol=0.0, atol=1e-5)


def seats(rig: Rig) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Where the yokes at both ends are bolted (3,), and the bearing of two pieces, in C, mm."""
    ride, shaft = ride_height_of(rig), rig.shaft
    out, up = shaft.output_end, shaft.pinion_end
    shapes = (
        fitted_yoke(out.output_yoke, fitted_cross(out.cross), shaft.tube),
        fitted_yoke(up.pinion_yoke, fitted_cross(up.cross), shaft.tube),
    )
    to_seat = [
        getattr(shape, "flange_face", getattr(shape, "seal_guard_at", 0.0))
        if not isinstance(shape, SlidingYoke)
        else shape.throat_depth + shape.web
        for shape in shapes
    ]
    for place, head in enumerate(heads_of(shaft)):
        to_seat[place] += 0.0 if head is None else head.ball
    joint, points, bearing = ride.p_C_output, ride.output_points, np.zeros(3)
    if ride.section is not None:
        joint, points = ride.section.p_C_output, -ride.section.axis_C_output
        bearing = ride.section.p_C_bearing
    face, seal = joint - to_seat[0] * points, ride.p_C_pinion - to_seat[1] * ride.pinion_points
    return face, seal, bearing


@pytest.mark.slow
@pytest.mark.parametrize(
    "remedy", [DeepThroat(), OtherSize(), DoubleCardan()], ids=lambda r: r.code
)
@pytest.mark.parametrize("name", demo_names())
def test_other_yokes_are_bolted_where_the_ones_before_were(name: str, remedy: Remedy) -> None:
    """At every dose the face of the case, the seal of the pinion and a bearing stay; the pinion's
    seal turns with the housing where the remedy turns that. The slip sits as before."""
    rig = load_demo(name)
    face, seal, bearing = seats(rig)
    for series in remedy.doses(rig):
        cured = remedy.applied(rig, series[0])
        face_now, seal_now, bearing_now = seats(cured)
        was, now = ride_height_of(rig), ride_height_of(cured)
        turned = housing_turned(seal, now.pinion_up - was.pinion_up, was.front)
        np.testing.assert_allclose(face_now, face, rtol=0.0, atol=2.0 * WRITTEN)
        np.testing.assert_allclose(seal_now, turned, rtol=0.0, atol=3.0 * WRITTEN)
        np.testing.assert_allclose(bearing_now, bearing, rtol=0.0, atol=WRITTEN)
        slip = cured.shaft.slip
        assert (slip.closes.mm, slip.opens.mm) == pytest.approx(
            (rig.shaft.slip.closes.mm, rig.shaft.slip.opens.mm), abs=0.01
        )


@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "marsh-runner"])
def test_a_head_makes_the_tape_no_longer_than_the_pinions_turn_does(name: str) -> None:
    """From the flange of the case to the pinion joint, as the ticket tells it: a head on the same
    face changes that only as turning the pinion does. An inch and a half of head was too long."""
    rig, remedy = load_demo(name), DoubleCardan()
    for series in remedy.doses(rig):
        cured = remedy.applied(rig, series[0])
        turn = ride_height_of(cured).pinion_up - ride_height_of(rig).pinion_up
        tapes = [
            float(np.linalg.norm(ride_height_of(each).p_C_pinion - seats(each)[0]))
            for each in (pinion_turned(rig, turn), cured)
        ]
        assert tapes[1] == pytest.approx(tapes[0], abs=4.0 * WRITTEN)
        ball = heads_of(cured.shaft)[0]
        assert ball is not None
        shorter = ride_height_of(pinion_turned(rig, turn)).length - ride_height_of(cured).length
        assert 0.9 * ball.ball < shorter < ball.ball


def test_a_measured_axle_is_read_anew_where_the_joints_have_moved() -> None:
    rig = load_demo("marsh-runner")
    cured = DeepThroat().applied(rig, Dose(2.0, "both"))
    one, other = vehicle_of(in_coordinates(rig)), vehicle_of(cured)
    for travel in (-150.0, -60.0, 40.0):
        before, after = (each.suspension.poses(travel, 0.0, 0.0) for each in (one, other))
        assert np.allclose(before.p_C_A, after.p_C_A, rtol=0.0, atol=0.05)
        assert np.allclose(before.R_CA, after.R_CA, rtol=0.0, atol=1e-5)


@pytest.mark.parametrize("turn", [3.0, -2.0, 6.0])
def test_turning_the_housing_of_a_front_axle_takes_its_caster_along(turn: float) -> None:
    rig = load_demo("heather-moor-scout")
    assert rig.axle.steers == pytest.approx(radians(4.0))
    turned = pinion_turned(rig, radians(turn))
    assert turned.axle.steers == pytest.approx(radians(4.0 - turn), abs=1e-5)
    assert pinion_turned(load_demo("marsh-runner"), radians(turn)).axle.steers is None
