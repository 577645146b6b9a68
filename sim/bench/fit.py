"""From a joint's readings to its own yokes: those of the kind that agree with what was read.

What a joint of the kind touches at is forecast for all that its yokes may be; draws of the kind
that agree with the readings are sought by it; some of them are built, the forecast is put right by
them, and the draws are sought anew. The yokes that are shown are the likeliest whose lowest touch
lies halfway among all draws; they are built and proved clear like any other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from geometry.contact.touch import TouchCurve
from sim.accuracy.source import SURE
from sim.bench.contradicting import contradictions
from sim.bench.evidence import Evidence, some
from sim.bench.fitted import Contradiction, FittedDimension, FittedJoint, ReadingFit
from sim.bench.free import Doubt, doubt_of
from sim.bench.kept_fit import kept_fit
from sim.bench.next import next_readings
from sim.bench.outlook import Outlook, lowest_of
from sim.bench.posterior import DRAWS, agreeing, band, kind_draws
from sim.bench.readings import Told, told
from sim.bench.shown import Shown, shown
from sim.bench.turned import Lines
from sim.frames import FloatArray
from sim.rig import Rig
from sim.vehicle import Joint

SEED: Final = 13
"""Of all draws; any other does as well."""

BUILT: Final = 24
"""Shapes that agree, built to put the forecast right."""

FEWER: Final = 512
"""Draws where a band is only told and nothing follows from it; a power of two."""

Progress = Callable[[float], None]


def fitted_joint(rig: Rig, joint: Joint, progress: Progress | None = None) -> FittedJoint | None:
    """The yokes of a joint as its readings have them, as kept or found.

    progress : told the share that is done, 0 to 1.

    None without readings, of a double-Cardan head, and of two yokes that both came from mesh files:
    there nothing is free.

    Raises BindpointError for names that are not in the catalogue and dimensions that clash.
    """
    read = told(rig, joint)
    doubt = doubt_of(rig, joint) if read else None
    if doubt is None:
        return None
    return kept_fit(doubt, read, lambda: _Fit(doubt, read, progress or _untold).found())


def _untold(share: float) -> None:
    """Tell nobody."""
    del share


class _Fit:
    """One joint with its readings, on the way to its yokes."""

    def __init__(self, doubt: Doubt, read: tuple[Told, ...], progress: Progress) -> None:
        self.doubt, self.read, self.progress = doubt, read, progress
        self.count = len(doubt.free)
        self.kind = kind_draws(self.count, SEED)
        self.outlook = Outlook.of(doubt, lambda share: progress(0.6 * share))

    def found(self) -> FittedJoint:
        """All of it."""
        _, counted = self._fights()
        self.progress(0.65)
        self._put_right(self._agreeing(counted))
        fights, counted = self._fights()
        draws = self._agreeing(counted)
        self.progress(0.9)
        yokes = self._shown(draws, counted)
        touch = self._with_its_error(self.outlook.touch(draws))
        low, high = band(self.outlook.lines.at(touch, yokes.curve.spin))
        lowest = self._with_its_error(lowest_of(self.outlook.touch(draws))[:, None])[:, 0]
        before = lowest_of(self.outlook.touch(self.kind))
        found = FittedJoint(
            joint=self.doubt.joint,
            pair=yokes.pair,
            z=yokes.z,
            draws=draws[:: DRAWS // FEWER],
            touches=lowest[:: DRAWS // FEWER],
            readings=self._against(yokes.curve, counted),
            dimensions=self._dimensions(yokes.z, draws),
            curve=yokes.curve,
            low=low,
            high=high,
            lowest=_ends(lowest),
            before=_ends(before),
            contradictions=fights,
            next=next_readings(self.doubt, self.outlook, draws, self.read),
            forecast_off=self.outlook.off,
            replaced=yokes.replaced,
        )
        self.progress(1.0)
        return found

    def _evidence(self) -> Evidence:
        off = np.hypot([each.off for each in self.read], self.outlook.off)
        return Evidence(
            np.array([each.read for each in self.read]),
            off / SURE,
            np.array([each.way == "clear" for each in self.read]),
        )

    def _fights(self) -> tuple[tuple[Contradiction, ...], tuple[int, ...]]:
        """What cannot all be so, and which readings count."""
        predict, evidence = self.outlook.readings(self.read), self._evidence()
        comes_to = predict(self.kind)
        likely = evidence.log_likelihood(comes_to)
        starts = np.vstack([np.zeros(self.count), self.kind[np.argsort(-likely)[:2]]])
        return contradictions(predict, evidence, starts, comes_to)

    def _agreeing(self, counted: tuple[int, ...], draws: int = DRAWS) -> FloatArray:
        """Draws of joints that agree with those readings that count."""
        kept = list(counted)
        predict = some(self.outlook.readings(self.read), kept)
        return agreeing(predict, self._evidence().only(kept), self.count, SEED, draws)

    def _put_right(self, draws: FloatArray) -> None:
        """Build some of the shapes that agree, and learn the forecast from them too."""
        order = np.argsort(lowest_of(self.outlook.touch(draws)))
        even = order[((np.arange(BUILT) + 0.5) / BUILT * len(draws)).astype(int)]
        self.outlook = self.outlook.put_right(
            draws[even], self.read, lambda built: self.progress(0.65 + 0.2 * built / BUILT)
        )

    def _shown(self, draws: FloatArray, counted: tuple[int, ...]) -> Shown:
        """The yokes that are shown."""
        kept = list(counted)
        return shown(
            self.doubt,
            self.outlook,
            tuple(self.read[place] for place in kept),
            self._evidence().only(kept),
            draws,
        )

    def _with_its_error(self, forecast: FloatArray) -> FloatArray:
        """Forecasts (n, m), each draw off by as much as forecasts may be."""
        random = np.random.default_rng((SEED, len(forecast)))
        off = random.standard_normal((len(forecast), 1)) * self.outlook.off / SURE
        return np.asarray(forecast + off)

    def _against(self, curve: TouchCurve, counted: tuple[int, ...]) -> tuple[ReadingFit, ...]:
        """Each reading against the yokes that are shown, and against all other readings."""
        lines, touch = Lines.of(curve)
        lowest = np.array([curve.touch_min])
        predict, evidence = self.outlook.readings(self.read), self._evidence()
        random = np.random.default_rng(SEED)
        found = []
        for place, each in enumerate(self.read):
            others = tuple(other for other in counted if other != place)
            told_by = predict(self._agreeing(others, FEWER))[:, place]
            error = random.standard_normal(FEWER) * evidence.deviation[place]
            found.append(
                each.against(
                    float(each.shown(lines, touch, lowest)[0]),
                    _ends(told_by + error),
                    place in counted,
                )
            )
        return tuple(found)

    def _dimensions(self, z: FloatArray, draws: FloatArray) -> tuple[FittedDimension, ...]:
        low, high = band(self.doubt.dimensions(draws))
        values = self.doubt.dimensions(z[None])[0]
        return tuple(
            FittedDimension(free, *map(float, numbers))
            for free, *numbers in zip(self.doubt.free, values, low, high, strict=True)
        )


def _ends(values: FloatArray) -> tuple[float, float]:
    low, high = band(values)
    return float(low), float(high)
