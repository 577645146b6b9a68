"""From a rig to a vehicle: both ways in give the same one, and what was derived is told."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.derive import derive, vehicle_of
from sim.frames import angle_between
from sim.line import line
from sim.rig import Rig, changed, parse_rig, rig_from_data
from sim.suspension.leaf.motion import Leaf
from sim.suspension.measured.motion import Measured
from sim.suspension.vertical import Vertical
from sim.units import Angle, Length
from sim.vehicle import Vehicle
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, spoilt
from viewer.words.remarks import said

INCH = 25.4


def slope(word: str, other: str, rad: float) -> dict[str, str]:
    return {word if rad >= 0.0 else other: Angle.exactly(abs(rad)).typed}


def offset(word: str, other: str, mm: float) -> dict[str, str]:
    return {word if mm >= 0.0 else other: Length.exactly(abs(mm)).typed}


def data(axle: dict[str, Any], output: dict[str, Any], **rest: Any) -> dict[str, Any]:
    travel = {"bump": "4 in", "droop": "8 in"}
    return {"output": output, "axle": axle, "travel": travel, **rest}


def assert_same(one: Vehicle, other: Vehicle, atol: float) -> None:
    for name in ("p_C_output", "axis_C_output", "p_A_pinion", "axis_A_pinion"):
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), rtol=0.0, atol=atol)
    assert (one.travel, one.slip, one.front) == (other.travel, other.slip, other.front)
    poses = (
        np.array([-203.2, 0.0, 101.6]),
        np.array([0.1, 0.0, -0.1]),
        np.array([-0.05, 0.0, 0.1]),
    )
    ours, theirs = line(one, *poses), line(other, *poses)
    for name in ("output_bend", "pinion_bend", "length", "slip", "p_C_pinion"):
        np.testing.assert_allclose(getattr(ours, name), getattr(theirs, name), rtol=0.0, atol=1e-8)


slopes = st.floats(math.radians(-20.0), math.radians(20.0))
small = st.floats(math.radians(-8.0), math.radians(8.0))


@pytest.mark.slow
@given(
    front=st.booleans(),
    length=st.floats(400.0, 1800.0),
    shaft=st.tuples(slopes, small),
    output=st.tuples(small, small),
    pinion=st.tuples(small, small),
    snout=st.floats(100.0, 400.0),
    by=st.tuples(st.booleans(), st.booleans()),
)
def test_a_phone_call_and_the_coordinates_give_the_same_vehicle(
    front: bool,
    length: float,
    shaft: tuple[float, float],
    output: tuple[float, float],
    pinion: tuple[float, float],
    snout: float,
    by: tuple[bool, bool],
) -> None:
    down, left = shaft
    sense = 1.0 if front else -1.0
    along = np.array([sense, math.tan(left), -math.tan(down)])
    p_shaft = length * along / np.linalg.norm(along)
    looks = np.array([-sense, math.tan(pinion[1]), math.tan(pinion[0])])
    p_pinion = snout * looks / np.linalg.norm(looks)

    points = slope("points_down", "points_up", output[0]) | slope(
        "points_left", "points_right", output[1]
    )
    axle = (
        {"position": "front" if front else "rear"}
        | slope("points_up", "points_down", pinion[0])
        | slope("points_left", "points_right", pinion[1])
    )
    call = {"length": Length.exactly(length).typed}
    call |= (
        slope("shaft_points_down", "shaft_points_up", down)
        if by[0]
        else offset("pinion_lower", "pinion_higher", -p_shaft[2])
    )
    call |= (
        slope("shaft_points_left", "shaft_points_right", left)
        if by[1]
        else offset("pinion_left", "pinion_right", p_shaft[1])
    )
    phoned = rig_from_data(
        data(axle | {"snout": Length.exactly(snout).typed}, points, ride_height=call)
    )
    placed = rig_from_data(
        data(
            axle | {"pinion_joint": [Length.exactly(x).typed for x in p_pinion]},
            points | {"joint": [Length.exactly(x).typed for x in p_pinion - p_shaft]},
        )
    )
    one, other = vehicle_of(phoned), vehicle_of(placed)
    assert_same(one, other, atol=1e-9)
    np.testing.assert_allclose(one.p_A_pinion - one.p_C_output, p_shaft, rtol=0.0, atol=1e-9)

    # What is derived from one way in is what the other way in was given.
    derived = {each.key: each.value for each in derive(phoned).derived}
    np.testing.assert_allclose(derived["output.joint"], p_pinion - p_shaft, rtol=0.0, atol=1e-9)
    derived = {each.key: each.value for each in derive(placed).derived}
    assert derived["ride_height.length"] == pytest.approx(length, rel=0.0, abs=1e-9)
    assert derived["ride_height.shaft_points_down"] == pytest.approx(down, rel=0.0, abs=1e-9)
    assert derived["ride_height.shaft_points_left"] == pytest.approx(left, rel=0.0, abs=1e-9)
    assert derived["ride_height.pinion_lower"] == pytest.approx(-p_shaft[2], rel=0.0, abs=1e-9)
    assert derived["ride_height.pinion_left"] == pytest.approx(p_shaft[1], rel=0.0, abs=1e-9)


def test_coordinates_go_straight_into_the_vehicle() -> None:
    vehicle = vehicle_of(parse_rig(COORDINATES))
    np.testing.assert_allclose(vehicle.p_C_output, np.array([47.0, 1.5, 9.0]) * INCH, rtol=1e-15)
    np.testing.assert_allclose(vehicle.p_A_pinion, np.array([11.0, 0.0, 0.5]) * INCH, rtol=1e-15)
    # The output points rearward, 3 deg down and 1 deg right; its yoke the other way.
    toward_axle = np.array([-1.0, -math.tan(math.radians(1.0)), -math.tan(math.radians(3.0))])
    np.testing.assert_allclose(
        vehicle.axis_C_output, -toward_axle / np.linalg.norm(toward_axle), rtol=0.0, atol=1e-15
    )
    # The pinion points forward and 1 deg up; its yoke the other way.
    toward_output = np.array([1.0, 0.0, math.tan(math.radians(1.0))])
    np.testing.assert_allclose(
        vehicle.axis_A_pinion, -toward_output / np.linalg.norm(toward_output), rtol=0.0, atol=1e-15
    )
    assert vehicle.travel.bump == 101.6
    assert vehicle.travel.nose_down == math.radians(4.0)
    assert vehicle.slip.at == "shaft"
    assert vehicle.slip.comes_apart == 101.6
    assert not vehicle.front


def test_the_bends_of_a_flat_layout_are_the_differences_of_the_slopes() -> None:
    derivation = derive(parse_rig(PHONE_CALL))
    bends = {each.key: each.value for each in derivation.derived}
    # Output 3 deg down, shaft 14 deg down, pinion 1 deg up: 11 and 13 deg.
    assert bends["output_bend"] == pytest.approx(math.radians(11.0), rel=1e-12)
    assert bends["pinion_bend"] == pytest.approx(math.radians(13.0), rel=1e-12)


def test_the_program_says_what_it_derived() -> None:
    says = {each.key: said(each.remark) for each in derive(parse_rig(PHONE_CALL)).derived}
    assert says["output.joint"] == (
        "the output joint is 46 1/4 in (1174.3 mm) ahead of, 9 in (228.0 mm) above the axle center"
    )
    assert says["ride_height.pinion_left"] == ("the pinion joint is in line with the output joint")
    assert "ride_height.length" not in says
    says = {each.key: said(each.remark) for each in derive(parse_rig(COORDINATES)).derived}
    assert says["ride_height.length"] == (
        "joint center to joint center at ride height: 37 in (940.3 mm)"
    )
    assert says["ride_height.shaft_points_down"] == (
        "the shaft points 13.3 deg down, seen from the output"
    )
    assert says["ride_height.shaft_points_left"] == (
        "the shaft points 2.4 deg right, seen from the output"
    )
    assert "output.joint" not in says


def test_assumptions_and_notes_come_along() -> None:
    rig = parse_rig(spoilt(PHONE_CALL, ('"36 5/16 in"', '"80 in"')))
    derivation = derive(rig)
    assert derivation.assumed == rig.assumed
    assert [note.code for note in derivation.notes] == ["long_shaft"]


@pytest.mark.parametrize(
    ("text", "kind"),
    [(COORDINATES, Leaf), (PHONE_CALL, Vertical), (PHONE_CALL + MEASURED, Measured)],
)
def test_each_kind_of_suspension(text: str, kind: type) -> None:
    vehicle = vehicle_of(parse_rig(text))
    assert isinstance(vehicle.suspension, kind)
    still = vehicle.suspension.poses(0.0, 0.0, 0.0)
    np.testing.assert_allclose(still.X_CA, np.eye(4), rtol=0.0, atol=1e-12)


def test_readings_are_reproduced_by_the_vehicle() -> None:
    rig = parse_rig(PHONE_CALL + MEASURED)
    state = line(vehicle_of(rig), np.array([101.6, 0.0, -203.2]), 0.0, 0.0)
    # The ride reading is within the tape's error of the typed ride length, and counts as it.
    np.testing.assert_allclose(state.length / INCH, [35.5, 36.3125, 39.125], rtol=0.0, atol=1e-9)


def test_the_reading_at_ride_height_may_be_left_out() -> None:
    without = changed(
        parse_rig(PHONE_CALL + MEASURED),
        {
            "suspension.readings[2].at": "2 in bump",
            "suspension.readings[2].length": "35 7/8 in",
        },
    )
    suspension = vehicle_of(without).suspension
    assert isinstance(suspension, Measured)
    assert [reading.travel for reading in suspension.readings] == [-203.2, 0.0, 50.8, 101.6]
    assert suspension.readings[1].points_up == pytest.approx(math.radians(1.0), rel=1e-12)


def test_a_front_axle_is_mirrored() -> None:
    rear = parse_rig(PHONE_CALL)
    front = changed(rear, {"axle.position": "front"})
    mirror = np.array([-1.0, 1.0, 1.0])
    one, other = vehicle_of(rear), vehicle_of(front)
    np.testing.assert_allclose(one.p_C_output * mirror, other.p_C_output, rtol=0.0, atol=1e-12)
    np.testing.assert_allclose(one.axis_A_pinion * mirror, other.axis_A_pinion, rtol=0, atol=1e-15)
    assert other.front
    assert other.suspension.front
    # Nose up lifts the pinion joint on both.
    for vehicle in (one, other):
        assert float(line(vehicle, 0.0, 0.0, 0.1).p_C_pinion[2]) > 20.0


def test_a_stated_centre_of_wrap_stays_where_it_is() -> None:
    rig = changed(parse_rig(PHONE_CALL), {"axle.wrap_centre": ["2 in", "0 in", "-3 in"]})
    centre = np.array([2.0, 0.0, -3.0]) * INCH
    poses = vehicle_of(rig).suspension.poses(0.0, 0.0, np.array([-0.1, 0.1]))
    np.testing.assert_allclose(poses.point(centre), [centre, centre], rtol=0.0, atol=1e-12)


def test_the_bend_at_ride_is_that_of_the_line() -> None:
    rig: Rig = parse_rig(COORDINATES)
    vehicle = vehicle_of(rig)
    state = line(vehicle, 0.0, 0.0, 0.0)
    bends = {each.key: each.value for each in derive(rig).derived}
    assert float(state.output_bend) == pytest.approx(bends["output_bend"], rel=0.0, abs=1e-12)
    assert float(state.pinion_bend) == pytest.approx(bends["pinion_bend"], rel=0.0, abs=1e-12)
    shaft = vehicle.p_A_pinion - vehicle.p_C_output
    assert float(state.output_bend) == pytest.approx(
        float(angle_between(shaft, -vehicle.axis_C_output)), rel=0.0, abs=1e-12
    )
