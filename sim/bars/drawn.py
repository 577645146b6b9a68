"""What draws come to: from where the shaft runs, and where its joints touch, to what is left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sim.bars.look import FIRST, LEVEL, POSE, VALUE, Of, What
from sim.findings import Code
from sim.frames import FloatArray
from sim.vehicle import Joint

Key = tuple[Code, str]
"""Code and subject of a finding."""

Flags = NDArray[np.bool_]

LEAST = 1e-6
"""rad. Bend between touching and a gap wanted of hardly anything; keeps the numbers finite."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """What n draws come to.

    Attributes
    ----------
    left : (n,) by finding, how far from touching or running out, mm or rad; 0 and less is past it.
        Of `joint-gap` and `surroundings` that is the gap itself, and of `out-of-reach` 1 or -1.
        nan where the rig cannot be.
    worst : (n,) by finding, its worst value, mm or rad.
    at : (n, 3) by finding, the pose of that: travel mm, roll and wrap rad.
    first, level : (n,) by finding, height (mm) at which it first touches or runs out, by any roll
        and wrap, and with none; nan where it does not.
    possible : (n,) whether the rig can be.
    """

    left: Mapping[Key, FloatArray]
    worst: Mapping[Key, FloatArray]
    at: Mapping[Key, FloatArray]
    first: Mapping[Key, FloatArray]
    level: Mapping[Key, FloatArray]
    possible: Flags


@dataclass(frozen=True, eq=False)
class Limits:
    """Where a joint touches (n,), and up to which bend it leaves the gap wanted (n,), rad."""

    clear: FloatArray
    keeps: FloatArray


def judge(moved: Mapping[Of, FloatArray], limits: Mapping[Joint, Limits], gap: float) -> Drawn:
    """What is left of everything.

    moved : (n, `NUMBERS`) by what was looked at.
    gap : wanted between the metal of a joint, mm.
    """
    told: dict[Key, tuple[FloatArray, FloatArray, FloatArray]] = {}

    def has(what: What) -> bool:
        return (what, None) in moved

    for joint, limit in limits.items():
        bend = moved["bend", joint]
        left = limit.clear - bend[:, VALUE]
        told["joint-bend", joint] = left, bend[:, VALUE], bend
        if gap > 0.0:
            # Between the two certified bends the gap falls in a straight line, nearly.
            near = gap * left / np.maximum(limit.clear - limit.keeps, LEAST)
            told["joint-gap", joint] = near, near, np.where(_HEIGHTS, np.nan, bend)
    shortest, longest = moved["shortest", None], moved["longest", None]
    if has("closes"):
        closes = moved["closes", None][:, VALUE] + shortest[:, VALUE]
        told["slip-closes", "slip"] = closes, np.maximum(0.0, -shortest[:, VALUE]), shortest
    if has("opens"):
        opens = moved["opens", None][:, VALUE] - longest[:, VALUE]
        told["slip-opens", "slip"] = opens, np.maximum(0.0, longest[:, VALUE]), longest
    if has("apart"):
        apart = moved["apart", None][:, VALUE] - longest[:, VALUE]
        open_far = np.where(_HEIGHTS, np.nan, longest)
        told["slip-comes-apart", "slip"] = apart, longest[:, VALUE], open_far
    told["turns-at-ride", "axle"] = _turning(moved, limits)
    for (what, name), rows in moved.items():
        if what == "near" and name is not None:
            told["surroundings", name] = rows[:, VALUE], rows[:, VALUE], rows
    reach = moved["reach", None]
    told["out-of-reach", "axle"] = reach[:, VALUE], np.full(len(reach), np.nan), reach
    rows_of = told.items()
    return Drawn(
        left={key: left for key, (left, _, _) in rows_of},
        worst={key: worst for key, (_, worst, _) in rows_of},
        at={key: rows[:, POSE] for key, (_, _, rows) in rows_of},
        first={key: _past(left, rows[:, FIRST]) for key, (left, _, rows) in rows_of},
        level={key: _past(left, rows[:, LEVEL]) for key, (left, _, rows) in rows_of},
        possible=np.isfinite(reach[:, VALUE]),
    )


_HEIGHTS = np.array([False, False, False, False, True, True])
"""Which numbers of a row are heights."""


def _past(left: FloatArray, heights: FloatArray) -> FloatArray:
    """Heights (n,) of those draws that are past their limit: straight lines give one to all."""
    return np.where(left > 0.0, np.nan, heights)


def _turning(
    moved: Mapping[Of, FloatArray], limits: Mapping[Joint, Limits]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """What a turn at ride height leaves at the tightest joint, and its bend there."""
    rides = [moved["ride", joint] for joint in limits]
    left = np.stack(
        [each.clear - ride[:, VALUE] for each, ride in zip(limits.values(), rides, strict=True)]
    )
    tightest = left.argmin(axis=0)
    every = np.arange(left.shape[1])
    return left[tightest, every], np.stack(rides)[tightest, every, VALUE], rides[0]
