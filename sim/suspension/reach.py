"""How far up and down a suspension goes before it can go no farther."""

from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.suspension.base import Suspension
from sim.tolerances import TOL

FARTHEST: Final = 1000.0
"""mm. No axle travels as far; a suspension that gets there has no end of its own."""

STRIDE: Final = 5.0
"""mm between the heights that are asked; a gap in the reach is wider, since it ends in a dead
centre."""


@dataclass(frozen=True)
class Reach:
    """Lowest and highest travel (mm) at one roll and wrap; infinite where there is no end."""

    low: float
    high: float

    def holds(self, travel: float) -> bool:
        """Whether a travel (mm) can be reached."""
        return self.low <= travel <= self.high


def reach(suspension: Suspension, roll: float = 0.0, wrap: float = 0.0) -> Reach | None:
    """Find the travel that is reached from ride height on, at this roll and wrap (rad).

    None where even ride height cannot be reached so far rolled or wrapped.
    """
    low, high = (_end(suspension, sense, roll, wrap) for sense in (-1.0, 1.0))
    return None if low is None or high is None else Reach(low, high)


def _end(suspension: Suspension, sense: float, roll: float, wrap: float) -> float | None:
    inside = 0.0
    while True:
        heights = inside + STRIDE * np.arange(SECTIONS, dtype=np.float64)
        reached = _reached(suspension, sense * heights, roll, wrap)
        if not reached[0]:
            return None
        if not reached.all():
            break
        inside = float(heights[-1])
        if inside >= FARTHEST:
            return sense * inf
    first = int(np.argmin(reached))
    inside, outside = float(heights[first - 1]), float(heights[first])
    while outside - inside > TOL.reach:
        between = np.linspace(inside, outside, SECTIONS + 1)
        reached = _reached(suspension, sense * between[1:-1], roll, wrap)
        first = len(reached) if reached.all() else int(np.argmin(reached))
        inside, outside = float(between[first]), float(between[first + 1])
    return sense * inside


SECTIONS: Final = 32
"""Strides asked at once, and parts that the last one is cut into again and again: together they
cost little more than one."""


def _reached(
    suspension: Suspension, travel: FloatArray, roll: float, wrap: float
) -> NDArray[np.bool_]:
    poses = suspension.poses(travel, roll, wrap)
    total = poses.p_C_A.sum(axis=-1) + poses.R_CA.sum(axis=(-2, -1))  # nan where any part is
    finite: NDArray[np.bool_] = np.isfinite(total)
    return finite
