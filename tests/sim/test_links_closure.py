"""The closure's own parts: derivatives, the chart, bushes and arms, and the end of the reach."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from sim.suspension.links.bushes import AXIAL_SHARE, SLEEVE, held_arm
from sim.suspension.measured.motion import Measured, Reading
from sim.suspension.reach import Reach, reach
from sim.suspension.vertical import Vertical
from tests.sim.linkages import BINDING, SETS, TRIANGULATED, WISHBONE, shaken

QUIET = settings(deadline=None, max_examples=10)

every_set = pytest.mark.parametrize("links", SETS.values(), ids=SETS.keys())


@st.composite
def places(draw):
    """Unknowns, travel and roll of one pose, not closed."""
    q = np.array([[draw(st.floats(-60.0, 60.0))] for _ in range(4)])
    return q, np.array([draw(st.floats(-200.0, 150.0))]), np.array([draw(st.floats(-0.2, 0.2))])


@every_set
@given(data=st.data())
@QUIET
def test_derivatives_of_the_rows_against_finite_differences(links, data):
    rows = data.draw(shaken(links)).rows
    q, travel, roll = data.draw(places())
    _, J = rows(q, travel, roll)
    h = 1e-3
    for unknown in range(4):
        step = np.zeros((4, 1))
        step[unknown] = h
        above, _ = rows(q + step, travel, roll)
        below, _ = rows(q - step, travel, roll)
        slope = (above - below) / (2.0 * h)
        np.testing.assert_allclose(J[unknown], slope, rtol=0, atol=2e-8)


@every_set
@given(data=st.data())
@QUIET
def test_curvature_of_the_rows_against_finite_differences(links, data):
    """Derivative of the slope sum(w e J): J w J and the sum of w e times second derivatives."""
    rows = data.draw(shaken(links)).rows
    q, travel, roll = data.draw(places())
    e, J, curve = rows.with_curve(q, travel, roll)
    np.testing.assert_array_equal(e, rows(q, travel, roll)[0])
    h = 1e-3

    def slope(q):
        e, J = rows(q, travel, roll)
        return np.einsum("irn,rn->i", J * rows.weight, e)

    full = np.einsum("irn,jrn->ij", J * rows.weight, J)
    for (i, j), second in curve.items():
        full[i, j] += second[0]
        full[j, i] += second[0] if i != j else 0.0
    for unknown in range(4):
        step = np.zeros((4, 1))
        step[unknown] = h
        column = (slope(q + step) - slope(q - step)) / (2.0 * h)
        np.testing.assert_allclose(full[unknown], column, rtol=0, atol=2e-6)


@every_set
def test_the_closure_settles_far_below_what_is_promised(links):
    rng = np.random.default_rng(0)
    travel, roll = rng.uniform(-200.0, 120.0, 500), rng.uniform(-0.15, 0.15, 500)
    q = links.solved(travel, roll)
    again = links.closure.close(q, travel, roll)
    assert again.closed.all()
    np.testing.assert_allclose(again.q, q, rtol=0, atol=1e-9)
    if not links.binds:
        e, _ = links.rows(q, travel, roll)
        np.testing.assert_allclose(e, 0.0, rtol=0, atol=1e-10)


@every_set
def test_newtons_method_doubles_its_digits(links):
    """Steps from a closure put off by 5 mm: each is of the size of the square of the last."""
    travel, roll = np.array([-120.0]), np.array([0.1])
    q = links.solved(travel, roll) + np.array([[3.0], [-5.0], [4.0], [2.0]])
    sizes = []
    for _ in range(4):
        step = links.closure._step(q, travel, roll, None)
        q = q - step
        sizes.append(float(np.abs(step).max()))
    for before, after in pairwise(sizes):
        assert after < 0.05 * before**2 + 1e-10, sizes


@every_set
def test_the_chart_foresees_every_pose_in_it(links):
    laid = links._chart
    rng = np.random.default_rng(1)
    travel, roll = laid.travel * rng.uniform(-1, 1, 400), laid.roll * rng.uniform(-1, 1, 400)
    q = links.solved(travel, roll)
    known = np.isfinite(q).all(axis=0)
    np.testing.assert_allclose(laid.guess(travel, roll)[:, known], q[:, known], rtol=0, atol=3.0)
    np.testing.assert_array_equal(laid.guess(np.zeros(1), np.zeros(1)), np.zeros((4, 1)))


@every_set
def test_the_way_from_ride_height_ends_where_the_chart_does(links):
    """Followed step by step or closed from the polynomial: one answer."""
    rng = np.random.default_rng(2)
    laid = links._chart
    travel, roll = laid.travel * rng.uniform(-1, 1, 60), laid.roll * rng.uniform(-1, 1, 60)
    way = links.closure.follow(travel, roll, links.closure.ride(60), np.zeros(60))
    assert way.closed.all()
    np.testing.assert_allclose(links._closed(travel, roll).q, way.q, rtol=0, atol=1e-8)


def planar_height(angle, upper=((600.0, 250.0), (0.0, 200.0)), lower=((750.0, 20.0), (0.0, -80.0))):
    """Height of the axle's centre when the lower link stands at an angle, by two circles.

    The housing is the triangle of both joints and its centre. Its upper joint lies where the
    circle of the upper link meets the circle about the lower joint.
    """
    (cu, au), (cl, al) = (map(np.array, link) for link in (upper, lower))
    joint = cl + np.linalg.norm(al - cl) * np.array([-np.cos(angle), np.sin(angle)])
    reach, coupler = np.linalg.norm(au - cu), np.linalg.norm(au - al)
    to = cu - joint
    apart = np.linalg.norm(to)
    along = (coupler**2 - reach**2 + apart**2) / (2.0 * apart)
    square = coupler**2 - along**2
    if square < 0.0:
        return None
    other = joint + along * to / apart + np.sqrt(square) * np.array([-to[1], to[0]]) / apart
    turn = np.arctan2(*(other - joint)) - np.arctan2(*(au - al))
    c, s = np.cos(turn), np.sin(turn)
    return joint + np.array([[c, s], [-s, c]]) @ -al


def test_a_planar_axle_is_two_circles():
    """The wishbone set seen from the side is a four-bar; closed form over its whole reach."""
    at_ride = np.arctan2(-100.0, 750.0)
    for angle in at_ride + np.linspace(-0.5, 0.6, 23):
        x, z = planar_height(angle)
        axle = WISHBONE.poses(z, 0.0, 0.0)
        np.testing.assert_allclose(axle.p_C_A[[0, 2]], [x, z], rtol=0, atol=1e-7)


def planar_end(sense):
    """Height at which the four-bar turns back, tracing its path by arc length."""
    ends = [
        np.array(link) for link in (((600.0, 250.0), (0.0, 200.0)), ((750.0, 20.0), (0.0, -80.0)))
    ]

    def stretch(state):
        x, z, turn = state
        c, s = np.cos(turn), np.sin(turn)
        R = np.array([[c, s], [-s, c]])
        return [
            np.linalg.norm(R @ axle + [x, z] - chassis) - np.linalg.norm(axle - chassis)
            for chassis, axle in ends
        ]

    state, ahead = np.zeros(3), np.array([0.0, sense, 0.0])
    for _ in range(20_000):
        h = 1e-6
        slopes = np.array(
            [np.subtract(stretch(state + h * e), stretch(state - h * e)) for e in np.eye(3)]
        ).T / (2.0 * h)  # fmt: skip
        tangent = np.cross(slopes[0] * [1, 1, 1e-3], slopes[1] * [1, 1, 1e-3])
        tangent /= np.linalg.norm(tangent)
        tangent *= np.sign(tangent @ ahead)
        if tangent[1] * sense < 0.0:
            return state[1]
        ahead = tangent
        start = state + 0.25 * tangent * [1, 1, 1e-3]
        state = least_squares(
            lambda s, start=start, tangent=tangent: [
                *stretch(s), (s - start) @ (tangent * [1, 1, 1e3])
            ],
            start, method="lm", x_scale=(1.0, 1.0, 1e-3), xtol=1e-14, ftol=1e-14, gtol=1e-14,
        ).x  # fmt: skip
    raise AssertionError("no end")


@pytest.mark.slow
@pytest.mark.parametrize("sense", [-1.0, 1.0])
def test_the_reach_of_a_planar_axle_is_where_its_height_turns_back(sense):
    found = reach(WISHBONE)
    end = found.low if sense < 0.0 else found.high
    assert end == pytest.approx(planar_end(sense), abs=0.01)


@pytest.mark.slow
def test_reach_of_suspensions_with_and_without_an_end():
    assert reach(Vertical()) == Reach(-np.inf, np.inf)
    assert reach(Vertical()).holds(900.0)
    level, rolled = reach(TRIANGULATED), reach(TRIANGULATED, roll=0.3)
    assert level.low < -400.0 < 400.0 < level.high
    assert rolled != level
    assert level.holds(0.0)
    assert not level.holds(level.high + 1.0)
    assert reach(TRIANGULATED, wrap=0.2) == level
    assert reach(BINDING["radius arms"], roll=1.2) is None
    readings = tuple(Reading(t, 900.0 + 0.1 * t, 0.0) for t in (-100.0, 0.0, 80.0))
    measured = Measured(
        p_C_output=(1170.0, 0.0, 0.0), p_A_pinion=(270.0, 0.0, 0.0), readings=readings
    )
    assert reach(measured).low < -100.0


@given(
    end=st.tuples(st.floats(500, 1000), st.floats(-60, 60), st.floats(-80, 80)),
    one=st.tuples(st.floats(40, 120), st.floats(-20, 20), st.floats(-40, 40)),
    other=st.tuples(st.floats(-120, -40), st.floats(-20, 20), st.floats(-40, 40)),
)
@QUIET
def test_a_held_arm_against_its_nine_freedoms(end, one, other):
    """The same springs as one stiffness matrix of the arm (6) and the far point (3): push the
    far point by 1 mm, let the arm settle, read force and gives."""
    stiffness = 4000.0
    arm = held_arm(end, (one, other), stiffness)
    bush = np.diag([stiffness, AXIAL_SHARE * stiffness, stiffness])
    tilt = stiffness * SLEEVE**2 / 12.0

    def at(r):
        move = np.zeros((3, 6))
        move[:, :3] = np.eye(3)
        for axis in range(3):
            move[:, 3 + axis] = np.cross(np.eye(3)[axis], r)
        return move

    moves = [at(np.array(point)) for point in (end, one, other)]
    K = np.zeros((6, 6))
    K[3, 3] = K[5, 5] = 2.0 * tilt
    for move in moves:
        K += move.T @ bush @ move
    for axis, k, share in zip(arm.axes, arm.stiffness, np.moveaxis(arm.shares, 2, 0), strict=True):
        settled = np.linalg.solve(K, moves[0].T @ bush @ axis)
        give = axis - moves[0] @ settled
        np.testing.assert_allclose(bush @ give, k * axis, rtol=0, atol=1e-6 * stiffness)
        gives = [give, *(move @ settled for move in moves[1:])]
        np.testing.assert_allclose(share, gives, rtol=0, atol=1e-7)
    np.testing.assert_allclose(arm.axes @ arm.axes.T, np.eye(3), rtol=0, atol=1e-12)


def test_a_straight_arm_gives_as_a_lever_does():
    """Own derivation: a push V at the end of a lever l1, l2 from its two bushes gives
    V (l1^2 + l2^2) / (k (l2 - l1)^2) there, and V / k in the far bush; the tilting stiffness of
    the bushes is small beside that."""
    l1, l2, k = 700.0, 900.0, 5000.0
    arm = held_arm((800.0, 0.0, 0.0), ((100.0, 0.0, 0.0), (-100.0, 0.0, 0.0)), k)
    upward = int(np.argmax(np.abs(arm.axes[:, 2])))
    by_hand = 1.0 / ((l1**2 + l2**2) / (k * (l2 - l1) ** 2) + 1.0 / k)
    assert arm.stiffness[upward] == pytest.approx(by_hand, rel=1e-9)
    sideways = int(np.argmax(np.abs(arm.axes[:, 1])))
    assert arm.stiffness[sideways] < AXIAL_SHARE * k
    along = int(np.argmax(np.abs(arm.axes[:, 0])))
    assert arm.stiffness[along] == pytest.approx(k / 1.5, rel=1e-9)
