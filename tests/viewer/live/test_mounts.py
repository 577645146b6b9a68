"""Where parts of the live view hang: against the poses that the line of the shaft gives."""

from math import radians

import numpy as np
import pytest

from sim.derive import vehicle_of
from sim.frames import Rx, Ry, pose
from sim.line import turn
from sim.vehicle import Pose
from tests.viewer.session.conftest import checked
from viewer.rigs import named_rig
from viewer.scene.mount import (
    CHASSIS,
    HOUSING,
    SHAFT,
    SLID,
    AtEye,
    Bellows,
    Bent,
    Between,
    frames_of,
)
from viewer.scene.suspension import suspension_parts

NAMES = ("long-legged-trail-wagon", "short-tailed-scout", "timber-crew-carrier", "ridge-crawler")
AT = Pose(-60.0, radians(3.0), radians(2.0))


def frames(name, at=AT, spin=0.7):
    check = checked(name)
    vehicle = check.derivation.vehicle
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    return vehicle, state, frames_of(vehicle, state)


def moved(X, point):
    return X[:3, :3] @ np.asarray(point) + X[:3, 3]


@pytest.mark.parametrize("name", NAMES)
def test_every_frame_is_a_pose(name) -> None:
    _, _, known = frames(name)
    for X in known.values():
        np.testing.assert_allclose(X[:3, :3] @ X[:3, :3].T, np.eye(3), rtol=0.0, atol=1e-12)
        assert np.linalg.det(X[:3, :3]) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_the_slid_half_goes_with_the_pinion_end(name) -> None:
    """Whatever the pose, the half beyond the slip keeps its distance to the yoke at the pinion."""
    apart = []
    for at in (Pose(), AT, Pose(40.0)):
        vehicle, _, known = frames(name, at)
        if vehicle.slip.at != "shaft":
            return
        joint = known["pinion shaft yoke"][:3, 3]
        apart.append(np.linalg.inv(known[SLID])[:3, :3] @ (joint - known[SLID][:3, 3]))
    np.testing.assert_allclose(apart[1:], [apart[0]] * 2, rtol=0.0, atol=1e-9)


def test_the_boot_reaches_from_one_half_to_the_other() -> None:
    _, state, known = frames("long-legged-trail-wagon")
    assert abs(float(state.line.slip)) > 1.0
    X = Bellows(200.0, 300.0).pose(known)
    for x, frame in ((200.0, SHAFT), (300.0, SLID)):
        np.testing.assert_allclose(
            moved(X, [x, 5.0, -7.0]), moved(known[frame], [x, 5.0, -7.0]), rtol=0.0, atol=1e-9
        )


HOUSED = {CHASSIS: np.eye(4), HOUSING: pose(Ry(0.1) @ Rx(0.06), [4.0, -3.0, -120.0])}
START, END = np.array([600.0, 400.0, 90.0]), np.array([20.0, 450.0, -60.0])


def test_a_link_reaches_from_point_to_point() -> None:
    X = Between(CHASSIS, START, HOUSING, END).pose(HOUSED)
    far = moved(HOUSED[HOUSING], END)
    length = np.linalg.norm(far - START)
    np.testing.assert_allclose(moved(X, [0, 0, 0]), START, rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(moved(X, [length, 0, 0]), far, rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(X[:3, :3] @ X[:3, :3].T, np.eye(3), rtol=0.0, atol=1e-12)


def test_a_spring_reaches_from_seat_to_eye_and_keeps_its_thickness() -> None:
    X = Bent(END, START).pose(HOUSED)
    np.testing.assert_allclose(moved(X, np.zeros(3)), moved(HOUSED[HOUSING], END), atol=1e-9)
    np.testing.assert_allclose(moved(X, START - END), START, rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(X[:3, 1:3], np.eye(3)[:, 1:], rtol=0.0, atol=0.0)


@pytest.mark.parametrize("start", [0.25, 0.5, 0.75])
def test_lengths_of_a_spring_meet_and_leave_the_seat_as_it_lies(start: float) -> None:
    """A clamped bar does not turn at its clamp; its deflection there goes with the square."""
    still = START - END
    before, after = Bent(END, START, start - 0.25, start), Bent(END, START, start, start + 0.25)
    end, begin = before.pose(HOUSED), after.pose(HOUSED)
    np.testing.assert_allclose(moved(end, start * still), moved(begin, start * still), atol=1e-9)
    pulled = START - moved(HOUSED[HOUSING], END) - still
    share = 1e-4
    X = Bent(END, START, 0.0, share).pose(HOUSED)
    off = moved(X, share * still) - moved(HOUSED[HOUSING], END) - share * still
    assert np.linalg.norm(off) <= 1.5 * share**2 * np.linalg.norm(pulled) + 1e-9


def test_no_rod_comes_off_what_holds_it() -> None:
    """Radius arms once turned with the housing, and left their pivots by inches."""
    vehicle = vehicle_of(named_rig("demo:heather-moor-scout"))
    parts = [part for part in suspension_parts(vehicle) if isinstance(part.mount, Between)]
    rods = [rod for body in vehicle.suspension.bodies() for rod in body.rods]
    known = {CHASSIS: np.eye(4), HOUSING: HOUSED[HOUSING]}
    on = {"chassis": known[CHASSIS], "axle": known[HOUSING]}
    assert len(parts) == len(rods) == 5
    for part, rod in zip(parts, rods, strict=True):
        X = part.mount.pose(known)
        start, stop = moved(on[rod.start_on], rod.start), moved(on[rod.stop_on], rod.stop)
        np.testing.assert_allclose(X[:3, 3], start, rtol=0.0, atol=1e-9)
        along = (stop - start) / np.linalg.norm(stop - start)
        np.testing.assert_allclose(X[:3, 0], along, rtol=0.0, atol=1e-9)


def test_a_shackled_eye_swings_so_that_the_spring_keeps_its_length() -> None:
    mount = Bent(np.array([0.0, 500.0, 40.0]), np.array([-600.0, 500.0, 90.0]), swings=True)
    seat, eye = mount.ends(HOUSED)
    half = np.hypot(600.0, 50.0)
    np.testing.assert_allclose(np.hypot(*(eye - seat)[[0, 2]]), half, rtol=1e-12)
    assert eye[2] == 90.0
    assert eye[0] < seat[0]
    X = AtEye(mount.seat, mount.eye, swings=True).pose(HOUSED)
    np.testing.assert_array_equal(X[:3, :3], np.eye(3))
    np.testing.assert_array_equal(X[:3, 3], eye)
