"""How well joints agree with what was read on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

from sim.frames import FloatArray

Predict = Callable[[FloatArray], FloatArray]
"""Bends (n, r), rad, that r readings would show on joints drawn by standard normals (n, d)."""


@dataclass(frozen=True, eq=False)
class Evidence:
    """Readings as numbers, independent of each other.

    Attributes
    ----------
    read : (r,) rad, what was read.
    deviation : (r,) rad, one standard deviation of its error, that of the forecast in it.
    clear : (r,) whether it only says that nothing touched up to there.
    """

    read: FloatArray
    deviation: FloatArray
    clear: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.read)

    def only(self, kept: list[int]) -> Evidence:
        """Some of the readings alone."""
        return replace(
            self, read=self.read[kept], deviation=self.deviation[kept], clear=self.clear[kept]
        )

    def off(self, shown: FloatArray) -> FloatArray:
        """How far off (n, r) readings are, in deviations, from what joints would show; rad.

        What only says that nothing touched is nothing off where nothing would have.
        """
        off = (self.read - shown) / self.deviation
        return np.asarray(np.where(self.clear, np.maximum(off, 0.0), off))

    def log_likelihood(self, shown: FloatArray) -> FloatArray:
        """Logarithm (n,) of how likely the readings are on joints that would show (n, r), rad.

        Errors are normal [derivation]; of what only says that nothing touched it is the chance that
        the touch lies above what was read.
        """
        off = (self.read - shown) / self.deviation
        each = np.where(self.clear, log_ndtr(-off), -0.5 * off**2)
        return np.asarray(each.sum(axis=1))


def some(predict: Predict, kept: list[int]) -> Predict:
    """What foretells some of the readings alone."""
    return lambda z: predict(z)[:, kept]
