"""The region of the axle's poses, cut into pieces that a search can follow.

The limits of roll and wrap have kinks at a few heights. Between those, travel, share of the roll
and share of the wrap are smooth coordinates that make each piece a unit cube.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sim.frames import FloatArray
from sim.tolerances import TOL
from sim.travel.region import TravelRegion


@dataclass(frozen=True)
class Piece:
    """A piece of a region between two travels (mm), as an image of the unit cube.

    The image is smooth, and each side of the cube goes to a side of the piece, so that a search
    that keeps to the cube keeps to the region and can follow its slanting sides.
    """

    region: TravelRegion
    bottom: float
    top: float

    @property
    def open(self) -> tuple[bool, bool, bool]:
        """Which of travel, roll and wrap vary."""
        region = self.region
        rolls = float(np.max(region.roll_limit(np.array([self.bottom, self.top])))) > 0.0
        return self.top > self.bottom, rolls, region.nose_up + region.nose_down > 0.0

    def poses(self, points: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Travel, roll and wrap at points (..., 3) of the unit cube."""
        u, v, w = (points[..., axis] for axis in range(3))
        travel = (1.0 - u) * self.bottom + u * self.top
        limit = self.region.roll_limit(travel)
        least, most = self.region.wrap_limits(travel)
        return travel, (2.0 * v - 1.0) * limit, (1.0 - w) * least + w * most


def pieces(region: TravelRegion) -> tuple[Piece, ...]:
    """Cut a region across the travel where its limits have kinks, from the bottom up."""
    kinks = region.kinks
    if kinks[-1] - kinks[0] <= TOL.same_height:
        return (Piece(region, kinks[0], kinks[-1]),)
    return tuple(Piece(region, a, b) for a, b in pairwise(kinks))
