"""What to read again, with what, so that the verdict is surer, and what it would come to then."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import compress
from typing import Final

import numpy as np

from sim.accuracy.source import SURE
from sim.bars.better import Reading, readings, shares_by_squares
from sim.bars.done import done
from sim.bars.drawn import Drawn, Key, Limits, judge
from sim.bars.draws import normal_draws
from sim.bars.model import Model
from sim.bars.result import Again, Outcome
from sim.bars.shares import Crossed, Shares
from sim.bars.slopes import Slopes
from sim.frames import FloatArray
from sim.progress import Progress
from sim.vehicle import Joint

LITTLE: Final = 0.01
"""Share of the doubt below which nothing is gained by reading it again."""

MOST: Final = 6
"""Readings whose shares are found in full."""

SHOWN: Final = 5
"""Readings that are told."""

WORTH: Final = 0.97
"""A reading that leaves more than this of the doubt is not told."""

CHEAP: Final = 4096
"""Draws by slopes, for shares and for what a reading would leave."""

WHOLE: Final = 64
"""Draws of which whole rigs are looked at for the shares, each once more for every reading."""


def first_look(model: Model, linear: Slopes, seed: int) -> tuple[Again, ...]:
    """What to read again, by slopes alone: shares go with their squares."""
    asked = _Asked.of(model, linear, seed)
    return () if asked is None else asked.told(Shares(asked.alone, asked.alone))


def in_full(
    model: Model, linear: Slopes, seed: int, progress: Progress, between: tuple[float, float]
) -> tuple[Again, ...]:
    """What to read again, by Sobol indices of whole rigs.

    between : share of all the work that is behind before, and after.
    """
    asked = _Asked.of(model, linear, seed)
    return () if asked is None else asked.told(asked.shares(progress, between))


@dataclass(frozen=True, eq=False)
class _Asked:
    """Which finding's doubt is asked for, what may be read again for it, its shares by squares."""

    model: Model
    linear: Slopes
    seed: int
    key: Key
    readings: tuple[Reading, ...]
    alone: FloatArray

    @classmethod
    def of(cls, model: Model, linear: Slopes, seed: int) -> _Asked | None:
        z = normal_draws(len(model.keys), CHEAP, seed)
        key = deciding(model.judged(z, linear.moved(z)))
        if key is None:
            return None
        found = list(readings(model))
        alone = shares_by_squares(_slopes_of(model, linear, key), found)
        order = sorted(
            (each for each in range(len(found)) if alone[each] > LITTLE),
            key=lambda each: (found[each].leaves(float(alone[each])), found[each].of.key),
        )
        yokes = [found[each].yokes for each in order]
        # Of a joint's dimensions one: the others narrow less, and a bench reading tells them all.
        first = [y is None or y not in yokes[:n] for n, y in enumerate(yokes)]
        order = list(compress(order, first))[:MOST]
        return cls(model, linear, seed, key, tuple(found[n] for n in order), alone[order])

    def shares(self, progress: Progress, between: tuple[float, float]) -> Shares:
        """Sobol indices of every reading: of many draws by slopes, put right by few whole rigs."""
        groups, columns = [each.columns for each in self.readings], len(self.model.keys)
        many = Crossed.drawn(columns, groups, CHEAP, self.seed)
        few = Crossed.drawn(columns, groups, WHOLE, self.seed)
        whole = _looked(self.model, few.all, progress, between)
        return (
            many.shares(self._left(many.all, self.linear.moved(many.all)))
            .put_right(
                few.shares(self._left(few.all, whole)),
                few.shares(self._left(few.all, self.linear.moved(few.all))),
            )
            .held
        )

    def told(self, shares: Shares) -> tuple[Again, ...]:
        """Every reading that is worth it, the one that narrows most first."""
        z = normal_draws(len(self.model.keys), CHEAP, self.seed)
        now = _width(self._left(z, self.linear.moved(z)))
        told = [
            self._again(each, float(first), float(total), z, now)
            for each, first, total in zip(self.readings, shares.first, shares.total, strict=True)
        ]
        worth = [each for each in told if each.narrows <= WORTH]
        return tuple(sorted(worth, key=lambda each: (each.narrows, each.key))[:SHOWN])

    def _again(self, each: Reading, first: float, total: float, z: FloatArray, now: float) -> Again:
        of, (code, subject) = each.of, self.key
        same = self._read(each, z, 0.0)
        low, high = (
            Outcome(of.value + at * of.off, float((self._read(each, z, at) <= 0.0).mean()))
            for at in (-1.0, 1.0)
        )
        return Again(
            key=of.key,
            code=code,
            subject=subject,
            share=first,
            total=total,
            value=of.value,
            unit=of.unit,
            off=of.off,
            why=of.why,
            tool=of.tool,
            better=each.better,
            better_off=each.better_off,
            narrows=_width(same) / now if now > 0.0 else 1.0,
            low=low,
            high=high,
        )

    def _read(self, each: Reading, z: FloatArray, at: float) -> FloatArray:
        """What is left (n,) when a reading came out at one end (-1, 1) or as it is (0).

        By slopes, from where a look finds the rig with that reading.
        """
        if each.joint is not None:
            limits = self.model.limits(z)
            limits[each.joint] = _narrowed(each, limits[each.joint], at)
            return self._left(z, self.linear.moved(z), limits)
        (column,) = each.columns
        middle = np.zeros((1, z.shape[1]))
        middle[0, column] = SURE * at
        read = z.copy()
        read[:, column] = each.left * z[:, column] + SURE * at
        off = np.nan_to_num(self.model.moved(middle) - self.linear.moved(middle))
        return self._left(read, self.linear.moved(read) + off)

    def _left(
        self, z: FloatArray, moved: FloatArray, limits: dict[Joint, Limits] | None = None
    ) -> FloatArray:
        """What is left (n,) in the finding that is asked for."""
        named = dict(zip(self.model.looked_at, np.moveaxis(moved, 1, 0), strict=True))
        told = judge(named, limits or self.model.limits(z), self.model.found.rig.wanted.gap.mm)
        left: FloatArray = told.left[self.key]
        return left


NO_DECIDER: Final = frozenset({"joint-gap", "out-of-reach"})
"""Findings that touch when their joint's bend does, or of which nothing is left or missing."""


def deciding(drawn: Drawn) -> Key | None:
    """The finding that is most in doubt; of several that are sure the one with least to spare.

    Least by what it spreads. None where nothing spreads.
    """
    told: list[tuple[float, float, Key]] = []
    for key, left in drawn.left.items():
        known = left[np.isfinite(left)]
        spread = float(known.std()) if len(known) else 0.0
        if key[0] not in NO_DECIDER and spread > 0.0:
            chance = float((known <= 0.0).mean())
            told.append((-chance * (1.0 - chance), abs(float(np.median(known))) / spread, key))
    return min(told, key=lambda each: each[:2])[2] if told else None


def _slopes_of(model: Model, linear: Slopes, key: Key) -> FloatArray:
    """How much (k,) what is left in a finding changes with one deviation of each column."""
    columns = len(model.keys)
    steps = np.concatenate([np.eye(columns), -np.eye(columns)])
    left = model.judged(steps, linear.moved(steps)).left[key]
    slopes: FloatArray = np.nan_to_num(0.5 * (left[:columns] - left[columns:]))
    return slopes


def _narrowed(each: Reading, limits: Limits, at: float) -> Limits:
    """Limits of a joint that was read on the bench."""
    change = (each.left - 1.0) * (limits.clear - each.of.value) + at * each.of.off
    return Limits(limits.clear + change, limits.keeps + change)


def _looked(
    model: Model, z: FloatArray, progress: Progress, between: tuple[float, float]
) -> FloatArray:
    """Where the shaft runs in draws; those that differ in the shapes alone are looked at once.

    between : share of all the work that is behind before, and after.
    Values alone are good: heights of first contact are those of one of the shapes.
    """
    unique, which = np.unique(z[:, : len(model.moving)], axis=0, return_inverse=True)
    asked = np.zeros((len(unique), z.shape[1]))
    asked[:, : len(model.moving)] = unique
    looks, _ = done(model, asked, asked[:0], progress, between)
    return model.put_right(looks)[np.ravel(which)]


def _width(left: FloatArray) -> float:
    """Width of the band of 95 of 100."""
    known = left[np.isfinite(left)]
    low, high = np.quantile(known, (0.025, 0.975)) if len(known) else (0.0, 0.0)
    return float(high - low)
