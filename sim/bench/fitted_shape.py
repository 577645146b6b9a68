"""The shape of a joint that was fitted to its readings, for the error bars."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.special import ndtr

from sim.bench.fitted import FittedJoint
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.kept.touch_curves import cached_touch
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class FittedShape:
    """A `Shape` of the joints that agree with all that was read.

    The readings tie its dimensions together, so that one standard normal tells which of these
    joints it is, from the one that touches soonest to the one that touches latest.

    Attributes
    ----------
    fitted : the joint.
    off : (n,) rad by size, by how much later each of the joints that agree touches than the middle
        one, which the yokes that are shown are.
    reserve : rad, by how much less bend the gap wanted is kept than nothing touches up to.
    """

    fitted: FittedJoint
    off: FloatArray
    reserve: float

    @classmethod
    def of(cls, fitted: FittedJoint, gap: float) -> FittedShape:
        """Of a joint with a gap (mm) that is wanted."""
        pair = fitted.pair
        keeps = cached_touch(pair.key, lambda: pair.closing(gap), gap=gap).certified_clear
        off = np.sort(fitted.touches) - float(np.median(fitted.touches))
        return cls(fitted, off, fitted.curve.certified_clear - keeps)

    @property
    def joint(self) -> Joint:
        """Which joint."""
        return self.fitted.joint

    @cached_property
    def free(self) -> tuple[Free, ...]:
        """The one thing in doubt: which of the joints that agree with the readings it is."""
        table = self.fitted.dimensions[0].free.key.rsplit(".", 2)[0]
        return (Free(f"{table}.bench", "", "bench", 0.0, 1.0, measured=True),)

    @property
    def forecast_off(self) -> float:
        """Nothing: what forecasts leave open is in the draws."""
        return 0.0

    @property
    def later(self) -> float:
        """By how much later (rad) the middle of all that agree touches than the yokes shown.

        They are held to that middle, but yokes of a kind do not always come to it.
        """
        curve = self.fitted.curve
        return float(np.median(self.fitted.touches)) - min(curve.touch_min, curve.limit)

    def dimensions(self, z: FloatArray) -> FloatArray:
        """Place among the joints that agree (n, 1), in deviations."""
        return np.asarray(z, dtype=np.float64)

    def clear(self, z: FloatArray) -> FloatArray:
        """Forecast of the certified clear bend (n,), rad, of draws (n, 1)."""
        share = ndtr(np.asarray(z)[:, 0]) * len(self.off) - 0.5
        off = np.interp(share, np.arange(len(self.off)), self.off)
        return np.asarray(self.fitted.curve.certified_clear + off)

    def keeps(self, z: FloatArray) -> FloatArray:
        """The same of the bend up to which the gap wanted is left: taken to change as much."""
        return self.clear(z) - self.reserve
