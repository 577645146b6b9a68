"""The search for the least distance over an interval, against numpy on a fine grid."""

import numpy as np
import pytest

from geometry.contact.gap import _least
from geometry.tolerances import TOL

ENDS = (-0.4, 1.7)
FINE = np.linspace(*ENDS, 200_001)


def waves(seed: int, lift: float) -> tuple[np.ndarray, np.ndarray, np.ndarray, float]:
    rng = np.random.default_rng(seed)
    size, pace = rng.uniform(0.1, 2.0, 5), rng.uniform(1.0, 40.0, 5)
    return size, pace, rng.uniform(0.0, 6.0, 5), float(size.sum()) + lift


@pytest.mark.parametrize("lift", [0.01, 0.5, 20.0])
@pytest.mark.parametrize("seed", range(8))
def test_it_is_the_least_to_the_tolerance_and_where_it_says(seed: int, lift: float) -> None:
    size, pace, phase, base = waves(seed, lift)

    def at(x: float) -> float:
        return float(base + (size * np.sin(pace * x + phase)).sum())

    true = float((base + size @ np.sin(np.outer(pace, FINE) + phase[:, None])).min())
    found, where = _least(at, ENDS, float(size @ pace), np.inf)
    assert ENDS[0] <= where <= ENDS[1]
    assert at(where) == found
    assert found >= true - 1e-4
    assert found <= true + max(TOL.gap, TOL.gap_share * found)
    # What is already known to be nearer is not beaten by what is not.
    assert _least(at, ENDS, float(size @ pace), true - 1.0)[0] == true - 1.0


def test_a_touch_is_found_however_narrow_and_close_to_other_room() -> None:
    """A dip of a thousandth of the interval, between places that have hardly more."""

    def at(x: float) -> float:
        return max(0.0, min(0.015, 10.0 * abs(x - 1.2345) - 0.0005))

    assert _least(at, ENDS, 10.0, np.inf)[0] <= TOL.graze
