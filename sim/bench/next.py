"""Which reading more would narrow the doubt most, and by how much."""

from __future__ import annotations

from typing import Final

import numpy as np
from scipy.special import ndtri

from sim.frames import FloatArray

OUTCOMES: Final = 24
"""What may be read next, evenly over what the draws say; the expected width is good to 3 %."""


def expected_width(
    wanted: FloatArray, shown: FloatArray, deviation: float, outcomes: int = OUTCOMES
) -> float:
    """Width of the band of something after one reading more, as is to be expected.

    wanted : (n,) that something on joints that agree so far.
    shown : (n,) what would be read on them.
    deviation : one standard deviation of the error of that reading, in the unit of `shown`.

    Of each of some outcomes (a draw's own value and an error of its own) the draws are weighed by
    how well they agree, and the mean of the widths is taken [derivation].
    """
    count = len(wanted)
    order = np.argsort(shown)
    at = order[((np.arange(outcomes) + 0.5) / outcomes * count).astype(int)]
    # Errors that spread as they should, in an order that has nothing to do with the draws'.
    errors = _normal_points(outcomes)[(np.arange(outcomes) * 7) % outcomes]
    read = shown[at] + deviation * errors
    weights = np.exp(-0.5 * ((read[:, None] - shown) / deviation) ** 2)
    totals = weights.sum(axis=1)
    sorted_by = np.argsort(wanted)
    runs = np.cumsum(weights[:, sorted_by], axis=1)
    values = wanted[sorted_by]
    widths = [
        values[min(int(np.searchsorted(run, 0.975 * total)), count - 1)]
        - values[min(int(np.searchsorted(run, 0.025 * total)), count - 1)]
        for run, total in zip(runs, totals, strict=True)
        if total > 0.0
    ]
    return float(np.mean(widths)) if widths else float(np.ptp(values))


def _normal_points(count: int) -> FloatArray:
    return np.asarray(ndtri((np.arange(count) + 0.5) / count))
