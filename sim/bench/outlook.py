"""What a joint of a kind touches at, forecast for any of its shapes, put right by full ones."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from geometry.tolerances import TOL
from sim.accuracy.source import SURE
from sim.bench.curves import Known, Library, seen
from sim.bench.evidence import Predict
from sim.bench.fitted import Turned
from sim.bench.forecast import Forecast, learnt
from sim.bench.readings import Place, Told
from sim.bench.turned import Lines
from sim.frames import FloatArray

LOWEST: Final = Told(0, "", "lowest", Turned(), False, 0.0, 1.0)
"""The lowest touch of a whole turn, as if it were read."""

LEAST_OFF: Final = np.radians(0.1)
"""rad. No forecast is taken to be better: touch is seen to some hundredths of a degree, and goes
straight from line to line."""


@dataclass(frozen=True, eq=False)
class Outlook:
    """Forecast of the touch over a whole turn.

    Attributes
    ----------
    known : the library that it is learnt from.
    lines : spins that speak for the turn.
    forecast : learnt from the library and what was built beside it.
    off : rad; 95 of 100 forecasts of a reading are no farther off.
    known_off : rad, the same of places of which more is known.
    beside : shapes built beside the library.
    """

    known: Library
    lines: Lines
    forecast: Forecast
    off: float
    known_off: Mapping[Place, float] = field(default_factory=dict)
    beside: tuple[Known, ...] = ()

    @classmethod
    def of(cls, known: Library) -> Outlook:
        """What a library forecasts."""
        forecast = learnt(known)
        lines = Lines(known.doubt.pair.closing().turn, known.lines)
        off = max(forecast.curve_off, forecast.lowest_off, LEAST_OFF)
        return cls(known, lines, forecast, off)

    def touch(self, z: FloatArray) -> FloatArray:
        """Touch (n, m), rad, of draws (n, d), at the lines; the highest bend where nothing is."""
        return np.asarray(np.minimum(self.forecast.touch(z), TOL.bend_limit))

    def readings(self, told: tuple[Told, ...]) -> Predict:
        """What foretells some readings."""

        def predict(z: FloatArray) -> FloatArray:
            return _shown(self.lines, self.touch(z), told)

        return predict

    def put_right(
        self, draws: FloatArray, told: tuple[Told, ...], tell: Callable[[int], None]
    ) -> Outlook:
        """The same learnt from shapes of some draws (k, d) too, which are built.

        How far forecasts are off is told anew, where the readings say the joint is, for each place
        that was read and for the lowest: half of these shapes are forecast from the library and the
        other half, and the other way round.

        tell : told how many are built.
        """
        beside = (*self.beside, *seen(self.known, list(draws), tell))
        halves = beside[::2], beside[1::2]
        asked = {each.place: each for each in (*told, LOWEST)}
        wrong = [
            self._wrong(learnt(self.known, near), far, tuple(asked.values()))
            for near, far in (halves, halves[::-1])
            if far
        ]
        squares = np.square(np.concatenate(wrong)).mean(axis=0)
        off, *each = (max(SURE * float(np.sqrt(s)), LEAST_OFF) for s in (squares.mean(), *squares))
        return replace(
            self,
            forecast=learnt(self.known, beside),
            off=off,
            known_off=dict(zip(asked, each, strict=True)),
            beside=beside,
        )

    def off_at(self, place: Place) -> float:
        """How far off (rad) 95 of 100 forecasts are at a place."""
        return self.known_off.get(place, self.off)

    def _wrong(
        self, forecast: Forecast, shapes: tuple[Known, ...], asked: tuple[Told, ...]
    ) -> FloatArray:
        """What forecasts of readings (k, r) on shapes are off, rad."""
        z = np.array([each.z for each in shapes])
        said = np.minimum(forecast.touch(z), TOL.bend_limit)
        real = np.array([np.nan_to_num(each.first, nan=TOL.bend_limit) for each in shapes])
        off = _shown(self.lines, said, asked) - _shown(self.lines, real, asked)
        return np.asarray(np.minimum(off, TOL.bend_limit))


def lowest_of(touch: FloatArray) -> FloatArray:
    """Lowest touch (n,), rad, of touch (n, m) at lines that speak for a whole turn."""
    return np.asarray(touch.min(axis=1))


def _shown(lines: Lines, touch: FloatArray, told: tuple[Told, ...]) -> FloatArray:
    """What would be read (n, r), rad, on joints with their touch (n, m) at the lines."""
    lowest = lowest_of(touch)
    shown = [each.shown(lines, touch, lowest) for each in told]
    return np.stack(shown, axis=1) if shown else np.zeros((len(touch), 0))
