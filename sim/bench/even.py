"""Points spread evenly over a cube."""

from __future__ import annotations

import numpy as np

from sim.frames import FloatArray


def sobol(columns: int, count: int, seed: int) -> FloatArray:
    """Points (count, columns) of a scrambled Sobol sequence, each coordinate from 0 to 1.

    count : a power of two, which alone the sequence is balanced for [OWEN].
    """
    # Read late: it takes half a second, and what is kept asks for none.
    from scipy.stats import qmc  # noqa: PLC0415

    return np.asarray(qmc.Sobol(columns, rng=np.random.default_rng(seed)).random(count))
