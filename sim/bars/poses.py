"""Poses of the axle that a drawn rig is looked at in, height by height.

`sim.assessment.glance` looks at few, to tell what need not be swept; here the worst itself and the
height of first contact are read off them, so heights lie closer and level without wrap is one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.frames import FloatArray
from sim.vehicle import TravelRegion

STEPS: Final = 16
"""Heights over the whole travel, shared out below and above ride height."""

SHARES: Final = (-1.0, 0.0, 1.0)
"""Of the roll and of the wrap that there are at a height; the middle is none."""


@dataclass(frozen=True, eq=False)
class Ladder:
    """Every height with each roll and wrap.

    Attributes
    ----------
    heights : (h,) mm, from the bottom up, ride height among them.
    poses : (h, r, 3) travel mm, roll rad, wrap rad; first of the r those level and without wrap.
    ride : which height is ride height.
    """

    heights: FloatArray
    poses: FloatArray
    ride: int


def ladder(region: TravelRegion) -> Ladder:
    """The ladder of a region: its ends, its kinks, and steps between."""
    low, high = float(region.low[0]), float(region.high[0])
    step = (high - low) / STEPS
    nodes = {0.0, low, high, *(kink for kink in region.kinks if low <= kink <= high)}
    for end in (low, high):
        count = int(np.ceil(abs(end) / step)) if step > 0.0 else 0
        nodes |= set(np.linspace(0.0, end, count + 1).tolist())
    heights = np.array(sorted(nodes))
    limit = region.roll_limit(heights)
    least, most = region.wrap_limits(heights)
    none = np.zeros(heights.shape)
    rolls = [limit * share for share in SHARES] if float(limit.max()) > 0.0 else [none]
    wraps = [none] if region.nose_up + region.nose_down == 0.0 else [none, least, most]
    rows = [(none, none), *((roll, wrap) for roll in rolls for wrap in wraps)]
    poses = np.stack([np.stack([heights, *row], axis=-1) for row in rows], axis=1)
    return Ladder(heights, poses, int(np.flatnonzero(heights == 0.0)[0]))


def first_height(ladder: Ladder, past: FloatArray) -> float:
    """Height (mm) nearest to ride height at which something is past its limit; nan where never.

    past : (h,) how far past it is at each height, at most over roll and wrap; nan out of reach.
        Between two heights it is taken to run straight.
    """
    beyond = np.where(np.isnan(past), -np.inf, past)
    if beyond[ladder.ride] >= 0.0:
        return 0.0
    found = [
        _first(ladder.heights[: ladder.ride + 1][::-1], beyond[: ladder.ride + 1][::-1]),
        _first(ladder.heights[ladder.ride :], beyond[ladder.ride :]),
    ]
    met = [each for each in found if np.isfinite(each)]
    return min(met, key=abs) if met else float("nan")


def _first(heights: FloatArray, beyond: FloatArray) -> float:
    """The first height on a way, the first of which is short of the limit."""
    hit = beyond >= 0.0
    if not hit.any():
        return float("nan")
    n = int(hit.argmax())
    a, b = beyond[n - 1], beyond[n]
    share = -a / (b - a) if np.isfinite(a) else 1.0
    return float(heights[n - 1] + share * (heights[n] - heights[n - 1]))
