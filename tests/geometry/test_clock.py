"""The clock on a yoke: looked at along x away from the cross, ear a up, right is x times y."""

from math import pi

import numpy as np
import pytest

from geometry.clock import HOUR, apart, at_clock, clock


def test_the_four_quarters() -> None:
    ear_a, three, ear_b, nine = [9, 1, 0], [9, 0, 1], [-2, -1, 0], [0, 0, -3]
    found = clock([ear_a, three, ear_b, nine])
    np.testing.assert_allclose(found, [0.0, 3 * HOUR, 6 * HOUR, 9 * HOUR], rtol=0.0, atol=1e-12)
    # Ahead times up is to the right, where 3 is.
    np.testing.assert_allclose(np.cross([1, 0, 0], at_clock(0.0)), at_clock(3 * HOUR), atol=1e-12)


def test_there_and_back() -> None:
    turns = np.linspace(0.0, 2.0 * pi, 100, endpoint=False)
    np.testing.assert_allclose(clock(at_clock(turns)), turns, rtol=0.0, atol=1e-12)
    assert clock([0.0, 1.0, -1e-17]) == 0.0


def test_apart_is_the_shorter_way_round() -> None:
    assert apart(11 * HOUR, HOUR) == pytest.approx(2 * HOUR)
    assert apart(HOUR, 11 * HOUR) == pytest.approx(2 * HOUR)
    assert apart(0.0, pi) == pytest.approx(pi)
