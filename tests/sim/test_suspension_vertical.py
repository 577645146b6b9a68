"""The vertical suspension, and what every suspension owes its users."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.frames import Rx, Ry
from sim.suspension import KINDS
from sim.suspension.base import AxlePoses, EulerSuspension, Suspension
from sim.suspension.table import SuspensionPart
from sim.suspension.vertical import Vertical
from tests.sim.vehicles import FLIP, mirrored, plain, poses, suspensions, vehicles
from tests.sim.vehicles import KINDS as VEHICLE_KINDS

QUIET = settings(deadline=None, max_examples=60)


@given(travel=st.floats(-300, 300), roll=st.floats(-0.3, 0.3), wrap=st.floats(-0.3, 0.3))
@QUIET
@pytest.mark.parametrize("front", [False, True])
def test_vertical_is_roll_after_wrap_at_its_height(front, travel, roll, wrap):
    axle = Vertical(front=front).poses(travel, roll, wrap)
    expected = Rx(roll) @ Ry(wrap if front else -wrap)
    np.testing.assert_allclose(axle.R_CA, expected, rtol=0, atol=1e-15)
    np.testing.assert_array_equal(axle.p_C_A, [0.0, 0.0, travel])


def test_every_kind_is_named():
    assert {"vertical", "measured", "leaf"} <= set(KINDS)
    assert all(issubclass(kind, SuspensionPart) for kind in KINDS.values())


@pytest.mark.parametrize("kind", VEHICLE_KINDS)
@given(data=st.data(), front=st.booleans())
@QUIET
def test_ride_height_is_exactly_the_identity(kind, data, front):
    axle = data.draw(suspensions(kind, front)).poses(0.0, 0.0, 0.0)
    np.testing.assert_array_equal(axle.R_CA, np.eye(3))
    np.testing.assert_array_equal(axle.p_C_A, np.zeros(3))
    np.testing.assert_array_equal(axle.X_CA, np.eye(4))


@pytest.mark.slow
@pytest.mark.parametrize("kind", VEHICLE_KINDS)
@given(data=st.data())
@QUIET
def test_poses_are_rotations_and_carry_follows_them(kind, data):
    vehicle = data.draw(vehicles(kind))
    asked = data.draw(poses(vehicle))
    axle = vehicle.suspension.poses(*asked)
    np.testing.assert_allclose(axle.R_CA @ axle.R_CA.T, np.eye(3), rtol=0, atol=1e-14)
    np.testing.assert_allclose(np.linalg.det(axle.R_CA), 1.0, rtol=1e-13)
    p, v = vehicle.suspension.carry(*asked, vehicle.p_A_pinion, vehicle.axis_A_pinion)
    np.testing.assert_allclose(p, axle.point(vehicle.p_A_pinion), rtol=0, atol=1e-11)
    np.testing.assert_allclose(v, axle.direction(vehicle.axis_A_pinion), rtol=0, atol=1e-14)


@pytest.mark.slow
@pytest.mark.parametrize("kind", VEHICLE_KINDS)
@given(data=st.data())
@QUIET
def test_batches_broadcast_and_agree_with_single_poses(kind, data):
    vehicle = data.draw(vehicles(kind))
    low, high = vehicle.travel.low, vehicle.travel.high
    t, r, w = (np.linspace(a, b, n) for a, b, n in zip(low, high, (4, 3, 2), strict=True))
    batch = vehicle.suspension.poses(t[:, None, None], r[:, None], w)
    assert batch.R_CA.shape == (4, 3, 2, 3, 3)
    assert batch.p_C_A.shape == (4, 3, 2, 3)
    one = vehicle.suspension.poses(t[2], r[0], w[1])
    np.testing.assert_allclose(batch.R_CA[2, 0, 1], one.R_CA, rtol=0, atol=1e-15)
    np.testing.assert_allclose(batch.p_C_A[2, 0, 1], one.p_C_A, rtol=0, atol=1e-12)


@pytest.mark.slow
@pytest.mark.parametrize("kind", VEHICLE_KINDS)
@given(data=st.data())
@QUIET
def test_a_mirrored_axle_moves_as_the_mirror_shows(kind, data):
    vehicle = data.draw(vehicles(kind))
    travel, roll, wrap = data.draw(poses(vehicle))
    here = vehicle.suspension.poses(travel, roll, wrap)
    there = mirrored(vehicle).suspension.poses(travel, -roll, wrap)
    np.testing.assert_allclose(there.p_C_A, here.p_C_A * FLIP, rtol=0, atol=1e-11)
    image = np.diag(FLIP) @ here.R_CA @ np.diag(FLIP)
    np.testing.assert_allclose(there.R_CA, image, rtol=0, atol=1e-13)


@pytest.mark.slow
@pytest.mark.parametrize("kind", VEHICLE_KINDS)
@given(data=st.data())
@QUIET
def test_the_wrap_centre_stays_where_it_is(kind, data):
    vehicle = data.draw(vehicles(kind))
    travel, roll, wrap = data.draw(poses(vehicle))
    centre = vehicle.suspension.wrap_centre
    still = vehicle.suspension.poses(travel, roll, 0.0).point(centre)
    wrapped = vehicle.suspension.poses(travel, roll, wrap).point(centre)
    np.testing.assert_allclose(wrapped, still, rtol=0, atol=1e-11)


@pytest.mark.parametrize(("front", "pinion"), [(False, 280.0), (True, -280.0)])
def test_wrap_lifts_the_nose_of_either_axle(front, pinion):
    suspension = Vertical(front=front)
    up = suspension.poses(0.0, 0.0, 0.1).point([pinion, 0, 0])
    np.testing.assert_allclose(up[2], 280.0 * np.sin(0.1), rtol=1e-14)


def test_roll_lifts_the_left_wheel():
    assert Vertical().poses(0.0, 0.1, 0.0).point([0, 700, 0])[2] > 0


def test_a_kind_that_states_poses_only_is_carried_along():
    class Still(Suspension):
        def poses(self, travel, roll, wrap):
            shape = np.broadcast_shapes(*(np.shape(v) for v in (travel, roll, wrap)))
            R = np.broadcast_to(np.eye(3), (*shape, 3, 3))
            return AxlePoses(R, np.zeros((*shape, 3)))

        def bodies(self):
            return ()

    p, v = Still().carry(np.zeros(4), 0.0, 0.0, [1, 2, 3], [1, 0, 0])
    np.testing.assert_array_equal(p, [[1, 2, 3]] * 4)
    np.testing.assert_array_equal(v, [[1, 0, 0]] * 4)
    assert Still().range() is None


def test_the_arrays_are_read_only():
    axle = plain().suspension.poses(np.zeros(2), 0.0, 0.0)
    with pytest.raises(ValueError, match="read-only"):
        axle.R_CA[0, 0, 0] = 2.0
    with pytest.raises(ValueError, match="read-only"):
        axle.p_C_A[0, 0] = 2.0


def test_an_abstract_kind_cannot_be_built():
    with pytest.raises(TypeError, match="abstract"):
        EulerSuspension()
