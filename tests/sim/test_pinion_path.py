"""The pinion over the travel, as arrays and as a table."""

from dataclasses import replace

import numpy as np
import pytest

from sim.frames import spoken_direction
from sim.pinion_path import COLUMNS, pinion_path, table
from sim.suspension.vertical import Vertical
from tests.sim.linkages import THREE_LINK, TRIANGULATED
from tests.sim.vehicles import plain

LINKED = plain(suspension=THREE_LINK)


def test_it_is_the_housing_of_the_suspension():
    travel = np.linspace(-200.0, 100.0, 7)
    path = pinion_path(LINKED, travel, 0.05, 0.03)
    housing = THREE_LINK.poses(travel, 0.05, 0.03)
    np.testing.assert_array_equal(path.p_C_pinion, housing.point(LINKED.p_A_pinion))
    np.testing.assert_array_equal(path.forward, housing.p_C_A[:, 0])
    np.testing.assert_array_equal(path.side_shift, housing.p_C_A[:, 1])
    points = housing.direction(-LINKED.axis_A_pinion)
    for up, left, direction in zip(path.points_up, path.points_left, points, strict=True):
        spoken = spoken_direction(forward=True, down=-up, left=left)
        np.testing.assert_allclose(spoken, direction, rtol=0, atol=1e-14)


@pytest.mark.parametrize("front", [False, True])
def test_ride_height_is_where_nothing_has_moved(front):
    sense = -1.0 if front else 1.0
    vehicle = plain(
        p_C_output=np.array([sense * 1180.0, 0.0, 230.0]),
        p_A_pinion=np.array([sense * 280.0, 0.0, 0.0]),
        axis_C_output=-spoken_direction(forward=front, down=0.05),
        axis_A_pinion=-spoken_direction(forward=not front, down=-0.02, left=0.01),
        suspension=replace(TRIANGULATED, front=front),
        front=front,
    )
    path = pinion_path(vehicle, 0.0)
    for moved in (path.forward, path.side_shift, path.yaw, path.turned_up):
        assert moved == 0.0
    assert path.points_up == pytest.approx(0.02, abs=1e-15)
    assert path.points_left == pytest.approx(0.01, abs=1e-15)
    assert pinion_path(vehicle, 0.0, 0.0, 0.1).points_up == pytest.approx(0.12, abs=1e-15)


def test_yaw_is_left_when_the_right_wheel_goes_ahead():
    path = pinion_path(LINKED, 0.0, np.array([0.1, -0.1]))
    housing = THREE_LINK.poses(0.0, np.array([0.1, -0.1]), 0.0)
    right, left = housing.point((0.0, -700.0, 0.0)), housing.point((0.0, 700.0, 0.0))
    ahead = right[:, 0] - left[:, 0]
    assert (np.sign(path.yaw) == np.sign(ahead)).all()
    np.testing.assert_allclose(np.tan(path.yaw), ahead / (left - right)[:, 1], rtol=1e-12)


def test_rows_of_the_table_are_plain_numbers():
    path = pinion_path(LINKED, np.array([[-100.0, 0.0], [50.0, -900.0]]))
    rows = table(path)
    assert rows.shape == (4, len(COLUMNS))
    np.testing.assert_array_equal(rows[:, 0], [-100.0, 0.0, 50.0, -900.0])
    np.testing.assert_allclose(rows[1, 1:4], LINKED.p_A_pinion, rtol=0, atol=1e-12)
    assert rows[0, COLUMNS.index("pinion_up_deg")] == np.degrees(path.points_up[0, 0])
    assert np.isnan(rows[3, 1:]).all()
    with pytest.raises(ValueError, match="read-only"):
        rows[0, 0] = 1.0


def test_any_suspension_has_a_path():
    path = pinion_path(plain(suspension=Vertical()), np.array([-50.0, 50.0]))
    np.testing.assert_array_equal(path.forward, 0.0)
    np.testing.assert_allclose(path.p_C_pinion[:, 2], [-50.0, 50.0], rtol=0, atol=1e-12)
