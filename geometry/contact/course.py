"""The course of a touch curve between its samples: hardly ever over the touch, and by how little.

A straight line between two samples lies over the touch wherever the curve bends upward. So the
joint is asked half way between them whether it touches before the line says, and where it does the
touch found there becomes a corner of the line, until every half way is good to half of what is
allowed. How low a touch dips beside the turns asked no proof bounds, and the other half is for
that: tests hold all of it at every quarter of a degree.
"""

from collections.abc import Callable
from math import radians, tau

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

LEAST = radians(0.1)
"""Turn between two corners below which nothing more is asked: the curve may be as good as upright
there, where one surface gets out of the way of another."""


def course(spin: Array, touch: Array, lower: Callable[[Array, Array], Array], true: float) -> Array:
    """Corners (2, m), spin and bend in rad, of lines that lie over the touch by `true` at most.

    spin, touch : (n,) rad, by size over [0, 2 pi), and what is seen to touch there.
    lower : gives at spins (k,) the touch (k,) where it is below bends (k,), else inf; all rad.
    """
    at, bend = np.append(spin, spin[0] + tau), np.append(touch, touch[0])
    fresh = np.ones(len(at), bool)
    while fresh.any():
        asked = (fresh[:-1] | fresh[1:]) & (np.diff(at) > LEAST)
        between, line = (0.5 * (each[:-1] + each[1:])[asked] for each in (at, bend))
        found = lower(between, line - 0.5 * true)
        dips = np.isfinite(found)
        at, bend = np.append(at, between[dips]), np.append(bend, found[dips])
        order = np.argsort(at)
        fresh = order >= len(fresh)
        at, bend = at[order], bend[order]
    corners = np.stack([at[:-1], bend[:-1]])
    corners.flags.writeable = False
    return corners
