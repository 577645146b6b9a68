"""Nuts, bolts and straps: the small hard things that stand out of a yoke."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sqrt

import numpy as np

from geometry.facets import circle
from geometry.mesh import Floats
from geometry.solids import Solid, cylinder, hull, prism, turned

FOOT_FLATS = 8
"""Flats round the foot of a strap, which is cropped from flat stock."""


def hexagon(across_flats: float, turn: float = 0.0) -> Floats:
    """Return the corners, (6, 2) mm, of a hexagon by its width across the flats."""
    angle = turn + pi / 3.0 * np.arange(6)
    return across_flats / sqrt(3.0) * np.stack([np.cos(angle), np.sin(angle)], axis=1)


def bolt_head(
    across_flats: float, low: float, high: float, centre: Sequence[float], turn: float = 0.0
) -> Solid:
    """Return a hexagon head along x from `low` to `high`, at `centre` (y, z); all mm."""
    return prism(hexagon(across_flats, turn) + np.asarray(centre), "x", low, high, "bolt")


def strap(
    radius: float,
    thickness: float,
    width: float,
    seat: float,
    bolt: float,
    foot: float,
    middle: float,
    filled: bool = False,
) -> Solid:
    """Return a strap over the -x half of a cap that lies along y, its feet cropped about the bolts.

    radius : of the cap; seat : x where the feet rest; bolt : from the bore to a bolt; foot :
    half of a foot's width; middle : y of the middle of the strap; all mm
    filled : without the hollow, for a cap that fills it anyway
    """
    low, high = middle - 0.5 * width, middle + 0.5 * width
    outer = radius + thickness
    if filled:
        half = prism(_square((low, high), (-outer, outer)), "x", -2.0 * outer, seat, "strap")
        arch = cylinder("y", outer, low, high, "strap").common(half)
    else:
        band = [[low, radius], [high, radius], [high, outer], [low, outer]]
        arch = turned(band, "y", "strap", sweep=(-pi, 0.0))
    pieces = [arch]
    for side in (1.0, -1.0):
        inner = sorted((side * radius, side * outer))
        leg = prism(_square((low, high), inner), "x", min(seat - thickness, 0.0), seat, "strap")
        root = _square((low, high), sorted((side * radius, side * (bolt - 0.8 * foot))))
        end = circle(foot, facets=FOOT_FLATS) + np.array([middle, side * bolt])
        outline = np.concatenate([root, end])
        flats = [
            np.column_stack([np.full(len(outline), x), outline]) for x in (seat - thickness, seat)
        ]
        pieces += [leg, hull(np.concatenate(flats), "strap")]
    return Solid.union(pieces)


def _square(y: Sequence[float], z: Sequence[float]) -> Floats:
    return np.array([[y[0], z[0]], [y[1], z[0]], [y[1], z[1]], [y[0], z[1]]])
