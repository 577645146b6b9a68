"""Clock positions on a yoke, as one reads them looking into the open yoke from the cross.

One looks along the yoke's own shaft, away from the cross (the x axis of the yoke frame), with the
ear on +y up. That is *ear a*, at 12 o'clock; *ear b* stands on -y, at 6. Clockwise is toward +z: 3
o'clock is on +z, since what is ahead times what is up is to the right.
"""

from math import pi

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

HOUR = pi / 6.0
"""Turn of an hour, rad."""


def clock(points: ArrayLike) -> Floats:
    """Clock position (...) in rad over [0, 2 pi) of points or directions (..., 3) of a yoke."""
    at = np.asarray(points, dtype=np.float64)
    turn = np.arctan2(at[..., 2], at[..., 1]) % (2.0 * pi)
    # A hair before 12 comes out as a whole turn, or short of it by rounding.
    return np.where(turn > 2.0 * pi - 1e-12, 0.0, turn)


def at_clock(angle: ArrayLike) -> Floats:
    """Direction (..., 3) square to the yoke's shaft at clock positions (...), rad."""
    turn = np.asarray(angle, dtype=np.float64)
    return np.stack([np.zeros(turn.shape), np.cos(turn), np.sin(turn)], axis=-1)


def apart(one: ArrayLike, other: ArrayLike) -> Floats:
    """How far two clock positions (...) are from each other, rad over [0, pi]."""
    turn = np.asarray(one, dtype=np.float64) - np.asarray(other, dtype=np.float64)
    return np.asarray(np.abs((turn + pi) % (2.0 * pi) - pi))
