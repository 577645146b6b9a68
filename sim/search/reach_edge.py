"""How far suspension and shaft reach on the way from ride height to a pose.

A pose out of reach stands for the last one on the way to it: a search of the whole region then
runs along the edge of the reach as along any other side, and what is in reach stays as it is.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.seeking import edges
from sim.frames import FloatArray
from sim.line import line
from sim.vehicle import Vehicle

HALVINGS = 50
"""Halvings of the way that close in on the reach: to rounding, since the bends of a shaft near
the end of its reach go with the root of the distance to it."""

Flags = NDArray[np.bool_]

Poses = tuple[FloatArray, FloatArray, FloatArray]
"""Travel (mm), roll and wrap (rad), of one shape."""


@dataclass(frozen=True, eq=False)
class Reached:
    """Poses as far as they are reached.

    Attributes
    ----------
    inside : the poses themselves, or the last ones in reach on the way to them.
    outside : the poses themselves, or the first ones out of reach.
    short : (...) which poses are out of reach.
    """

    inside: Poses
    outside: Poses
    short: Flags


def reached(vehicle: Vehicle, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> Reached:
    """Go from ride height toward each pose as far as there is a way.

    The way is straight in travel, sine of the roll, and wrap, and so within the axle's stops all
    along.
    """
    t, r, w = (each.copy() for each in np.broadcast_arrays(travel, roll, wrap))
    short = ~line(vehicle, t, r, w).reachable
    t, s, w = t[short], np.sin(r[short]), w[short]

    def there(share: FloatArray) -> Flags:
        return line(vehicle, share * t, np.arcsin(share * s), share * w).reachable

    low, high = edges(there, np.zeros(t.shape), np.ones(t.shape), halvings=HALVINGS)

    def gone(share: FloatArray) -> Poses:
        a, b, c = (each.copy() for each in np.broadcast_arrays(travel, roll, wrap))
        a[short], b[short], c[short] = share * t, np.arcsin(share * s), share * w
        return a, b, c

    return Reached(gone(low), gone(high), short)
