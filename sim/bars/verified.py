"""A few of the draws, swept whole: what looks at them miss."""

from __future__ import annotations

from math import isfinite
from typing import Final

import numpy as np

from sim.bars.drawn import Drawn, Key
from sim.bars.look import VALUE
from sim.bars.model import Model
from sim.frames import FloatArray

SWEPT: Final = 16
"""Draws that are swept whole."""


def to_sweep(drawn: Drawn) -> list[int]:
    """The draws that come nearest to touching or running out, by shares of what they spread.

    drawn : the draws by slopes, which tell it well enough.
    """
    near = np.full(len(drawn.possible), np.inf)
    for left in drawn.left.values():
        spread = float(np.nanstd(left)) if drawn.possible.any() else 0.0
        if spread > 0.0:
            near = np.fmin(near, np.abs(left) / spread)
    order = np.argsort(np.where(drawn.possible, near, np.inf), kind="stable")[:SWEPT]
    return [int(each) for each in order if drawn.possible[each]]


def put_right(moved: FloatArray, numbers: list[int], swept: FloatArray) -> FloatArray:
    """Draws (n, looked at, `NUMBERS`) with the values of those that were swept whole.

    numbers : of those. swept : (m, looked at) values, nan where a sweep tells none.
    """
    right = moved.copy()
    looked = right[numbers, :, VALUE]
    right[numbers, :, VALUE] = np.where(np.isnan(swept) | np.isnan(looked), looked, swept)
    return right


def forecast_off(model: Model, drawn: Drawn, right: Drawn) -> dict[Key, float]:
    """How far off (mm or rad) what is left may be, by what looks missed and by the shapes.

    No draw that was swept was farther off; and of 100 shapes 95 are not.
    """
    off: dict[Key, float] = {}
    for key, left in drawn.left.items():
        away = np.abs(right.left[key] - left)
        off[key] = float(np.nanmax(away, initial=0.0))
        for joint, shape in model.shapes.items():
            if key == ("joint-bend", joint) and isfinite(shape.forecast_off):
                off[key] += shape.forecast_off
    return off
