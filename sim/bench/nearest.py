"""The joint of a kind that comes nearest to what was read, and how unlikely it still is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import gammaincc

from sim.bench.evidence import Evidence, Predict
from sim.frames import FloatArray

ROUNDS: Final = 40
"""Steps of the search; it mostly ends after eight."""

STEP: Final = 0.02
"""Deviations of the kind over which slopes are taken: forecasts are smooth there but for corners.
"""

ENOUGH: Final = 1e-6
"""A step that gains less is the last."""


@dataclass(frozen=True, eq=False)
class Nearest:
    """The likeliest joint of a kind, given what was read.

    Attributes
    ----------
    z : (d,) its draw.
    shown : (r,) rad, what would be read on it.
    misfit : squares of what readings and draw are off, in deviations.
    odds : how seldom joints of the kind are read so far off, by errors and spread alone. Where
        forecasts have no corners the misfit is chi-squared with as many degrees as there are
        readings [derivation].
    """

    z: FloatArray
    shown: FloatArray
    misfit: float
    odds: float


def nearest(predict: Predict, evidence: Evidence, starts: FloatArray) -> Nearest:
    """The joint nearest to what was read, sought from each of some draws (k, d), by least squares.

    Damped Gauss-Newton steps (from memory), slopes by differences.
    """
    best = min((_sought(predict, evidence, start) for start in starts), key=lambda found: found[0])
    misfit, z = best
    odds = float(gammaincc(0.5 * len(evidence), 0.5 * misfit)) if len(evidence) else 1.0
    return Nearest(z, predict(z[None])[0], misfit, odds)


def _sought(predict: Predict, evidence: Evidence, start: FloatArray) -> tuple[float, FloatArray]:
    """Least misfit and the draw that has it, from one start."""
    z, damping = start, 1e-3
    off = evidence.off(predict(z[None]))[0]
    misfit = float(off @ off + z @ z)
    for _ in range(ROUNDS):
        shifted = evidence.off(predict(z + STEP * np.eye(len(z))))
        slopes = (shifted - off).T / STEP
        pull = slopes.T @ off + z
        curve = slopes.T @ slopes + np.eye(len(z))
        gained = 0.0
        while damping < 1e6:
            tried = z - np.linalg.solve(curve + damping * np.diag(np.diag(curve)), pull)
            tried_off = evidence.off(predict(tried[None]))[0]
            tried_misfit = float(tried_off @ tried_off + tried @ tried)
            if tried_misfit < misfit:
                gained = misfit - tried_misfit
                z, off, misfit, damping = tried, tried_off, tried_misfit, 0.3 * damping
                break
            damping *= 4.0
        if gained < ENOUGH:
            break
    return misfit, z
