"""From draws to chances and bands."""

from __future__ import annotations

from math import degrees, sqrt
from typing import Final, Literal

import numpy as np

from sim.accuracy.source import SURE
from sim.bars.drawn import Drawn, Flags, Key
from sim.bars.model import Model
from sim.bars.result import Band, Bars, FindingBars, How, PoseBand
from sim.frames import FloatArray

LOW, HIGH = 2.5, 97.5
"""Percentiles that a band runs between."""

FEWEST: Final = 20
"""Draws that a band needs: with fewer nobody can tell its ends."""

IN_DEG: Final = frozenset({"joint-bend", "turns-at-ride"})
"""Findings whose margins are angles; of the others they are lengths."""


def summary(
    model: Model, drawn: Drawn, how: How, seed: int, left_out: tuple[str, ...] = ()
) -> Bars:
    """Chances and bands of draws that all weigh the same."""
    possible = drawn.possible
    touched = np.stack([each[possible] <= 0.0 for each in drawn.left.values()], axis=1)
    chance, off = _chance(np.asarray(touched.any(axis=1)))
    heights = np.stack([each[possible] for each in drawn.first.values()], axis=1)
    return Bars(
        how=how,
        seed=seed,
        draws=len(possible),
        impossible=int(np.count_nonzero(~possible)),
        chance=chance,
        chance_off=off,
        findings=tuple(_finding(model, drawn, key) for key in drawn.left),
        first=_band(_nearest(heights), "mm"),
        keys=model.keys,
        left_out=left_out,
        unshaped=tuple(joint for joint in model.found.joints if joint not in model.shapes),
    )


def _finding(model: Model, drawn: Drawn, key: Key) -> FindingBars:
    code, subject = key
    possible, unit = drawn.possible, _unit(code)
    left, worst, at = (each[key][possible] for each in (drawn.left, drawn.worst, drawn.at))
    chance, off = _chance(left <= 0.0)
    is_reach = code == "out-of-reach"
    wanted = model.found.rig.wanted.gap.mm if code == "joint-gap" else 0.0
    return FindingBars(
        code=code,
        subject=subject,
        chance=chance,
        chance_off=off,
        band=None if is_reach else _band(left - wanted, unit),
        worst=None if is_reach else _band(worst, unit),
        first=_band(drawn.first[key][possible], "mm"),
        level=_band(drawn.level[key][possible], "mm"),
        at=_pose(at),
    )


def _chance(hits: Flags) -> tuple[float, float]:
    """Share of draws, and how far off it may be by their number.

    Half the interval of [WILSON], which is right for draws at random and too wide for those that
    are spread out evenly.
    """
    count = len(hits)
    if not count:
        return float("nan"), float("nan")
    share = float(np.count_nonzero(hits)) / count
    square = SURE * SURE / count
    return share, SURE * sqrt(share * (1.0 - share) / count + 0.25 * square / count) / (1 + square)


def _band(values: FloatArray, unit: Literal["deg", "mm"]) -> Band | None:
    """Band of numbers in mm or rad; None where there are too few."""
    known = values[np.isfinite(values)]
    if len(known) < FEWEST:
        return None
    low, high = (float(each) for each in np.percentile(known, (LOW, HIGH)))
    return Band(degrees(low), degrees(high), unit) if unit == "deg" else Band(low, high, unit)


def _pose(at: FloatArray) -> PoseBand | None:
    travel, roll, wrap = _band(at[:, 0], "mm"), _band(at[:, 1], "deg"), _band(at[:, 2], "deg")
    if travel is None or roll is None or wrap is None:
        return None
    return PoseBand(travel, roll, wrap)


def _nearest(heights: FloatArray) -> FloatArray:
    """Of several heights (n, m) that nearest to ride height, (n,); nan where there is none."""
    away = np.where(np.isnan(heights), np.inf, np.abs(heights))
    nearest = away.argmin(axis=1)
    return np.asarray(heights[np.arange(len(heights)), nearest])


def _unit(code: str) -> Literal["deg", "mm"]:
    return "deg" if code in IN_DEG else "mm"
