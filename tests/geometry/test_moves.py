"""What a body does over a box of poses, against its full rotation at random poses of the box.

Source: the rotations themselves (`geometry.joint`, compared with an independent multibody library
in tests/outside), and Taylor's theorem. Fault by fault: a second derivative left out, a sign, the
bend or the spin of the wrong end of a box, the rest without its mixed part, all break a bound.
"""

from collections.abc import Callable
from math import pi

import numpy as np
import pytest

from geometry.contact.moves import Boxes, Motion, SwingMotion, YokesMotion, yoke_bounds
from geometry.contact.swing import DrivenSwing, DrivingSwing
from geometry.joint import driven_in_driving

Turned = Callable[[np.ndarray], np.ndarray]


def boxes(seed: int, highest: float, size: float) -> Boxes:
    """Random boxes of bend and spin; some at bend 0, some without width, some on the axes."""
    rng = np.random.default_rng(seed)
    n = 400
    bend, spin = rng.uniform(0.0, highest, n), rng.uniform(-7.0, 7.0, n)
    spin[::4] = 0.5 * pi * rng.integers(-4, 5, len(spin[::4]))
    half = size * rng.uniform(0.0, 1.0, (n, 2)) * (rng.uniform(0.0, 1.0, (n, 2)) > 0.15)
    low = np.stack([bend, spin], axis=1) - half
    low[::7, 0] = 0.0
    high = np.stack([bend, spin], axis=1) + half
    return Boxes(np.maximum(low, [0.0, -np.inf]), np.minimum(high, [highest, np.inf]))


def strays(motion: Motion, turned: Turned, asked: Boxes, seed: int) -> np.ndarray:
    """How far points stray from the straight way, as shares of what is allowed, (n, k)."""
    rng = np.random.default_rng(seed)
    moves, n = motion.over(asked), len(asked)
    R = moves.turn.T.reshape(n, 3, 3)
    found = []
    for number in range(60):
        share = rng.uniform(-1.0, 1.0, (n, 2)) if number % 3 else rng.choice([-1.0, 1.0], (n, 2))
        pose = 0.5 * (asked.low + asked.high) + 0.5 * share * (asked.high - asked.low)
        q = rng.normal(size=(n, 3))
        q /= np.linalg.norm(q, axis=1, keepdims=True)
        way = np.einsum("ain,na->ni", moves.rates, share)
        straight = np.einsum("nij,nj->ni", R, q + np.cross(way, q))
        there = np.einsum("nij,nj->ni", turned(pose), q)
        away = np.linalg.norm(there - straight, axis=1)
        assert (away <= moves.bow + 1e-12).all()
        moved = np.linalg.norm(there - np.einsum("nij,nj->ni", R, q), axis=1)
        assert (moved <= moves.speed.sum(axis=0) + 1e-12).all()
        found.append(away / np.maximum(moves.bow, 1e-9))
    return np.array(found)


@pytest.mark.parametrize(("highest", "size"), [(1.05, 0.3), (1.05, 0.01), (1.48, 0.1)])
def test_no_point_of_the_driven_yoke_strays_more_than_is_said(highest: float, size: float) -> None:
    """Up to 60 deg and up to 85 deg; and what is said is not far more than what is."""
    asked = boxes(1, highest, size)
    shares = strays(
        YokesMotion(), lambda pose: driven_in_driving(pose[:, 0], pose[:, 1]), asked, seed=2
    )
    assert shares.max() > 0.5
    middle = 0.5 * (asked.low + asked.high)
    turn = YokesMotion().over(asked).turn.T.reshape(-1, 3, 3)
    np.testing.assert_allclose(turn, driven_in_driving(*middle.T), atol=1e-12, rtol=0.0)


@pytest.mark.parametrize("swing", [DrivingSwing(), DrivenSwing()])
@pytest.mark.parametrize("way", [1.0, -1.0])
def test_no_point_of_the_cross_strays_more_than_is_said(
    swing: DrivingSwing | DrivenSwing, way: float
) -> None:
    asked = boxes(3, 1.05, 0.2)
    asked.low[:, 1] = asked.high[:, 1] = way
    motion = SwingMotion(swing.rotation(0.0), np.array(swing.axis))

    def turned(pose: np.ndarray) -> np.ndarray:
        return np.array([swing.rotation(angle * side) for angle, side in pose.tolist()])

    assert strays(motion, turned, asked, seed=4).max() > 0.5


def test_the_rates_are_those_of_small_steps() -> None:
    """Central differences of the rotation, over boxes as small as they are good for."""
    asked = boxes(5, 1.05, 1e-4)
    moves, middle = YokesMotion().over(asked), 0.5 * (asked.low + asked.high)
    half = 0.5 * (asked.high - asked.low)
    R = driven_in_driving(*middle.T)
    for axis in (0, 1):
        step = np.zeros_like(middle)
        step[:, axis] = 1e-6
        change = driven_in_driving(*(middle + step).T) - driven_in_driving(*(middle - step).T)
        skew = np.einsum("nji,njk->nik", R, change) / 2e-6
        rate = np.stack([skew[:, 2, 1], skew[:, 0, 2], skew[:, 1, 0]])
        np.testing.assert_allclose(moves.rates[axis], rate * half[:, axis], atol=1e-9, rtol=0.0)


def test_the_turn_changes_no_faster_than_is_said() -> None:
    """At points, up to 85 deg, any way across them: second differences of both angles."""
    rng, n, step = np.random.default_rng(6), 4000, 1e-4
    at = np.stack([rng.uniform(0.01, 1.48, n), rng.uniform(-7.0, 7.0, n)], axis=1)
    go = rng.uniform(-1.0, 1.0, (2, n))

    def angles(t: float) -> np.ndarray:
        bend, spin = at.T + t * go
        swung = np.arctan(np.tan(bend) * np.sin(spin))
        return np.stack([swung, np.arcsin(np.sin(bend) * np.cos(spin))])

    before, here, after = (angles(t) for t in (-step, 0.0, step))
    a, b = (after - before) / (2.0 * step)
    aa, bb = (after - 2.0 * here + before) / step**2
    fast, change, _ = yoke_bounds(Boxes(at, at), np.abs(go), np.zeros((2, n)))
    assert (np.hypot(a, b) <= fast * (1.0 + 1e-4) + 1e-6).all()
    true = np.sqrt(aa * aa + bb * bb + (a * b) ** 2)
    assert (true <= change * (1.0 + 1e-4) + 1e-5).all()
    assert (true > 0.9 * change).sum() > 100
