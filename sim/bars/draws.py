"""Draws that are spread out evenly: the same for the same seed."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtri

from sim.bench.even import sobol
from sim.frames import FloatArray


def normal_draws(columns: int, draws: int, seed: int) -> FloatArray:
    """Independent standard normals (draws, columns), of a scrambled Sobol sequence.

    draws : a power of two, which alone the sequence is balanced for [OWEN].
    """
    if not columns:
        return np.zeros((draws, 0))
    even = sobol(columns, draws, seed)
    # A point on the side of the cube would be infinitely far off.
    edge = 0.5 / draws
    return np.asarray(ndtri(np.clip(even, edge * 1e-3, 1.0 - edge * 1e-3)))
