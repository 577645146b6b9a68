"""Many cheap draws by slopes, put right by few whole ones: one sample with weights."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import hypot, sqrt

import numpy as np

from sim.accuracy.source import SURE
from sim.bars.drawn import Drawn, Flags, Key
from sim.frames import FloatArray


@dataclass(frozen=True, eq=False)
class Sample:
    """Draws of which each weighs something; a weight may be below zero.

    What whole draws come to more often than the same draws by slopes is added to what a great many
    draws by slopes come to. Slopes tell nearly all of it, so that the few have little to put right
    [derivation: the mean of a sum; a control variate].

    Attributes
    ----------
    slopes : draws by slopes.
    whole : whole draws; None where there are none.
    same : the same draws as the whole ones, by slopes.
    forecast_off : mm or rad, how far off what is left may be in any draw.
    """

    slopes: Drawn
    whole: Drawn | None = None
    same: Drawn | None = None
    forecast_off: Mapping[Key, float] = field(default_factory=dict)

    @property
    def looked(self) -> Drawn:
        """Those that tell what slopes cannot, such as heights and poses: whole ones, if any."""
        return self.slopes if self.whole is None else self.whole

    @property
    def _parts(self) -> tuple[tuple[Drawn, float], ...]:
        """Draws, and what all of them weigh."""
        parts = [(self.slopes, 1.0)]
        if self.whole is not None and self.same is not None:
            parts += [(self.whole, 1.0), (self.same, -1.0)]
        return tuple(parts)

    @cached_property
    def weights(self) -> FloatArray:
        """Weight of every draw, in the order of `left`; of all that are possible one."""
        weights = np.concatenate([d.possible * (sign / len(d.possible)) for d, sign in self._parts])
        total = float(weights.sum())
        return weights / total if total > 0.0 else weights

    def left(self, key: Key) -> FloatArray:
        """How far from touching each draw is."""
        return np.concatenate([drawn.left[key] for drawn, _ in self._parts])

    def worst(self, key: Key) -> FloatArray:
        """The worst value of each draw."""
        return np.concatenate([drawn.worst[key] for drawn, _ in self._parts])

    def chance(self, keys: tuple[Key, ...]) -> tuple[float, float]:
        """Chance that one of some findings touches or runs out, and how far off it may be.

        That is by the number of draws, 95 of 100 times: of those by slopes, and of the whole ones
        that come to something else than the same by slopes, one way and the other. What is left may
        be off as well: half of what lies between.
        """
        hits = self._hits(keys, 0.0)
        off = _share_off(hits[0])
        if len(hits) > 1:
            whole, same = hits[1:]
            off = hypot(off, _share_off(whole & ~same), _share_off(same & ~whole))
        between = self._share(self._hits(keys, 1.0)) - self._share(self._hits(keys, -1.0))
        return min(1.0, max(0.0, self._share(hits))), off + 0.5 * max(0.0, between)

    def _share(self, hits: list[Flags]) -> float:
        """Share of what is possible that touches."""
        touches, possible = 0.0, 0.0
        for (drawn, sign), hit in zip(self._parts, hits, strict=True):
            touches += sign * float(np.mean(hit & drawn.possible))
            possible += sign * float(np.mean(drawn.possible))
        return touches / possible if possible > 0.0 else 0.0

    def _hits(self, keys: tuple[Key, ...], sign: float) -> list[Flags]:
        """Which draws of each part touch, with so many times what the forecast may be off added."""
        parts = []
        for drawn, _ in self._parts:
            hits = np.zeros(len(drawn.possible), dtype=bool)
            for key in keys:
                hits |= drawn.left[key] <= sign * self.forecast_off.get(key, 0.0)
            parts.append(hits)
        return parts

    def quantiles(self, values: FloatArray, shares: tuple[float, ...]) -> list[float]:
        """Values that so many of the draws are below."""
        known = np.isfinite(values) & (self.weights != 0.0)
        order = np.argsort(values[known], kind="stable")
        ordered, weights = values[known][order], self.weights[known][order]
        below = np.cumsum(weights) - 0.5 * weights
        # Weights below zero let it fall again: between the highest so far and the lowest to come.
        highest = np.maximum.accumulate(below)
        lowest = np.minimum.accumulate(below[::-1])[::-1]
        return [float(np.interp(share, 0.5 * (highest + lowest), ordered)) for share in shares]


def _share_off(hits: Flags) -> float:
    """How far off a share of draws may be by their number (95 of 100).

    Half the interval of [WILSON]: for draws at random, and too wide for those spread out evenly.
    """
    count = len(hits)
    share = float(np.count_nonzero(hits)) / count
    square = SURE * SURE / count
    return SURE * sqrt(share * (1.0 - share) / count + 0.25 * square / count) / (1.0 + square)
