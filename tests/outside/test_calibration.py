"""Chances and bands of invented trucks whose truth is known: a few; docs/validation.md has many.

With bars that took the errors for twice what they are, or for half, what is left would be half a
deviation off on the average, or two: the sum of squares tells that [derivation: the chi-square
distribution].
"""

from functools import cache

import numpy as np
import pytest
from scipy.stats import chi2

from tests.outside.calibration import NORMAL, Truck, brier, trucks

pytestmark = pytest.mark.slow

COUNT = 24


@cache
def told() -> list[Truck]:
    return list(trucks(COUNT, 5))


def test_what_is_left_is_as_far_off_as_its_band_says() -> None:
    # The two joints of a truck have much in common, so that only one of each counts.
    for joint in (0, 1):
        squares = sum(each.lefts[joint] ** 2 for each in told())
        low, high = chi2.interval(0.99, COUNT)
        assert low < squares < high


def test_what_is_left_is_off_either_way_alike() -> None:
    for joint in (0, 1):
        mean = np.mean([each.lefts[joint] for each in told()])
        assert abs(mean) < 3.3 / np.sqrt(COUNT)


def test_nearly_all_lie_in_their_band() -> None:
    inside = np.mean([abs(off) <= NORMAL for each in told() for off in each.lefts])
    assert inside > 0.8


def test_chances_come_true() -> None:
    """The Brier score, and as many that touch as the chances add up to."""
    chances = np.array([each.chance for each in told()])
    known = chances * (1.0 - chances)
    spread = np.sqrt(known.sum())
    assert abs(sum(each.touches for each in told()) - chances.sum()) < 3.3 * max(spread, 1.0)
    off = np.sqrt(np.sum(known * (1.0 - 2.0 * chances) ** 2)) / COUNT
    assert abs(brier(told()) - known.mean()) < 3.3 * max(off, 1.0 / COUNT)
    assert brier(told()) < 0.2


def test_the_same_seed_gives_the_same_trucks() -> None:
    assert list(trucks(2, 5)) == told()[:2]
