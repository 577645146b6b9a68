"""At which bend a joint touches when one of its yokes is held with its ears at some angle.

With the driving yoke held the spin of the joint is the angle of its bores to the plane of the bend.
With the driven yoke held it depends on the bend too, since the cross carries the bores of both at
right angles: tan(spin) tan(ears) = -cos(bend) [derivation], 0 at its ears across.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from geometry.contact.joint_parts import Turn
from geometry.contact.touch import TouchCurve
from sim.frames import FloatArray

STEPS: Final = 121
"""Bends up to a right angle at which a curve is compared with a turn: straight in between, where
the spin turns by less than a degree."""

SAME: Final = 1e-9
"""rad. Turns that are one by the symmetries of the yokes differ by rounding."""


def spin_at(bend: ArrayLike, ears: float, driving: bool) -> FloatArray:
    """Spin (...) of a joint, rad over [0, pi), whose clamped yoke has its ears at an angle.

    bend : (...) rad, under 90 deg.
    ears : rad from the plane of the bend to the bores of the clamped yoke, 0 to pi.
    driving : whether the driving yoke is clamped; else the driven one.
    """
    along = np.cos(np.asarray(bend, dtype=np.float64))
    if driving:
        return np.full(along.shape, ears % pi)
    return np.asarray(np.arctan2(along * np.cos(ears), -np.sin(ears)) % pi)


@dataclass(frozen=True)
class Lines:
    """Spins at which touch is known, straight in between.

    turn : the symmetries by which they speak for a whole turn.
    spins : (m,) rad by size, from 0 to the end of what speaks for the whole turn, both with it.
    """

    turn: Turn
    spins: FloatArray

    @classmethod
    def of(cls, curve: TouchCurve) -> tuple[Lines, FloatArray]:
        """The spins of a touch curve, and its touch (1, m) at them; its limit where none is."""
        around = np.append(curve.touch, curve.touch[:1])
        lines = cls(Turn(half_turn=False, mirror=False), np.append(curve.spin, 2.0 * pi))
        return lines, np.nan_to_num(around, nan=curve.limit)[None]

    def at(self, touch: FloatArray, spin: FloatArray) -> FloatArray:
        """Touch (n, k) at spins (k,), of touch (n, m) at the lines."""
        return self._at(touch, self._folded(spin))

    def _folded(self, spin: FloatArray) -> FloatArray:
        """What stands for each, as `Turn.fold` has it."""
        period = pi if self.turn.half_turn else 2.0 * pi
        folded = np.asarray(spin % period)
        return np.minimum(folded, period - folded) if self.turn.mirror else folded

    def _at(self, touch: FloatArray, folded: FloatArray) -> FloatArray:
        high = np.clip(np.searchsorted(self.spins, folded), 1, len(self.spins) - 1)
        near, far = self.spins[high - 1], self.spins[high]
        share = (folded - near) / (far - near)
        return np.asarray(touch[:, high - 1] * (1.0 - share) + touch[:, high] * share)

    def held(self, touch: FloatArray, ears: float, driving: bool) -> FloatArray:
        """Bend (n,), rad, at which joints first touch when bent with the clamped yoke's ears so.

        touch : (n, m) rad at the lines, some highest bend where nothing touches.

        The ears are turned either way, and either of them may be the one that leads; where a yoke
        is not the same on both sides it is the way that touches sooner.
        """
        if driving:
            return np.asarray(self._sooner(touch, np.array([ears % pi]))[:, 0])
        bends = np.linspace(0.0, 0.5 * pi, STEPS, endpoint=False)
        left = self._sooner(touch, spin_at(bends, ears, driving)) - bends
        past = left <= 0.0
        step = np.argmax(past, axis=1)
        rows, before = np.arange(len(touch)), np.maximum(step - 1, 0)
        near, far = left[rows, before], left[rows, step]
        with np.errstate(invalid="ignore", divide="ignore"):
            share = np.where(step > before, near / (near - far), 0.0)
        met = bends[before] + share * (bends[step] - bends[before])
        return np.asarray(np.where(past.any(axis=1), met, 0.5 * pi))

    def _sooner(self, touch: FloatArray, at: FloatArray) -> FloatArray:
        """Lowest touch (n, k) of those turned alike to spins (k,): either way, either ear."""
        ways = [self._folded(each) for each in (at, at + pi, pi - at, 2.0 * pi - at)]
        others = [each for each in ways[1:] if not np.allclose(each, ways[0], rtol=0, atol=SAME)]
        return np.asarray(np.minimum.reduce([self._at(touch, each) for each in (ways[0], *others)]))
