from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from geometry.tolerances import TOL as GEOMETRY_TOL
from sim.frames import angle_between, spoken_direction, unit
from sim.line import free_turn, limit_by_spin, line, margins, running, turn
from sim.line.limits import CHUNK
from sim.line.turn import PARTS
from sim.suspension.base import AxlePoses, Suspension
from sim.suspension.vertical import Vertical
from sim.vehicle import Pose, Slip, TravelRegion, Vehicle, VehicleError
from tests.sim.vehicles import FLIP, KINDS, mirrored, plain, poses, turned_about, vehicles

QUIET = settings(deadline=None, max_examples=50)


@given(data=st.data())
@QUIET
def test_bends_and_length_are_those_of_the_vectors(data):
    vehicle = data.draw(vehicles())
    state = line(vehicle, *data.draw(poses(vehicle)))
    shaft = state.p_C_pinion - state.p_C_output
    np.testing.assert_allclose(state.length, np.linalg.norm(shaft), rtol=1e-13)
    np.testing.assert_allclose(state.shaft_axis_C, unit(shaft), rtol=0, atol=1e-14)
    np.testing.assert_allclose(
        state.output_bend, angle_between(-vehicle.axis_C_output, shaft), rtol=0, atol=1e-13
    )
    np.testing.assert_allclose(
        state.pinion_bend, angle_between(state.axis_C_pinion, shaft), rtol=0, atol=1e-13
    )


@given(data=st.data())
@QUIET
def test_a_sliding_yoke_keeps_the_shaft_and_stays_on_its_axis(data):
    vehicle = data.draw(vehicles(at="output"))
    state = line(vehicle, *data.draw(poses(vehicle)))
    if not state.reachable:
        assert np.isnan(state.output_bend)
        assert np.isnan(state.pinion_bend)
        return
    ride = np.linalg.norm(vehicle.p_A_pinion - vehicle.p_C_output)
    np.testing.assert_allclose(state.length, ride, rtol=1e-12)
    np.testing.assert_allclose(
        state.p_C_output, vehicle.p_C_output - state.slip * vehicle.axis_C_output, rtol=0, atol=1e-9
    )
    assert state.output_bend < np.pi / 2


@pytest.mark.parametrize("at", ["shaft", "output"])
@given(data=st.data())
@QUIET
def test_nothing_slips_at_ride_height(at, data):
    vehicle = data.draw(vehicles(at=at))
    state = line(vehicle, 0.0, 0.0, 0.0)
    assert state.slip == 0.0
    np.testing.assert_array_equal(state.p_C_output, vehicle.p_C_output)
    np.testing.assert_array_equal(state.p_C_pinion, vehicle.p_A_pinion)


def test_an_unreachable_pose_is_not_a_number_and_says_so():
    vehicle = plain(slip=Slip("output", 30.0, 60.0))
    state = line(vehicle, np.array([0.0, -2000.0]), 0.0, 0.0)
    np.testing.assert_array_equal(state.reachable, [True, False])
    assert np.isnan(state.slip[1])
    assert np.isnan(state.output_bend[1])


def test_a_flat_layout_has_closed_forms():
    """Side view only: length by Pythagoras, bends as differences of slopes; own derivation."""
    vehicle = plain()
    travel = np.linspace(-200.0, 100.0, 31)
    state = line(vehicle, travel, 0.0, 0.0)
    slope = np.arctan2(230.0 - travel, 900.0)
    np.testing.assert_allclose(state.length, np.hypot(900.0, 230.0 - travel), rtol=1e-14)
    np.testing.assert_allclose(state.output_bend, np.abs(slope - 0.05), rtol=0, atol=1e-14)
    np.testing.assert_allclose(state.pinion_bend, np.abs(slope - 0.02), rtol=0, atol=1e-14)


@given(data=st.data())
@QUIET
def test_a_mirrored_vehicle_has_the_mirrored_line(data):
    vehicle = data.draw(vehicles())
    travel, roll, wrap = data.draw(poses(vehicle))
    here, there = line(vehicle, travel, roll, wrap), line(mirrored(vehicle), travel, -roll, wrap)
    np.testing.assert_allclose(there.p_C_pinion, here.p_C_pinion * FLIP, rtol=0, atol=1e-10)
    for name in ("output_bend", "pinion_bend", "length", "slip"):
        np.testing.assert_allclose(
            getattr(there, name), getattr(here, name), rtol=0, atol=1e-9, err_msg=name
        )


@given(data=st.data())
@QUIET
def test_a_rear_axle_turned_about_is_a_front_axle(data):
    """Bump, roll and nose up keep their meaning; lengths and angles are those of the mirror."""
    vehicle = data.draw(vehicles())
    asked = data.draw(poses(vehicle))
    here, there = line(vehicle, *asked), line(turned_about(vehicle), *asked)
    back = np.array([-1.0, 1.0, 1.0])
    np.testing.assert_allclose(there.p_C_pinion, here.p_C_pinion * back, rtol=0, atol=1e-10)
    for name in ("output_bend", "pinion_bend", "length", "slip"):
        np.testing.assert_allclose(
            getattr(there, name), getattr(here, name), rtol=0, atol=1e-9, err_msg=name
        )


class Moved(Suspension):
    """Another suspension, seen from a chassis frame that lies elsewhere."""

    def __init__(self, other, R, p):
        super().__init__(front=other.front)
        object.__setattr__(self, "seen", (other, R, p))

    def poses(self, travel, roll, wrap):
        other, R, p = self.seen
        axle = other.poses(travel, roll, wrap)
        return AxlePoses(R @ axle.R_CA, axle.p_C_A @ R.T + p)

    def bodies(self):
        return ()


@given(data=st.data(), seed=st.integers(0, 2**32 - 1))
@QUIET
def test_moving_the_whole_vehicle_changes_nothing(data, seed):
    vehicle = data.draw(vehicles(at="shaft"))
    asked = data.draw(poses(vehicle))
    rng = np.random.default_rng(seed)
    R, p = Rotation.random(rng=rng).as_matrix(), rng.uniform(-1000, 1000, 3)
    elsewhere = replace(
        vehicle,
        p_C_output=R @ vehicle.p_C_output + p,
        axis_C_output=R @ vehicle.axis_C_output,
        suspension=Moved(vehicle.suspension, R, p),
    )
    here, there = line(vehicle, *asked), line(elsewhere, *asked)
    for name in ("output_bend", "pinion_bend", "length"):
        np.testing.assert_allclose(
            getattr(there, name), getattr(here, name), rtol=0, atol=1e-9, err_msg=name
        )
    here, there = turn(vehicle, *asked, 0.7), turn(elsewhere, *asked, 0.7)
    np.testing.assert_allclose(there.spins["pinion"], here.spins["pinion"], rtol=0, atol=1e-8)


@given(data=st.data())
@QUIET
def test_slip_grows_as_fast_as_the_pinion_moves_along_the_shaft(data):
    """Finite difference: d(length)/d(pose) is the pinion joint's velocity along the shaft."""
    vehicle = data.draw(vehicles(at="shaft"))
    pose = np.array(data.draw(poses(vehicle)))
    for axis, h in enumerate((1e-3, 1e-6, 1e-6)):
        step = h * np.eye(3)[axis]
        ahead, behind = line(vehicle, *(pose + step)), line(vehicle, *(pose - step))
        here = line(vehicle, *pose)
        velocity = (ahead.p_C_pinion - behind.p_C_pinion) / (2 * h)
        np.testing.assert_allclose(
            (ahead.slip - behind.slip) / (2 * h),
            velocity @ here.shaft_axis_C,
            rtol=1e-5,
            atol=1e-5 if axis == 0 else 1e-2,
        )


def test_a_straight_line_has_no_bend_and_near_a_right_angle_it_keeps_its_digits():
    for bend in (0.0, 1e-10, 1e-6, np.radians(89.9999), np.radians(90.0)):
        vehicle = plain(
            axis_C_output=np.array([1.0, 0.0, 0.0]),
            p_C_output=np.array([280.0 + 900.0 * np.cos(bend), 0.0, 900.0 * np.sin(bend)]),
            axis_A_pinion=np.array([-np.cos(bend), 0.0, -np.sin(bend)]),
        )
        state = line(vehicle, 0.0, 0.0, 0.0)
        np.testing.assert_allclose(state.output_bend, bend, rtol=0, atol=3e-16)
        np.testing.assert_allclose(state.pinion_bend, 0.0, rtol=0, atol=3e-16)
        if bend < 1.5:
            parts = turn(vehicle, 0.0, 0.0, 0.0, np.linspace(0, 6, 5)).X_C
            assert all(np.isfinite(X).all() for X in parts.values())


def test_a_side_offset_and_a_left_slope_bend_the_joint_in_three_dimensions():
    vehicle = plain(
        p_C_output=np.array([1180.0, 120.0, 230.0]),
        axis_C_output=-spoken_direction(forward=False, down=0.05, left=0.03),
    )
    shaft = np.array([-900.0, -120.0, -230.0])
    output = np.array([-1.0, np.tan(0.03), -np.tan(0.05)])
    cosine = shaft @ output / np.linalg.norm(shaft) / np.linalg.norm(output)
    assert line(vehicle, 0.0, 0.0, 0.0).output_bend == pytest.approx(np.arccos(cosine), rel=1e-13)


def frames(X):
    return X[..., :3, 0], X[..., :3, 1], X[..., :3, 2]


@given(data=st.data(), spin=st.floats(-7, 7))
@QUIET
def test_crosses_hold_the_bores_of_both_yokes(data, spin):
    vehicle = data.draw(vehicles())
    state = turn(vehicle, *data.draw(poses(vehicle)), spin)
    assume(state.line.reachable)
    assert tuple(state.X_C) == PARTS
    for X in state.X_C.values():
        R = X[:3, :3]
        np.testing.assert_allclose(R.T @ R, np.eye(3), rtol=0, atol=1e-12)
        np.testing.assert_allclose(np.linalg.det(R), 1.0, rtol=1e-12)
    for driving, cross, driven in (
        ("output yoke", "output cross", "output shaft yoke"),
        ("pinion shaft yoke", "pinion cross", "pinion yoke"),
    ):
        along, across, _ = frames(state.X_C[cross])
        np.testing.assert_allclose(frames(state.X_C[driving])[1], along, rtol=0, atol=1e-12)
        np.testing.assert_allclose(frames(state.X_C[driven])[1], across, rtol=0, atol=1e-12)
        for part in (driving, cross, driven):
            centre = state.line.p_C_output if "output" in part else state.line.p_C_pinion
            np.testing.assert_array_equal(state.X_C[part][:3, 3], centre)
    u = state.line.shaft_axis_C
    axes = {
        "output yoke": vehicle.axis_C_output,
        "output shaft yoke": u,
        "shaft": u,
        "pinion shaft yoke": -u,
        "pinion yoke": state.line.axis_C_pinion,
    }
    for part, axis in axes.items():
        np.testing.assert_allclose(frames(state.X_C[part])[0], axis, rtol=0, atol=1e-9)
    _, near, _ = frames(state.X_C["shaft"])
    _, far, _ = frames(state.X_C["pinion shaft yoke"])
    turned = np.arctan2(np.cross(near, far) @ u, near @ far)
    np.testing.assert_allclose(turned, vehicle.phase, rtol=0, atol=1e-12)


@pytest.mark.slow
@given(data=st.data())
@QUIET
def test_at_spin_zero_the_output_bores_lie_in_the_bend_plane(data):
    vehicle = data.draw(vehicles())
    state = turn(vehicle, *data.draw(poses(vehicle)), 0.0)
    assume(state.line.reachable and state.line.output_bend > 1e-3)
    _, bores, _ = frames(state.X_C["output yoke"])
    normal = unit(np.cross(vehicle.axis_C_output, state.line.shaft_axis_C))
    np.testing.assert_allclose(bores @ normal, 0.0, rtol=0, atol=1e-12)
    assert bores @ state.line.shaft_axis_C > 0.0


def test_a_straight_joint_takes_the_vertical_plane():
    vehicle = plain(
        p_C_output=np.array([1180.0, 0.0, 0.0]), axis_C_output=np.array([1.0, 0.0, 0.0])
    )
    state = turn(vehicle, 0.0, 0.0, 0.0, np.array([0.0, np.pi / 2]))
    assert (state.line.output_bend < GEOMETRY_TOL.straight).all()
    _, bores, _ = frames(state.X_C["output yoke"])
    np.testing.assert_allclose(bores, [[0, 0, 1], [0, -1, 0]], rtol=0, atol=1e-12)


@given(data=st.data())
@QUIET
def test_both_joints_meet_every_spin_in_a_whole_turn(data):
    vehicle = data.draw(vehicles())
    pose = data.draw(poses(vehicle))
    spin = np.linspace(0.0, 2 * np.pi, 181)
    state = turn(vehicle, *pose, spin)
    assume(state.line.reachable.all())
    pinion = np.unwrap(state.spins["pinion"])
    assert (np.diff(pinion) > 0).all()
    np.testing.assert_allclose(pinion[-1] - pinion[0], 2 * np.pi, rtol=1e-12)


@given(data=st.data())
@QUIET
def test_the_turn_and_the_chain_tell_the_same_unevenness(data):
    vehicle = data.draw(vehicles())
    at = Pose(*data.draw(poses(vehicle)))
    spin = np.linspace(0.0, 2 * np.pi, 2881)
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    assume(state.line.reachable.all())
    _, y, z = frames(state.X_C["pinion yoke"])
    turned = np.unwrap(np.arctan2(y @ z[0], y @ y[0]))
    lead = np.abs(turned) - spin
    amplitude = running(vehicle, at).lead_amplitude
    np.testing.assert_allclose(0.5 * np.ptp(lead), amplitude, rtol=1e-5, atol=1e-12)


def test_free_turn_names_the_joint_and_the_spin_with_the_least_room():
    vehicle = plain()
    at = Pose(-150.0, 0.0, 0.0)
    state = line(vehicle, at.travel, at.roll, at.wrap)
    wide = limit_by_spin(np.array([0.0, np.pi]), np.array([1.5, 1.5]))
    spin = np.arange(720) * 2 * np.pi / 720
    tight = limit_by_spin(spin, 0.5 + 0.1 * np.cos(2 * (spin - 0.4)))
    got = free_turn(vehicle, at, {"output": wide, "pinion": tight})
    assert got.joint == "pinion"
    assert got.free
    assert got.margin == pytest.approx(0.4 - float(state.pinion_bend), abs=2e-5)
    spin_there = turn(vehicle, at.travel, at.roll, at.wrap, got.spin).spins["pinion"]
    assert np.cos(2 * (spin_there - 0.4)) == pytest.approx(-1.0, abs=1e-4)
    shut = free_turn(
        vehicle, at, {"output": limit_by_spin(np.zeros(1), np.array([0.1])), "pinion": tight}
    )
    assert not shut.free
    assert shut.joint == "output"
    assert shut.margin == pytest.approx(0.1 - float(state.output_bend), abs=1e-12)


def test_a_limit_by_spin_comes_round_after_a_whole_turn():
    """Straight between samples, across the end of the turn too, however far the spin has gone."""
    at, bend = np.radians([0.0, 90.0, 300.0]), np.array([0.3, 0.5, 0.4])
    limit = limit_by_spin(at, bend)
    for turns in (-2, -1, 0, 1, 3):
        asked = np.radians([0.0, 45.0, 90.0, 195.0, 300.0, 330.0]) + 2.0 * np.pi * turns
        expected = [0.3, 0.4, 0.5, 0.45, 0.4, 0.35]
        np.testing.assert_allclose(limit(asked), expected, rtol=0, atol=1e-12)


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
@settings(deadline=None, max_examples=5)
def test_margins_of_many_poses_are_those_of_each(kind, data):
    vehicle = data.draw(vehicles(kind))
    low, high = vehicle.travel.low, vehicle.travel.high
    t, r, w = (np.linspace(a, b, n) for a, b, n in zip(low, high, (47, 19, 11), strict=True))
    assert CHUNK < 47 * 19 * 11
    left = margins(vehicle, t[:, None, None], r[:, None], w, {"output": 0.5, "pinion": 0.4})
    state = line(vehicle, t[:, None, None], r[:, None], w)
    for got, expected in (
        (left.joints["output"], 0.5 - state.output_bend),
        (left.joints["pinion"], 0.4 - state.pinion_bend),
        (left.closes, vehicle.slip.closes + state.slip),
        (left.opens, vehicle.slip.opens - state.slip),
    ):
        np.testing.assert_allclose(got, expected, rtol=0, atol=1e-10)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"p_C_output": [1.0, 2.0]}, "p_C_output: got .* expected three finite numbers"),
        ({"axis_A_pinion": [0.0, 0.0, 0.0]}, "axis_A_pinion: got a zero vector"),
        ({"front": True}, "front: the vehicle says True, its suspension False"),
        ({"phase": float("nan")}, "phase: got nan"),
        ({"p_C_output": [280.0, 0.0, 0.0]}, "lies on the output joint"),
    ],
)
def test_impossible_vehicles_are_refused_by_name(changes, says):
    with pytest.raises(VehicleError, match=says):
        plain(**changes)


@pytest.mark.parametrize(
    ("numbers", "says"),
    [
        ((-1.0, 0.0, 0.0, 0.0, 0.0), "travel bump: got -1.0"),
        ((1.0, 0.0, np.pi / 2, 0.0, 0.0), "travel roll: .* expected under 90 deg"),
        ((1.0, float("inf"), 0.0, 0.0, 0.0), "travel droop: got inf"),
    ],
)
def test_impossible_travel_is_refused_by_name(numbers, says):
    with pytest.raises(VehicleError, match=says):
        TravelRegion(*numbers)


@pytest.mark.parametrize(
    ("slip", "says"),
    [
        (("middle", 1.0, 1.0), "slip at: got 'middle', expected one of"),
        (("shaft", -1.0, 1.0), "slip closes: got -1.0 mm"),
        (("shaft", 1.0, float("nan")), "slip opens: got nan mm"),
        (("shaft", 1.0, 5.0, 4.0), "slip comes_apart: got 4.0 mm"),
    ],
)
def test_impossible_slips_are_refused_by_name(slip, says):
    with pytest.raises(VehicleError, match=says):
        Slip(*slip)


def test_a_vehicle_is_read_only_and_its_axes_have_length_one():
    vehicle = plain(axis_C_output=np.array([3.0, 0.0, 4.0]))
    np.testing.assert_array_equal(vehicle.axis_C_output, [0.6, 0.0, 0.8])
    with pytest.raises(ValueError, match="read-only"):
        vehicle.p_C_output[0] = 1.0
    assert isinstance(vehicle, Vehicle)
    assert vehicle.suspension == Vertical()
