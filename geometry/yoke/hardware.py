"""Nuts, bolts and straps: the small hard things that stand out of a yoke."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sqrt

import numpy as np

from geometry.mesh import Floats
from geometry.solids import Solid, cylinder, prism, turned


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
    radius: float, thickness: float, width: float, seat: float, half_length: float, middle: float
) -> Solid:
    """Return a strap over the -x half of a cap that lies along y.

    radius : of the cap; seat : x where its feet rest; half_length : from the bore to the end of
    a foot; middle : y of the middle of the strap; all mm
    """
    low, high = middle - 0.5 * width, middle + 0.5 * width
    outer = radius + thickness
    band = [[low, radius], [high, radius], [high, outer], [low, outer]]
    arch = turned(band, "y", "strap", sweep=(-pi, 0.0))
    feet = [
        _box((seat - thickness, seat), (low, high), ends)
        for ends in ((radius, half_length), (-half_length, -radius))
    ]
    legs = [
        _box((min(seat - thickness, 0.0), seat), (low, high), ends)
        for ends in ((radius, outer), (-outer, -radius))
    ]
    return Solid.union([arch, *feet, *legs])


def filled_strap(
    radius: float, thickness: float, width: float, seat: float, half_length: float, middle: float
) -> Solid:
    """Return the same strap without its hollow, for a cap that fills it anyway."""
    low, high = middle - 0.5 * width, middle + 0.5 * width
    arch = cylinder("y", radius + thickness, low, high, "strap")
    half = _box((-2.0 * radius, seat), (low, high), (-2.0 * radius, 2.0 * radius))
    foot = _box((seat - thickness, seat), (low, high), (-half_length, half_length))
    return Solid.union([arch.common(half), foot])


def _box(x: Sequence[float], y: Sequence[float], z: Sequence[float]) -> Solid:
    outline = [[y[0], z[0]], [y[1], z[0]], [y[1], z[1]], [y[0], z[1]]]
    return prism(outline, "x", x[0], x[1], "strap")
