from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from sim.suspension.base import SuspensionError
from sim.suspension.leaf.motion import Leaf, clamp_rotation, half_length
from tests.sim.vehicles import poses, vehicles

QUIET = settings(deadline=None, max_examples=60)

FLAT = Leaf(fixed_eye=(600.0, 500.0, 75.0), seat=(0.0, 500.0, 75.0))


def seat_moves(leaf, travel, roll, sides=(1.0, -1.0)):
    """Place of the seats in C (no wrap), one row a side."""
    axle = leaf.poses(travel, roll, 0.0)
    x, y, z = leaf.seat
    return np.array([axle.point([x, side * y, z]) for side in sides])


@given(data=st.data())
@QUIET
def test_both_seats_stay_on_their_arcs(data):
    vehicle = data.draw(vehicles("leaf"))
    leaf = vehicle.suspension
    travel, roll, _ = data.draw(poses(vehicle))
    centre = np.array(leaf.link_centre)
    seats = seat_moves(leaf, travel, roll)[:, [0, 2]]
    radius = np.linalg.norm(seats - centre, axis=1)
    np.testing.assert_allclose(radius, 0.75 * leaf.fixed_half, rtol=0, atol=1e-9)


@given(along=st.floats(100, 900), height=st.floats(-200, 200))
@QUIET
def test_the_half_length_puts_the_seat_on_the_arc(along, height):
    a = half_length(along, height)
    np.testing.assert_allclose(np.hypot(along - 0.25 * a, height), 0.75 * a, rtol=1e-13)


def test_a_seat_at_the_height_of_its_eye_has_the_half_length_between_them():
    assert half_length(-600.0, 0.0) == pytest.approx(600.0, rel=1e-15)


@pytest.mark.parametrize(
    ("y", "link", "circle"),
    [(60.0, 4.0179, 4.0188), (120.0, 16.2950, 16.3105), (180.0, 37.5682, 37.6563)],
)
def test_end_shortening_against_the_bent_circle(y, link, circle):
    """Computed apart from this code: link of 0.75 a, and the exact circular arc, a = 600 mm."""
    shortening = float(FLAT.poses(-y, 0.0, 0.0).p_C_A[0])
    assert shortening == pytest.approx(link, abs=5e-5)
    assert shortening == pytest.approx(circle, rel=0.0025)


def test_the_circular_arc_is_approached_with_the_fourth_power():
    """Own derivation: a circle of length a has tan(half angle) = y / shortened length."""

    def circle(y, a=600.0):
        angle = brentq(lambda q: a * (1.0 - np.cos(q)) / q - y, 1e-6, 1.5)
        return a - a * np.sin(angle) / angle

    errors = [
        abs(float(FLAT.poses(-y, 0.0, 0.0).p_C_A[0]) - circle(y)) for y in (50.0, 100.0, 200.0)
    ]
    orders = np.log2(np.array(errors[1:]) / errors[:-1])
    assert (orders > 3.5).all(), orders


def test_clamp_rotation_of_an_uneven_spring():
    """Computed apart, by beam formulas a frame program agreed with: halves 550 and 700 mm."""
    assert abs(clamp_rotation(550.0, 700.0)) == pytest.approx(3.89610e-4, abs=5e-10)
    assert clamp_rotation(600.0, 600.0) == 0.0
    assert clamp_rotation(550.0, 700.0) == -clamp_rotation(700.0, 550.0)


@given(ahead=st.floats(200, 1000), behind=st.floats(200, 1000))
@QUIET
def test_clamp_rotation_balances_the_eyes(ahead, behind):
    """Two cantilevers on a clamp, eyes at rest: the eye forces balance in moment."""
    turn = clamp_rotation(ahead, behind)
    force_ahead = (1.0 + turn * ahead) / ahead**3
    force_behind = (1.0 - turn * behind) / behind**3
    size = ahead**-2 + behind**-2
    np.testing.assert_allclose(
        force_ahead * ahead, force_behind * behind, rtol=0, atol=1e-13 * size
    )


@pytest.mark.parametrize("front", [False, True])
@pytest.mark.parametrize(("eye", "other"), [(550.0, -700.0), (700.0, -550.0), (-550.0, 700.0)])
def test_going_up_lowers_the_end_of_the_short_half(front, eye, other):
    leaf = Leaf(
        front=front,
        fixed_eye=(eye, 500.0, 75.0),
        seat=(0.0, 500.0, 75.0),
        shackled_eye=(other, 500.0, 75.0),
    )
    ahead = leaf.poses(10.0, 0.0, 0.0).direction([1.0, 0.0, 0.0])
    short_ahead = max(eye, other) == 550.0
    angle = np.arctan2(ahead[2], ahead[0])
    assert angle == pytest.approx((-1.0 if short_ahead else 1.0) * 10.0 * 3.89610e-4, abs=1e-8)


@pytest.mark.parametrize("height", [-90.0, 0.0, 140.0])
def test_either_half_is_that_of_its_own_eye_at_its_own_height(height):
    """Half lengths by a root finder: the seat lies three quarters of one from a point a quarter
    of it out from the eye; the clamp then turns as the two cantilevers balance."""
    leaf = Leaf(
        fixed_eye=(600.0, 500.0, 120.0), seat=(40.0, 480.0, 30.0),
        shackled_eye=(-710.0, 510.0, 30.0 + height),
    )  # fmt: skip

    def half(along, height):
        return brentq(lambda a: np.hypot(along - 0.25 * a, height) - 0.75 * a, 10.0, 3000.0)

    ahead, behind = half(560.0, 90.0), half(750.0, height)
    assert leaf.fixed_half == pytest.approx(ahead, rel=1e-12)
    assert leaf.shackled_half == pytest.approx(behind, rel=1e-12)
    turn = brentq(lambda w: (1 + w * ahead) / ahead**2 - (1 - w * behind) / behind**2, -0.01, 0.01)
    axis = leaf.poses(50.0, 0.0, 0.0).direction([1.0, 0.0, 0.0])
    assert np.arctan2(axis[2], axis[0]) == pytest.approx(50.0 * turn, rel=1e-9)


def test_without_the_shackled_eye_the_seat_does_not_turn():
    axle = FLAT.poses(np.array([-150.0, 90.0]), 0.0, 0.0)
    np.testing.assert_array_equal(axle.R_CA, [np.eye(3)] * 2)


@pytest.mark.parametrize("eye", [600.0, -600.0])
def test_the_seat_is_drawn_toward_the_fixed_eye_away_from_its_height(eye):
    leaf = Leaf(fixed_eye=(eye, 500.0, 75.0), seat=(0.0, 500.0, 75.0))
    moved = leaf.poses(np.array([-150.0, 150.0]), 0.0, 0.0).p_C_A[:, 0]
    assert (np.sign(moved) == np.sign(eye)).all()
    assert moved[0] == pytest.approx(moved[1], rel=1e-13)


def test_roll_steers_to_the_side_whose_seat_goes_back():
    """Eye ahead and above the seat: the rising left seat swings back toward the eye's height,
    the falling right one forward, so the axle yaws to the left."""
    leaf = Leaf(fixed_eye=(600.0, 500.0, 175.0), seat=(0.0, 500.0, 75.0))
    left, right = seat_moves(leaf, 0.0, 0.1)
    assert left[0] < 0.0 < right[0]
    forward = leaf.poses(0.0, 0.1, 0.0).direction([1.0, 0.0, 0.0])
    assert forward[1] > 0.0


def test_roll_steer_grows_with_the_slope_of_the_link():
    """Own derivation: a link moves its end by dz tan(slope), so the seats, 2 y apart and lifted
    +- y roll, come to differ by 2 y roll tan(slope): yaw = roll tan(slope)."""
    leaf = Leaf(fixed_eye=(600.0, 500.0, 175.0), seat=(0.0, 500.0, 75.0))
    centre = leaf.link_centre
    slope = (centre[1] - leaf.seat[2]) / (centre[0] - leaf.seat[0])
    h = 1e-5
    forward = leaf.poses(0.0, h, 0.0).direction([1.0, 0.0, 0.0])
    assert forward[1] / h == pytest.approx(slope, rel=1e-6)


@given(data=st.data())
@QUIET
def test_the_housing_starts_along_the_tangent_of_its_arc(data):
    """Finite difference: at ride the seat moves square to its link."""
    leaf = data.draw(vehicles("leaf")).suspension
    h = 1e-4
    above, below = seat_moves(leaf, h, 0.0)[0], seat_moves(leaf, -h, 0.0)[0]
    velocity = (above - below)[[0, 2]] / (2 * h)
    link = np.array([leaf.seat[0], leaf.seat[2]]) - leaf.link_centre
    np.testing.assert_allclose(velocity @ link, 0.0, rtol=0, atol=1e-6)


def test_out_of_reach_is_not_a_number():
    axle = FLAT.poses(np.array([-449.0, -451.0]), 0.0, 0.0)
    assert np.isfinite(axle.p_C_A[0]).all()
    assert np.isnan(axle.p_C_A[1]).any()


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"seat": (600.0, 500.0, 0.0)}, "expected the eye ahead"),
        ({"seat": (0.0, 0.0, 0.0)}, "expected the left spring"),
        ({"seat": (0.0, float("inf"), 0.0)}, "expected three finite numbers"),
        ({"fixed_eye": (600.0, 500.0)}, "expected three finite numbers"),
        ({"shackled_eye": (300.0, 500.0, 0.0)}, "other side of the seat"),
    ],
)
def test_impossible_springs_are_refused_by_name(changes, says):
    with pytest.raises(SuspensionError, match=says):
        replace(FLAT, **changes)
