"""A shape known by a library of its touch."""

from __future__ import annotations

from dataclasses import dataclass

from sim.bench.curves import Library
from sim.bench.forecast import Forecast
from sim.bench.free import Doubt
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class LearntShape:
    """A `Shape` by a library.

    Attributes
    ----------
    known : the shapes it is learnt from.
    forecast : learnt from them; its draws are those of all dimensions.
    reserve : rad, by how much less bend the middle keeps the gap wanted than it is clear up to.
    """

    known: Library
    forecast: Forecast
    reserve: float

    @property
    def doubt(self) -> Doubt:
        """The joint's yokes with all that may be off."""
        return self.known.doubt

    @property
    def joint(self) -> Joint:
        """Which joint."""
        return self.doubt.joint

    @property
    def free(self) -> tuple[Free, ...]:
        """All dimensions in doubt."""
        return self.doubt.free

    @property
    def forecast_off(self) -> float:
        """95 of 100 forecasts of the lowest touch are no farther (rad) off the full curve."""
        return self.forecast.lowest_off

    @property
    def later(self) -> float:
        """Nothing: the check has the middle ones."""
        return 0.0

    def dimensions(self, z: FloatArray) -> FloatArray:
        """Dimensions (n, d), mm, of draws (n, d)."""
        return self.doubt.dimensions(z)

    def clear(self, z: FloatArray) -> FloatArray:
        """Forecast of the certified clear bend (n,), rad, of draws (n, d)."""
        return self.forecast.clear(z)

    def keeps(self, z: FloatArray) -> FloatArray:
        """The same of the bend up to which the gap wanted is left: taken to change as much.

        It changes by up to 0.7 deg more or less over 95 of 100 shapes, at a gap of 1/8 in
        (measured).
        """
        return self.clear(z) - self.reserve
