"""Which reading more would narrow the doubt most, and by how much."""

from __future__ import annotations

from math import pi
from typing import Final

import numpy as np
from scipy.special import ndtri

from sim.accuracy.source import SURE
from sim.bench.agreement import Agreement
from sim.bench.fitted import NextReading, Turned, Way
from sim.bench.readings import Told
from sim.frames import FloatArray
from sim.rig.tools import usual_tool

TURNS: Final = (0.0, 0.25 * pi, 0.5 * pi, None)
"""rad. How the ears of a clamped yoke are told to stand: in line, between, across, any way."""

GOLDEN: Final = 0.6180339887498949
"""Steps of which, around a circle, never gather anywhere [derivation: the golden section]."""

OUTCOMES: Final = 24
"""What may be read next, evenly over what the draws say; the expected width is good to 3 %."""


def next_readings(by: Agreement, draws: FloatArray) -> tuple[NextReading, ...]:
    """Readings with protractor or caliper that would narrow the lowest touch, the best first.

    by : what was read and the forecast; nothing is told twice.
    draws : (n, d + p) joints that agree so far.
    """
    doubt, lowest = by.outlook.known.doubt, by.lowest(draws)
    now = float(np.subtract(*np.quantile(lowest, (0.975, 0.025))))
    found: list[NextReading] = []

    def worth(shown: FloatArray, off: float) -> tuple[float, float, float, float]:
        """Low and high of what will be read, expected width after it, and its share of now."""
        width = expected_width(lowest, shown, off / SURE)
        low, high = (float(end) for end in np.quantile(shown, (0.025, 0.975)))
        return low, high, width, width / now if now > 0.0 else 1.0

    angle = usual_tool("angle").angle or 0.0
    told = [each.place for each in by.read if each.way in ("bench", "lowest")]
    for ears in TURNS:
        for driving, yoke in ((True, doubt.yokes[0]), (False, doubt.yokes[1])):
            turned = Turned(yoke, ears)
            each = Told(0, "", "bench", turned, driving, 0.0, angle)
            if each.place in told:
                continue
            told.append(each.place)
            low, high, width, share = worth(by.shown((each,), draws)[:, 0], angle)
            way: Way = "lowest" if ears is None else "bench"
            found.append(NextReading(way, turned, "", angle, low, high, width, share))
    for column, free in enumerate(doubt.free):
        if not free.measured:
            shown = doubt.dimensions(by.shapes(draws))[:, column]
            off = usual_tool("part").length or 0.0
            low, high, width, share = worth(shown, off)
            found.append(NextReading("caliper", Turned(), free.key, off, low, high, width, share))
    return tuple(sorted(found, key=lambda each: each.band))


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
    # Errors spread as they should, in an order that has nothing to do with the draws'.
    errors = ndtri((np.arange(outcomes) * GOLDEN + 0.5) % 1.0)
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
