"""The eye: going round, moving aside, going nearer, going along; and what just fits a view."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.frames import Rx, Rz, pose
from viewer.draw.camera import UP, VIEW_ANGLE, Camera, Region, framing
from viewer.live.eye import STEEPEST, carried, orbited, panned, zoomed

CAMERA = Camera(np.array([10.0, -20.0, 30.0]), np.array([0.3, 1.0, 0.4]), UP, 500.0)
REGION = Region(0.0, 0.0, 800.0, 500.0)
turns = st.floats(-7.0, 7.0)


@given(turns, turns)
def test_going_round_keeps_focus_scale_and_the_vehicle_upright(right, up) -> None:
    there = orbited(CAMERA, right, up)
    np.testing.assert_array_equal(there.focus, CAMERA.focus)
    assert there.span == CAMERA.span
    assert np.linalg.norm(there.toward) == pytest.approx(1.0, abs=1e-12)
    assert abs(np.arcsin(there.toward[2])) <= STEEPEST + 1e-9
    assert there.R_VC[1] @ UP >= 0.0


@given(turns)
def test_going_round_and_back_is_where_it_was(right) -> None:
    back = orbited(orbited(CAMERA, right, 0.2), -right, -0.2)
    wanted = CAMERA.toward / np.linalg.norm(CAMERA.toward)
    np.testing.assert_allclose(back.toward, wanted, rtol=0.0, atol=1e-9)


def test_what_is_dragged_stays_under_the_mouse() -> None:
    point = CAMERA.focus
    before = CAMERA.project(point, REGION)
    after = panned(CAMERA, 0.1, -0.2).project(point, REGION)
    np.testing.assert_allclose(
        after - before, np.array([0.1, -0.2]) * REGION.height, rtol=0.0, atol=1e-9
    )


@given(st.floats(0.2, 5.0))
def test_a_point_zoomed_about_stays_where_it_is_seen(factor) -> None:
    point = np.array([80.0, 15.0, -40.0])
    near = zoomed(CAMERA, factor, point)
    assert near.span == pytest.approx(CAMERA.span / factor, rel=1e-12)
    np.testing.assert_allclose(
        near.project(point, REGION), CAMERA.project(point, REGION), rtol=0.0, atol=1e-6
    )


def test_the_eye_goes_along_with_a_joint() -> None:
    before = pose(Rz(0.2), [10.0, -20.0, 30.0])
    after = pose(Rx(1.1) @ Rz(0.5), [40.0, 5.0, -60.0])
    still = carried(CAMERA, before, after, turning=False)
    np.testing.assert_allclose(still.focus, after[:3, 3], rtol=0.0, atol=1e-12)
    np.testing.assert_array_equal(still.toward, CAMERA.toward)
    along = carried(CAMERA, before, after, turning=True)
    # What is fixed to the joint is seen at the same place.
    point = np.array([12.0, 7.0, -5.0])
    seen = [
        camera.project(X[:3, :3] @ point + X[:3, 3], REGION)
        for camera, X in ((CAMERA, before), (along, after))
    ]
    np.testing.assert_allclose(seen[1], seen[0], rtol=0.0, atol=1e-9)


@pytest.mark.parametrize("toward", [[0.3, 1.0, 0.3], [0.05, 0.3, -1.0], [1.0, 0.4, 0.4]])
def test_a_fitted_view_shows_everything_and_no_more(toward) -> None:
    points = np.random.default_rng(3).uniform(-1.0, 1.0, (200, 3)) * [900.0, 300.0, 200.0]
    toward = np.array(toward) / np.linalg.norm(toward)
    camera = framing(points, toward, UP, REGION, 0.06, perspective=True)
    away = 0.5 * camera.span / np.tan(0.5 * VIEW_ANGLE)
    seen = (points - camera.focus) @ camera.R_VC.T
    share = seen[:, :2] / (away - seen[:, 2:]) / np.tan(0.5 * VIEW_ANGLE)
    share[:, 0] *= REGION.height / REGION.width
    assert np.abs(share).max() == pytest.approx(1.0 - 2.0 * 0.06, abs=1e-9)
