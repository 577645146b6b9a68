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
from sim.bench.agreement import SEED, Agreement
from sim.bench.curves import library
from sim.bench.fitted import FittedDimension, FittedJoint, ReadingFit
from sim.bench.free import Doubt, doubt_of
from sim.bench.kept_fit import kept_fit
from sim.bench.next import next_readings
from sim.bench.outlook import Outlook
from sim.bench.posterior import DRAWS, band, ends
from sim.bench.readings import Told, told
from sim.bench.shown import Shown, shown
from sim.bench.turned import Lines
from sim.frames import FloatArray
from sim.rig import Rig
from sim.vehicle import Joint

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
        known = library(doubt, lambda share: progress(0.6 * share))
        self.by = Agreement(Outlook.of(known), read)

    def found(self) -> FittedJoint:
        """All of it."""
        _, counted = self.by.fights()
        self.progress(0.65)
        self._put_right(self.by.agreeing(counted))
        by = self.by
        fights, counted = by.fights()
        draws = by.agreeing(counted)
        self.progress(0.9)
        yokes = self._shown(draws, counted)
        low, high = band(by.outlook.lines.at(by.touch(draws), yokes.curve.spin))
        lowest = by.lowest(draws)
        thinned = np.argsort(lowest)[DRAWS // FEWER // 2 :: DRAWS // FEWER]
        found = FittedJoint(
            joint=self.doubt.joint,
            pair=yokes.pair,
            z=yokes.z,
            draws=by.shapes(draws)[thinned],
            touches=lowest[thinned],
            readings=self._against(yokes.curve, counted),
            dimensions=self._dimensions(yokes.z, by.shapes(draws)),
            curve=yokes.curve,
            low=low,
            high=high,
            lowest=ends(lowest),
            before=ends(by.before()),
            contradictions=fights,
            next=next_readings(by, draws),
            forecast_off=by.outlook.off_at(None),
            replaced=yokes.replaced,
        )
        self.progress(1.0)
        return found

    def _put_right(self, draws: FloatArray) -> None:
        """Build some of the shapes that agree, and learn the forecast from them too."""
        order = np.argsort(self.by.lowest(draws))
        even = order[((np.arange(BUILT) + 0.5) / BUILT * len(draws)).astype(int)]
        outlook = self.by.outlook.put_right(
            self.by.shapes(draws)[even],
            self.read,
            lambda built: self.progress(0.65 + 0.2 * built / BUILT),
        )
        self.by = Agreement(outlook, self.read)

    def _shown(self, draws: FloatArray, counted: tuple[int, ...]) -> Shown:
        """The yokes that are shown."""
        return shown(self.by, counted, draws)

    def _against(self, curve: TouchCurve, counted: tuple[int, ...]) -> tuple[ReadingFit, ...]:
        """Each reading against the yokes that are shown, and against all other readings."""
        lines, touch = Lines.of(curve)
        lowest = np.array([curve.touch_min])
        deviation = self.by.evidence.deviation
        random = np.random.default_rng(SEED)
        found = []
        for place, each in enumerate(self.read):
            others = tuple(other for other in counted if other != place)
            told_by = self.by.readings(self.by.agreeing(others, FEWER))[:, place]
            error = random.standard_normal(FEWER) * deviation[place]
            found.append(
                each.against(
                    float(each.shown(lines, touch, lowest)[0]),
                    ends(told_by + error),
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
