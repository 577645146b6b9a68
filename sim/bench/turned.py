"""At which bend a joint touches when one of its yokes is held with its ears at some angle.

With the driving yoke held the spin of the joint is the angle of its bores to the plane of the bend.
With the driven yoke held it depends on the bend too, since the cross carries the bores of both at
right angles: tan(spin) tan(ears) = -cos(bend) [derivation], 0 at its ears across.
"""

from __future__ import annotations

from math import pi
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray

STEPS: Final = 121
"""Bends up to the highest at which a curve is compared with a turn: half a degree, and straight in
between, where the spin turns by less than a degree."""


def spin_at(bend: ArrayLike, ears: float, driving: bool) -> FloatArray:
    """Spin (...) of a joint, rad over [0, pi], whose clamped yoke has its ears at an angle.

    bend : (...) rad, under 90 deg.
    ears : rad from the plane of the bend to the bores of the clamped yoke, 0 to pi.
    driving : whether the driving yoke is clamped; else the driven one.
    """
    along = np.cos(np.asarray(bend, dtype=np.float64))
    if driving:
        return np.full(along.shape, ears % pi)
    return np.asarray(np.arctan2(along * np.cos(ears), -np.sin(ears)) % pi)


def touch_at(spin: FloatArray, touch: FloatArray, ears: float, driving: bool) -> FloatArray:
    """Bend (n,), rad, at which joints first touch when bent with the clamped yoke's ears so.

    spin : (m,) rad, even over [0, 2 pi).
    touch : (n, m) rad, bends at which each of the joints touches, some highest one where it does
        not; straight in between.

    The ears are turned either way, and either of them may be the one that leads; where a yoke is
    not the same on both sides it is the way that touches sooner.
    """
    if driving:
        sooner = _sooner(spin, touch, np.array([ears % pi]))
        return np.asarray(sooner[:, 0])
    bends = np.linspace(0.0, 0.5 * pi, STEPS, endpoint=False)
    left = _sooner(spin, touch, spin_at(bends, ears, driving)) - bends
    past = left <= 0.0
    step = np.argmax(past, axis=1)
    rows, before = np.arange(len(touch)), np.maximum(step - 1, 0)
    near, far = left[rows, before], left[rows, step]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(step > before, near / (near - far), 0.0)
    met = bends[before] + share * (bends[step] - bends[before])
    return np.asarray(np.where(past.any(axis=1), met, np.inf))


def _sooner(spin: FloatArray, touch: FloatArray, at: FloatArray) -> FloatArray:
    """Lowest touch (n, k) of those turned alike to spins (k,): either way, either ear."""
    same = (at, at + pi, pi - at, 2.0 * pi - at)
    return np.asarray(np.minimum.reduce([_between(spin, touch, each) for each in same]))


def _between(spin: FloatArray, touch: FloatArray, at: FloatArray) -> FloatArray:
    """Touch (n, k) at spins (k,), straight between the sampled ones."""
    count = len(spin)
    place = (at % (2.0 * pi)) / (2.0 * pi) * count
    low = np.floor(place).astype(int)
    share = place - low
    return np.asarray(touch[:, low % count] * (1.0 - share) + touch[:, (low + 1) % count] * share)
