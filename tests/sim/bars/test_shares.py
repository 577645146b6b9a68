"""Shares of a doubt against closed forms [derivation: docs/validation.md], and what is no share."""

import numpy as np
import pytest
from scipy.special import ndtr

from sim.bars.shares import Crossed, Shares, shares
from sim.frames import FloatArray

A, B = 7.0, 0.1


def ishigami(z: FloatArray) -> FloatArray:
    x = np.pi * (2.0 * ndtr(z) - 1.0)  # even between -pi and pi
    told: FloatArray = (
        np.sin(x[:, 0]) + A * np.sin(x[:, 1]) ** 2 + B * x[:, 2] ** 4 * np.sin(x[:, 0])
    )
    return told


def in_closed_form() -> tuple[list[float], list[float]]:
    one = 0.5 * (1.0 + B * np.pi**4 / 5.0) ** 2
    two = A**2 / 8.0
    both = B**2 * np.pi**8 * (1.0 / 18.0 - 1.0 / 50.0)
    whole = one + two + both
    return [one / whole, two / whole, 0.0], [(one + both) / whole, two / whole, both / whole]


def test_the_closed_form_is_the_published_one() -> None:
    first, total = in_closed_form()
    assert first == pytest.approx([0.3139, 0.4424, 0.0], abs=5e-5)
    assert total == pytest.approx([0.5576, 0.4424, 0.2437], abs=5e-5)


def test_ishigami() -> None:
    first, total = in_closed_form()
    found = shares(ishigami, 3, [[0], [1], [2]], 2**14, seed=3)
    assert found.first == pytest.approx(first, abs=0.01)
    assert found.total == pytest.approx(total, abs=0.01)


def test_columns_taken_together_have_what_works_between_them() -> None:
    (a, _, _), (_, b, c) = in_closed_form()
    found = shares(ishigami, 3, [[0, 2], [0, 1, 2]], 2**14, seed=3)
    assert found.first == pytest.approx([a + c, 1.0], abs=0.01)
    assert found.total == pytest.approx([1.0 - b, 1.0], abs=0.01)


def test_a_sum_is_shared_by_squares() -> None:
    slopes = np.array([3.0, -2.0, 0.5, 0.0, 1.0])
    squares = slopes**2 / np.sum(slopes**2)
    groups = [[0], [1], [2], [3], [1, 4]]
    found = shares(lambda z: 4.0 + z @ slopes, 5, groups, 2**12, seed=0)
    wanted = [*squares[:4], squares[1] + squares[4]]
    assert found.first == pytest.approx(wanted, abs=0.02)
    assert found.total == pytest.approx(wanted, abs=0.02)


def test_few_draws_put_many_cheap_ones_right() -> None:
    def cheap(z: FloatArray) -> FloatArray:
        return z[:, 0] + 0.5 * z[:, 1]

    def whole(z: FloatArray) -> FloatArray:
        return cheap(z) + 0.3 * z[:, 0] * z[:, 1]

    groups = [[0], [1]]
    few = Crossed.drawn(2, groups, 64, 1)
    right = shares(cheap, 2, groups, 4096, 1).put_right(
        few.shares(whole(few.all)), few.shares(cheap(few.all))
    )
    variance = 1.0 + 0.25 + 0.09
    assert right.first == pytest.approx([1.0 / variance, 0.25 / variance], abs=0.05)
    assert right.total == pytest.approx([1.09 / variance, 0.34 / variance], abs=0.05)


def test_draws_that_come_to_nothing_are_left_out() -> None:
    def told(z: FloatArray) -> FloatArray:
        return np.where(z[:, 2] > 1.5, np.nan, z[:, 0] + z[:, 1])

    found = shares(told, 3, [[0], [1], [2]], 2**12, seed=0)
    assert found.first == pytest.approx([0.5, 0.5, 0.0], abs=0.03)


def test_a_group_alone() -> None:
    found = shares(lambda z: z[:, 0] + z[:, 1], 2, [[0]], 2**12, seed=0)
    assert found.first == pytest.approx([0.5], abs=0.02)
    assert found.total == pytest.approx([0.5], abs=0.02)


@pytest.mark.parametrize("value", [1.0, np.nan])
def test_what_is_always_the_same_has_no_shares(value: float) -> None:
    found = shares(lambda z: np.full(len(z), value), 2, [[0], [1]], 64, seed=0)
    assert found.first.tolist() == found.total.tolist() == [0.0, 0.0]


def test_noise_is_held_within_0_and_1() -> None:
    held = Shares(np.array([-0.1, 1.2, 0.5]), np.array([0.1, 1.1, 0.4])).held
    assert held.first.tolist() == [0.0, 1.0, 0.4]
    assert held.total.tolist() == [0.1, 1.0, 0.4]


def test_the_same_seed_gives_the_same_bytes() -> None:
    one, two = (shares(ishigami, 3, [[0], [1]], 64, seed=5) for _ in range(2))
    assert one.first.tobytes() == two.first.tobytes()
    assert one.total.tobytes() == two.total.tobytes()
    assert shares(ishigami, 3, [[0], [1]], 64, seed=6).first.tobytes() != one.first.tobytes()
