import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from geometry.joint import (
    driven_in_driving,
    rotations,
    turn_per_spin,
)
from tests.cross_poses import cross_in_driven, cross_in_driving

bends = st.floats(0.0, np.radians(80.0))
spins = st.floats(-7.0, 7.0)


@given(bends, spins)
def test_axes_obey_the_conventions(bend: float, spin: float) -> None:
    joint = rotations(bend, spin)
    x1, y1, _ = joint.R_JD.T
    x2, y2, _ = joint.R_JN.T
    np.testing.assert_allclose(x1, [1.0, 0.0, 0.0], atol=1e-15)
    np.testing.assert_allclose(-x1 @ x2, np.cos(bend), atol=1e-14)
    np.testing.assert_allclose(y1, [0.0, np.cos(spin), np.sin(spin)], atol=1e-15)
    np.testing.assert_allclose([y1 @ y2, x2 @ y2, x2[2]], 0.0, atol=1e-13)
    np.testing.assert_allclose(joint.R_JX[:, :2], np.stack([y1, y2], -1), atol=1e-15)
    for R in (joint.R_JD, joint.R_JN, joint.R_JX):
        np.testing.assert_allclose(R @ R.T, np.eye(3), atol=1e-13)
        np.testing.assert_allclose(np.linalg.det(R), 1.0, atol=1e-13)


@given(st.lists(st.tuples(bends, spins), min_size=1, max_size=5))
def test_one_at_a_time_and_all_at_once_are_the_same(poses: list[tuple[float, float]]) -> None:
    together = rotations(*np.array(poses).T)
    for number, (bend, spin) in enumerate(poses):
        alone = rotations(bend, spin)
        for name in ("R_JD", "R_JN", "R_JX"):
            one, many = getattr(alone, name), getattr(together, name)[number]
            np.testing.assert_allclose(one, many, rtol=0.0, atol=1e-14)


def test_one_pose_of_the_driven_yoke_is_as_of_many() -> None:
    bend, spin = np.meshgrid([0.0, 1e-9, 0.4, 1.2, np.radians(89.9)], np.linspace(-4.0, 7.0, 23))
    for each, both in zip(
        driven_in_driving(bend, spin).reshape(-1, 3, 3),
        zip(bend.flat, spin.flat, strict=True),
        strict=True,
    ):
        alone = driven_in_driving(float(both[0]), float(both[1]))
        np.testing.assert_allclose(alone, each, rtol=0.0, atol=1e-13)


def test_at_spin_zero_the_driving_bores_lie_in_the_plane_of_the_bend() -> None:
    joint = rotations(0.4, 0.0)
    normal = np.cross(joint.R_JD[:, 0], joint.R_JN[:, 0])
    np.testing.assert_allclose(joint.R_JD[:, 1] @ normal, 0.0, atol=1e-15)
    np.testing.assert_allclose(joint.R_JN[:, 1], [0.0, 0.0, 1.0], atol=1e-15)


def test_straight_joint_does_not_change_as_it_spins() -> None:
    R = driven_in_driving(0.0, np.linspace(0.0, 6.0, 25))
    np.testing.assert_allclose(R, np.broadcast_to(R[0], R.shape), atol=1e-15)


def test_swapping_the_yokes_shifts_the_spin_by_a_quarter() -> None:
    """Seen from the driven yoke the joint is the same joint, at the driven yoke's own spin,
    which follows the tan law of the Cardan joint from a quarter turn on."""
    bend, spin = 0.5, np.linspace(0.1, 6.0, 40)
    back = np.swapaxes(driven_in_driving(bend, spin), -1, -2)
    driven = np.arctan2(-back[:, 2, 0], back[:, 1, 0])
    np.testing.assert_allclose(driven_in_driving(bend, driven), back, atol=1e-12)
    np.testing.assert_allclose(
        np.tan(driven - 0.5 * np.pi), -np.tan(spin) / np.cos(bend), rtol=1e-9
    )


@given(st.floats(0.01, np.radians(70.0)), spins)
def test_turn_bounds_hold_by_finite_difference(bend: float, spin: float) -> None:
    """No relative motion is faster than its bound; over the turn the spin bound is reached."""
    h = 1e-6
    for motion in (driven_in_driving, cross_in_driving, cross_in_driven):
        here = motion(bend, spin)
        by_bend = np.linalg.norm(motion(bend + h, spin) - here) / (np.sqrt(2.0) * h)
        by_spin = np.linalg.norm(motion(bend, spin + h) - here) / (np.sqrt(2.0) * h)
        assert by_bend <= np.hypot(1.0, 0.5 * np.tan(bend + h)) * (1.0 + 1e-4)
        assert by_spin <= turn_per_spin(bend) * (1.0 + 1e-4) + 1e-6


def test_spin_bound_is_reached_with_the_driving_bores_in_the_plane() -> None:
    h, bend = 1e-6, 0.6
    step = driven_in_driving(bend, h) - driven_in_driving(bend, 0.0)
    np.testing.assert_allclose(
        np.linalg.norm(step) / (np.sqrt(2.0) * h), turn_per_spin(bend), rtol=1e-5
    )


def test_near_a_right_angle_stays_finite_off_the_singular_spin() -> None:
    assert np.isfinite(driven_in_driving(np.radians(89.999), 0.3)).all()
