"""How near one yoke comes to points of the other: against brute sampling and the joint's frames."""

import numpy as np
import pytest

from geometry.contact.field import DistanceField
from geometry.contact.sweep import Sweep, Window, carried
from geometry.joint import driven_in_driving
from tests.simple_shapes import ball, box

RNG = np.random.default_rng(7)


def test_carried_is_the_joints_own_rotation() -> None:
    bend, spin = RNG.uniform(0.0, 1.0, 200), RNG.uniform(-4.0, 4.0, 200)
    points = RNG.normal(size=(200, 3)) * 40.0
    R_DN = driven_in_driving(bend, spin)
    asked = points.T.astype(np.float32), bend.astype(np.float32), spin.astype(np.float32)
    to_driven = np.einsum("nji,nj->in", R_DN, points)
    to_driving = np.einsum("nij,nj->in", R_DN, points)
    assert carried(*asked, to_driven=True) == pytest.approx(to_driven, abs=1e-4)
    assert carried(*asked, to_driven=False) == pytest.approx(to_driving, abs=1e-4)


@pytest.mark.parametrize("to_driven", [True, False])
def test_the_least_distance_is_that_of_a_fine_grid_of_poses(to_driven: bool) -> None:
    other = box((-22, 30, -8), (20, 40, 8), "ear")
    field = DistanceField(other, 60.0)
    points = RNG.uniform([-45.0, -45.0, -45.0], [45.0, 45.0, 45.0], (40, 3))
    points = points[np.linalg.norm(points, axis=1) < 48.0]
    bend = np.radians(25.0)
    level = np.full(len(points), 6.0)
    found = Sweep(field, to_driven, Window.whole()).least(points.T, bend, -level, level)
    bends, spins = np.meshgrid(
        np.radians(np.linspace(0.0, 25.0, 51)), np.radians(np.arange(0.0, 360.0, 1.0))
    )
    for point, value in zip(points, found, strict=True):
        at = np.repeat(point[:, None], bends.size, axis=1).astype(np.float32)
        there = carried(
            at, bends.ravel().astype(np.float32), spins.ravel().astype(np.float32), to_driven
        )
        near = field.bound(there) < 6.0
        grid = min(6.0, float(field.at(there[:, near]).min(initial=6.0)))
        assert value <= grid + 0.05
        # A grid of 0.5 and 1 deg misses the least by up to half a step of motion.
        assert value >= grid - 0.6


def test_a_window_that_holds_every_near_pose_changes_nothing() -> None:
    field = DistanceField(ball((-10, 36, 0), 6.0, "ball"), 60.0)
    points = RNG.uniform(20.0, 40.0, (40, 3)) * [1.0, 0.2, 1.0]
    level = np.full(40, 4.0)
    whole = Window.whole()
    bend = np.radians(20.0)
    one = Sweep(field, True, whole).least(points.T, bend, -level, level)
    half = Window(0.0, whole.spins, whole.half)
    other = Sweep(field, True, half).least(points.T, bend, -level, level)
    assert one == pytest.approx(other, abs=1e-6)


def test_what_is_said_not_to_come_near_does_not() -> None:
    field = DistanceField(box((-22, 30, -8), (20, 40, 8), "ear"), 70.0)
    points = RNG.uniform(-50.0, 50.0, (400, 3))
    points = points[np.linalg.norm(points, axis=1) < 55.0]
    bend = np.radians(25.0)
    near = Sweep(field, True, Window.whole()).comes_near(points.T, bend, 3.0)
    level = np.full(len(points), 3.0)
    least = Sweep(field, True, Window.whole()).least(points.T, bend, -level, level)
    assert near[least < 3.0].all()
    assert 0 < near.sum() < len(near)


def test_enough_and_upto_cut_the_answer_off() -> None:
    field = DistanceField(ball((0, 30, 0), 8.0, "ball"), 60.0)
    inside, outside = np.array([[0.0, 0.0, 30.0]]), np.array([[50.0, 0.0, 0.0]])
    for points, expected in ((inside, -1.0), (outside, 2.0)):
        level = np.ones(1)
        value = Sweep(field, True, Window.whole()).least(
            points.T, np.radians(15.0), -level, 2.0 * level
        )
        assert value[0] == pytest.approx(expected)
