"""Joints that agree with readings, drawn from those of the kind.

Draws from the kind are carried to what was read in steps: at each the likelihood counts a little
more, those that disagree are dropped for those that agree (so that half as many count), and all are
moved about by proposals that leave the kind and the readings so far as they are (sequential Monte
Carlo with a random walk of Crank-Nicolson kind about the draws' own mean and spread, from memory).
Nothing is linearised, so the corners where another part of the yoke touches first count as they do.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from sim.bench.even import sobol
from sim.bench.evidence import Evidence, Predict
from sim.frames import FloatArray

DRAWS: Final = 2048
"""Draws: a band of 95 % is good to some 3 % of its width."""

MOVES: Final = 6
"""Moves after each step; of the last one twice as many."""

AGREES: Final = 0.5
"""Share of the draws that count, by their weights, after a step."""

MOST_STEPS: Final = 60
"""Steps after which readings are out of reach; what agrees best by then is given."""

FLOOR: Final = 0.05
"""Share of the kind's own spread that is mixed into the proposals, so that they stay wide enough.
"""


def kind_draws(dimensions: int, seed: int, count: int = DRAWS) -> FloatArray:
    """Draws (count, dimensions) of standard normals, evenly spread; count a power of two."""
    even = sobol(dimensions, count, seed)
    return np.asarray(ndtri(np.clip(even, 0.5 / count**2, 1.0 - 0.5 / count**2)))


def agreeing(
    predict: Predict, evidence: Evidence, dimensions: int, seed: int, count: int = DRAWS
) -> FloatArray:
    """Draws (count, dimensions) of joints of the kind that agree with what was read."""
    draws = kind_draws(dimensions, seed, count)
    if not len(evidence):
        return draws
    random = np.random.default_rng((seed, count))
    likely = evidence.log_likelihood(predict(draws))
    counts, step, reach = 0.0, 0, 0.7
    while counts < 1.0 and step < MOST_STEPS:
        more = _next(likely, counts)
        weights = _weights(likely * (more - counts))
        kept = _resampled(weights, random)
        draws, likely, counts, step = draws[kept], likely[kept], more, step + 1
        for _ in range(MOVES * (2 if counts >= 1.0 else 1)):
            draws, likely, taken = _moved(draws, likely, counts, reach, predict, evidence, random)
            reach = float(np.clip(reach * np.exp(taken - 0.3), 0.05, 1.0))
    return draws


def _next(likely: FloatArray, counts: float) -> float:
    """How much the readings may count next, so that enough draws agree still."""
    enough = AGREES * len(likely)
    low, high = counts, 1.0
    if _effective(_weights(likely * (high - counts))) >= enough:
        return 1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        if _effective(_weights(likely * (middle - counts))) >= enough:
            low = middle
        else:
            high = middle
    return high


def _weights(logarithms: FloatArray) -> FloatArray:
    grown = np.exp(logarithms - logarithms.max())
    return np.asarray(grown / grown.sum())


def _effective(weights: FloatArray) -> float:
    """How many equal draws weigh as much."""
    return float(1.0 / (weights**2).sum())


def _resampled(weights: FloatArray, random: np.random.Generator) -> NDArray[np.intp]:
    """Which draws go on, each as often as its weight says (systematic resampling)."""
    count = len(weights)
    at = (np.arange(count) + random.random()) / count
    return np.minimum(np.searchsorted(np.cumsum(weights), at), count - 1)


def _moved(
    draws: FloatArray,
    likely: FloatArray,
    counts: float,
    reach: float,
    predict: Predict,
    evidence: Evidence,
    random: np.random.Generator,
) -> tuple[FloatArray, FloatArray, float]:
    """Draws moved about within what agrees so far, their likelihoods, and how many moved.

    reach : 0 to 1, how far a proposal goes; with 1 it does not know where it came from.
    """
    count, dimensions = draws.shape
    middle = draws.mean(axis=0)
    spread = np.cov(draws, rowvar=False).reshape(dimensions, dimensions)
    spread = (1.0 - FLOOR) * spread + FLOOR * np.eye(dimensions)
    root = np.linalg.cholesky(spread)
    steps = random.standard_normal((count, dimensions)) @ root.T
    away = np.sqrt(1.0 - reach**2)
    tried = middle + away * (draws - middle) + reach * steps
    shown = evidence.log_likelihood(predict(tried))

    def against(z: FloatArray) -> FloatArray:
        """Logarithm of the kind's density over that of the proposals' own measure."""
        whitened = np.linalg.solve(root, (z - middle).T)
        return np.asarray(0.5 * (whitened**2).sum(axis=0) - 0.5 * (z**2).sum(axis=1))

    gain = counts * (shown - likely) + against(tried) - against(draws)
    moves = np.log(random.random(count)) < gain
    return (
        np.where(moves[:, None], tried, draws),
        np.where(moves, shown, likely),
        float(moves.mean()),
    )


def band(values: FloatArray, axis: int = 0) -> tuple[FloatArray, FloatArray]:
    """Between what 95 of 100 draws lie along an axis."""
    low, high = np.quantile(values, (0.025, 0.975), axis=axis)
    return np.asarray(low), np.asarray(high)


def ends(values: FloatArray) -> tuple[float, float]:
    """The same of one quantity (n,)."""
    low, high = band(values)
    return float(low), float(high)
