"""A joint's readings against a forecast of its kind: which of them count, and who agrees.

A forecast is off by something of its own wherever a joint is read, and two readings of one turn
meet the same error. So a draw of a joint tells its dimensions and, for each turn that was read and
for the lowest of a whole turn, the error of the forecast there. What is read as the lowest then
holds the lowest as well as it was read, however far off the forecast is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np

from sim.accuracy.source import SURE
from sim.bench.contradicting import contradictions
from sim.bench.evidence import Evidence
from sim.bench.fitted import Contradiction
from sim.bench.outlook import LOWEST, Outlook, lowest_of
from sim.bench.posterior import DRAWS, agreeing, kind_draws
from sim.bench.readings import Place, Told
from sim.frames import FloatArray

SEED: Final = 13
"""Of all draws; any other does as well."""


@dataclass(frozen=True, eq=False)
class Agreement:
    """Readings of a joint, and what is forecast of its kind.

    Draws (n, d + p) are standard normals: of the dimensions in doubt, then of the forecast's error
    at each place.

    Attributes
    ----------
    outlook : the forecast.
    read : the readings.
    """

    outlook: Outlook
    read: tuple[Told, ...]

    @property
    def count(self) -> int:
        """How many dimensions are in doubt."""
        return len(self.outlook.known.doubt.free)

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """Where forecasts have an error each: the lowest, then every turn that was read."""
        return tuple(dict.fromkeys((None, *(each.place for each in self.read))))

    @cached_property
    def kind(self) -> FloatArray:
        """Draws (n, d + p) of the kind, before any reading."""
        return kind_draws(self.count + len(self.places), SEED)

    @property
    def evidence(self) -> Evidence:
        """The readings as numbers."""
        return Evidence(
            np.array([each.read for each in self.read]),
            np.array([each.deviation for each in self.read]),
            np.array([each.way == "clear" for each in self.read]),
        )

    def shapes(self, draws: FloatArray) -> FloatArray:
        """The dimensions (n, d) of draws, as standard normals."""
        return draws[:, : self.count]

    def error(self, place: Place, draws: FloatArray) -> FloatArray:
        """By how much (n,), rad, a joint of each draw touches later at a place than is forecast."""
        if place in self.places:
            own = draws[:, self.count + self.places.index(place)]
        else:
            ears, driving = place or (0.0, False)
            seed = (SEED, len(draws), round(ears * 1e6), driving)
            own = np.random.default_rng(seed).standard_normal(len(draws))
        return np.asarray(own * self.outlook.off_at(place) / SURE)

    def readings(self, draws: FloatArray) -> FloatArray:
        """What would be read (n, r), rad, on joints of draws."""
        return self.shown(self.read, draws)

    def shown(self, told: tuple[Told, ...], draws: FloatArray) -> FloatArray:
        """What would be read (n, r), rad, on joints of draws, in other ways."""
        forecast = self.outlook.readings(told)(self.shapes(draws))
        errors = [self.error(each.place, draws) for each in told]
        return forecast + np.stack(errors, axis=1) if errors else forecast

    def lowest(self, draws: FloatArray) -> FloatArray:
        """The lowest touch (n,), rad, of joints of draws."""
        return np.asarray(self.shown((LOWEST,), draws)[:, 0])

    def touch(self, draws: FloatArray) -> FloatArray:
        """Touch (n, m), rad, at the lines, of joints of draws; never below their lowest.

        Where no line was read the forecast may be off either way, all along the turn alike.
        """
        touch, lowest = self.outlook.touch(self.shapes(draws)), self.lowest(draws)
        off = np.random.default_rng((SEED, len(draws))).standard_normal(len(draws))
        return np.maximum(touch + (off * self.outlook.off / SURE)[:, None], lowest[:, None])

    def before(self) -> FloatArray:
        """The lowest touch (n,), rad, of joints of the kind, before any reading."""
        return lowest_of(self.outlook.touch(self.shapes(self.kind))) + self.error(None, self.kind)

    def fights(self) -> tuple[tuple[Contradiction, ...], tuple[int, ...]]:
        """What cannot all be so, and which readings count, by their places from 0."""
        evidence, comes_to = self.evidence, self.readings(self.kind)
        likely = evidence.log_likelihood(comes_to)
        middle = np.zeros(self.kind.shape[1])
        starts = np.vstack([middle, self.kind[np.argsort(-likely)[:2]]])
        return contradictions(self.readings, evidence, starts, comes_to)

    def agreeing(self, counted: tuple[int, ...], draws: int = DRAWS) -> FloatArray:
        """Draws (draws, d + p) of joints that agree with those readings that count.

        Dimensions are drawn first, readings off by their own error and the forecast's together;
        then the forecast's error at each place, as dimensions and readings leave it: normal, and
        known in closed form [derivation]. A reading that says only what does not touch leaves it
        as it was.
        """
        read = [self.read[place] for place in counted]
        met = [found for each in self.places if (found := self._together(each, read)) is not None]
        clear = [each for each in read if each.way == "clear"]
        asked = (*met, *clear)
        off = np.array([self.outlook.off_at(each.place) for each in asked]) / SURE
        own = np.array([each.deviation for each in asked])
        at = np.array([each.read for each in asked])
        evidence = Evidence(at, np.hypot(own, off), np.array([each in clear for each in asked]))
        forecast = self.outlook.readings(asked)
        shapes = agreeing(forecast, evidence, self.count, SEED, draws)
        errors = kind_draws(len(self.places), SEED + 1, draws)
        left = (at - forecast(shapes)) * off / evidence.deviation**2
        for number, each in enumerate(met):
            column = self.places.index(each.place)
            errors[:, column] *= own[number] / evidence.deviation[number]
            errors[:, column] += left[:, number]
        return np.hstack([shapes, errors])

    def _together(self, place: Place, read: list[Told]) -> Told | None:
        """What readings of one place come to together; None where there are none."""
        here = [each for each in read if each.place == place and each.way != "clear"]
        if not here:
            return None
        weights = np.array([each.deviation**-2 for each in here])
        middle = float(weights @ [each.read for each in here] / weights.sum())
        return replace(here[0], read=middle, off=SURE / float(np.sqrt(weights.sum())))
