"""What a joint of a kind touches at, forecast for any of its shapes, put right by full ones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from geometry.contact.surface_touch import lines_of
from geometry.tolerances import TOL
from sim.bench.evidence import Predict
from sim.bench.first import first_shape
from sim.bench.fitted import Turned
from sim.bench.free import Doubt
from sim.bench.readings import Told
from sim.bench.turned import Lines
from sim.frames import FloatArray

SAME: Final = 1e-6
"""rad^2. What is added to the diagonal, so that shapes that are nearly the same do no harm."""


@dataclass(frozen=True)
class Outlook:
    """Forecast of the touch over a whole turn.

    Attributes
    ----------
    lines : spins that speak for the turn.
    forecast : touch (n, m), rad, at the lines, of draws (n, d).
    off : rad; 95 of 100 forecasts of a reading are no farther off.
    """

    lines: Lines
    forecast: Callable[[FloatArray], FloatArray]
    off: float
    _mended: _Mend | None = field(default=None, repr=False)

    def touch(self, z: FloatArray) -> FloatArray:
        """Touch (n, m), rad, of draws (n, d), at the lines."""
        touch = self.forecast(z)
        return touch if self._mended is None else touch + self._mended.of(z)

    def lowest(self, touch: FloatArray) -> FloatArray:
        """Lowest touch (n,), rad, of touch (n, m) at the lines."""
        return np.asarray(touch.min(axis=1))

    def readings(self, told: tuple[Told, ...]) -> Predict:
        """What foretells some readings."""

        def predict(z: FloatArray) -> FloatArray:
            touch = self.touch(z)
            lowest = self.lowest(touch)
            shown = [each.shown(self.lines, touch, lowest) for each in told]
            return np.stack(shown, axis=1) if shown else np.zeros((len(z), 0))

        return predict

    def mended(self, z: FloatArray, touch: FloatArray, told: tuple[Told, ...]) -> Outlook:
        """The same put right by shapes that were built: their draws (k, d), and touch (k, m).

        What the forecast of one is off goes over to others by how like it they are [derivation:
        regression by a Gaussian process]; how far that reaches is chosen, and what is off still is
        told, by leaving out each in turn.
        """
        off = touch - self.forecast(z)
        tries = [(_Mend.by(z, off, alike), alike) for alike in ALIKE]
        best = min(tries, key=lambda each: float(np.square(each[0].left_out).mean()))[0]
        made = replace(self, _mended=best)
        without = touch - best.left_out
        wrong = [
            each.shown(self.lines, touch, self.lowest(touch))
            - each.shown(self.lines, without, self.lowest(without))
            for each in (*told, LOWEST)
        ]
        return replace(made, off=2.0 * float(np.sqrt(np.square(wrong).mean())))


ALIKE: Final = (0.05, 0.15, 0.3, 0.6)
"""How fast likeness is lost with distance, by the median distance of the shapes built."""


@dataclass(frozen=True)
class _Mend:
    """What forecasts are off, from shape to shape.

    z : (k, d) draws of the shapes built. scale : 1 / distance. weights : (k, m). mean : (m,).
    left_out : (k, m) rad, what each is off as told by all others.
    """

    z: FloatArray
    scale: float
    weights: FloatArray
    mean: FloatArray
    left_out: FloatArray

    @classmethod
    def by(cls, z: FloatArray, off: FloatArray, alike: float) -> _Mend:
        apart = np.sqrt(_squares(z, z))
        scale = alike / max(float(np.median(apart[apart > 0.0])) if len(z) > 1 else 1.0, 1e-9)
        mean = off.mean(axis=0)
        spread = float(off.var()) + SAME
        like = np.exp(-0.5 * _squares(z, z) * scale**2) + NOISE * np.eye(len(z)) + SAME / spread
        inverse = np.linalg.inv(like)
        weights = inverse @ (off - mean)
        return cls(z, scale, weights, mean, weights / np.diag(inverse)[:, None])

    def of(self, z: FloatArray) -> FloatArray:
        """What the forecast of draws (n, d) is off, (n, m), rad."""
        like = np.exp(-0.5 * _squares(z, self.z) * self.scale**2)
        return np.asarray(self.mean + like @ self.weights)


NOISE: Final = 0.1
"""Share of what forecasts are off that has nothing to do with how alike two shapes are."""

LOWEST: Final = Told(0, "", "lowest", Turned(), False, 0.0, 1.0)
"""The lowest touch of a whole turn, as if it were read."""


def _squares(a: FloatArray, b: FloatArray) -> FloatArray:
    """Squared distances (n, k)."""
    squares = (a**2).sum(axis=1)[:, None] + (b**2).sum(axis=1) - 2.0 * a @ b.T
    return np.asarray(np.maximum(squares, 0.0))


def outlook_of(doubt: Doubt, progress: Callable[[float], None]) -> Outlook:
    """What is forecast of a joint of the kind."""
    first = first_shape(doubt, 0.0)
    closing = doubt.pair.closing()
    lines = lines_of(closing.turn)[::2]
    middle = np.minimum(first.middle, TOL.bend_limit)

    def forecast(z: FloatArray) -> FloatArray:
        return np.asarray(np.clip(middle + z @ first.slopes, 0.0, TOL.bend_limit))

    progress(1.0)
    return Outlook(Lines(closing.turn, lines), forecast, UNKNOWN)


UNKNOWN: Final = np.radians(1.5)
"""rad. What a forecast by straight lines is off where nothing was built yet (measured on two pairs
of the catalogue)."""
