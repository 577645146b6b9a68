"""A measured axle past its readings: straight on, at either end, in shift and in pitch alike.

Against SciPy's spline through the same readings and a ruler laid along its end. What is asked
past the one end only, past both, or one pose at a time must not matter.
"""

from math import atan2, hypot, sqrt

import numpy as np
import pytest
from scipy.interpolate import CubicSpline

from sim.suspension.measured.motion import Measured, Reading

P_C_OUTPUT, P_A_PINION = (1180.0, 30.0, 230.0), (280.0, -10.0, 15.0)
MOVES = np.array(
    [
        [-150.0, 9.0, 0.03],
        [-60.0, 2.0, 0.02],
        [0.0, 0.0, 0.0],
        [45.0, 1.5, -0.012],
        [80.0, 3.0, -0.02],
    ]
)
"""Travel mm, shift forward mm and nose up rad of an invented axle, read at five heights."""


def axle(front: bool) -> Measured:
    """Built from what a tape and an angle finder would read of those moves, side view worked out
    here: the pinion turns about the housing's own axis and goes along."""
    sense = -1.0 if front else 1.0
    readings = []
    for travel, shift, nose in MOVES.tolist():
        reach, lift = hypot(P_A_PINION[0], P_A_PINION[2]), atan2(P_A_PINION[2], P_A_PINION[0])
        turned = lift + sense * nose
        x, z = reach * np.cos(turned) + shift, reach * np.sin(turned) + travel
        apart = (x - P_C_OUTPUT[0], P_A_PINION[1] - P_C_OUTPUT[1], z - P_C_OUTPUT[2])
        readings.append(Reading(travel, sqrt(sum(a * a for a in apart)), 0.05 + nose))
    return Measured(
        front=front, p_C_output=P_C_OUTPUT, p_A_pinion=P_A_PINION, readings=tuple(readings)
    )


def expected(travel: np.ndarray) -> np.ndarray:
    """Shift mm and nose up rad, (2, n): the spline within, its end slopes beyond."""
    curve = CubicSpline(MOVES[:, 0], MOVES[:, 1:])
    at = np.clip(travel, MOVES[0, 0], MOVES[-1, 0])
    return np.asarray((curve(at) + (travel - at)[:, None] * curve(at, 1)).T)


def moved(suspension: Measured, travel: np.ndarray) -> np.ndarray:
    """The same of the suspension, (2, n)."""
    poses = suspension.poses(travel, 0.0, 0.0)
    nose = np.arctan2(poses.R_CA[:, 2, 0], poses.R_CA[:, 0, 0])
    return np.stack([poses.p_C_A[:, 0], -nose if suspension.front else nose])


@pytest.mark.parametrize("front", [False, True])
@pytest.mark.parametrize(
    "travel",
    [
        np.linspace(80.0, 130.0, 11),
        np.linspace(-210.0, -150.0, 11),
        np.linspace(-210.0, 130.0, 69),
        np.linspace(-149.0, 79.0, 58),
        np.array([80.0]),
        np.array([100.0]),
        np.array([-170.0]),
    ],
)
def test_it_goes_on_along_the_slope_it_had_at_the_last_reading(
    front: bool, travel: np.ndarray
) -> None:
    np.testing.assert_allclose(moved(axle(front), travel), expected(travel), rtol=0.0, atol=1e-10)


@pytest.mark.parametrize("travel", [-170.0, -150.0, 60.0, 80.0, 100.0])
def test_one_pose_is_that_of_many(travel: float) -> None:
    suspension = axle(front=False)
    one = suspension.poses(travel, 0.0, 0.0)
    many = suspension.poses(np.array([-200.0, travel, 120.0]), 0.0, 0.0)
    np.testing.assert_allclose(one.R_CA, many.R_CA[1], rtol=0.0, atol=1e-14)
    np.testing.assert_allclose(one.p_C_A, many.p_C_A[1], rtol=0.0, atol=1e-11)


def test_where_the_readings_end_and_where_the_law_changes() -> None:
    """At the readings it is inside; beyond either end it says by how much, to either side alone."""
    suspension = axle(front=False)
    assert suspension.knots() == tuple(MOVES[:, 0].tolist())
    assert suspension.range() == (-150.0, 80.0)


@pytest.mark.parametrize("behind", [False, True])
def test_the_housing_lies_on_the_side_of_the_output_it_lay_on(behind: bool) -> None:
    """A tape does not say on which side of its hook the pinion is; ride height does. The axle
    ahead of the output moves as the one behind it, seen from the other side."""
    sign = -1.0 if behind else 1.0
    readings = tuple(
        Reading(travel, sqrt((sign * 900.0 - shift) ** 2 + (230.0 - travel) ** 2), 0.0)
        for travel, shift in ((-100.0, 7.0), (0.0, 0.0), (80.0, -4.0))
    )
    suspension = Measured(
        p_C_output=(sign * 900.0, 0.0, 230.0), p_A_pinion=(0.0, 0.0, 0.0), readings=readings
    )
    shift = suspension.poses(np.array([-100.0, 0.0, 80.0]), 0.0, 0.0).p_C_A[:, 0]
    np.testing.assert_allclose(shift, [7.0, 0.0, -4.0], rtol=0.0, atol=1e-10)
