import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sim.frames import (
    Rx,
    Ry,
    Rz,
    angle_between,
    components_last,
    dot,
    pose,
    read_only,
    spoken_direction,
    unit,
)


@pytest.mark.parametrize(("ours", "axis"), [(Rx, "x"), (Ry, "y"), (Rz, "z")])
def test_rotations_agree_with_an_independent_library(ours, axis):
    angles = np.linspace(-7.0, 7.0, 41)
    theirs = Rotation.from_euler(axis, angles[:, None]).as_matrix()
    np.testing.assert_allclose(ours(angles), theirs, rtol=0, atol=1e-15)


def test_roll_lifts_the_left_and_pitch_lowers_the_front():
    assert (Rx(0.1) @ [0, 1, 0])[2] > 0
    assert (Ry(0.1) @ [1, 0, 0])[2] < 0
    assert (Rz(0.1) @ [1, 0, 0])[1] > 0


def test_rotation_by_nothing_is_exactly_the_identity():
    for rotation in (Rx, Ry, Rz):
        np.testing.assert_array_equal(rotation(0.0), np.eye(3))


@pytest.mark.parametrize("angle", [0.0, 1e-12, 1e-8, 0.3, np.pi / 2, np.pi - 1e-8, np.pi])
def test_angle_between_keeps_its_digits_at_both_ends(angle):
    u, v = np.array([2.0, 0.0, 0.0]), 3.0 * np.array([np.cos(angle), np.sin(angle), 0.0])
    np.testing.assert_allclose(angle_between(u, v), angle, rtol=1e-15, atol=3e-16)


def test_spoken_direction_is_read_in_side_and_plan_view():
    down, left = np.radians(14.0), np.radians(3.0)
    x, y, z = spoken_direction(forward=False, down=down, left=left)
    assert x < 0 < y
    np.testing.assert_allclose([z / x, y / x], [np.tan(down), -np.tan(left)], rtol=1e-15)
    np.testing.assert_allclose(x * x + y * y + z * z, 1.0, rtol=1e-15)


def test_spoken_direction_points_up_with_a_negative_angle():
    assert spoken_direction(forward=True, down=-0.02)[2] > 0


def test_unit_of_a_zero_vector_is_not_a_number():
    result = unit([[0.0, 0.0, 0.0], [0.0, 3.0, 4.0]])
    assert np.isnan(result[0]).all()
    np.testing.assert_allclose(result[1], [0.0, 0.6, 0.8], rtol=1e-15)


def test_pose_moves_a_point_like_its_parts():
    R, p = Rz([0.3, -0.2]), np.array([[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]])
    X = pose(R, p)
    point = np.array([7.0, -8.0, 9.0])
    np.testing.assert_allclose((X @ [*point, 1.0])[:, :3], R @ point + p, rtol=0, atol=1e-13)
    np.testing.assert_array_equal(X[:, 3], [[0, 0, 0, 1]] * 2)


def test_read_only_copies_and_locks():
    source = np.arange(3.0)
    held = read_only(source)
    source[0] = 9.0
    assert held[0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        held[0] = 1.0


def test_components_last_is_a_view():
    stacked = np.zeros((3, 5))
    view = components_last(stacked)
    stacked[1] = 2.0
    np.testing.assert_array_equal(view, [[0.0, 2.0, 0.0]] * 5)
    np.testing.assert_array_equal(dot(view, view), [4.0] * 5)
