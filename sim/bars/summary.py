"""From draws to chances and bands."""

from __future__ import annotations

from math import degrees
from typing import Final, Literal

import numpy as np

from sim.accuracy.sources import left_out
from sim.bars.drawn import Key
from sim.bars.model import Model
from sim.bars.result import Band, Bars, FindingBars, How, PoseBand
from sim.bars.sample import Sample
from sim.frames import FloatArray

LOW, HIGH = 0.025, 0.975
"""Shares of the draws that lie below the ends of a band."""

FEWEST: Final = 20
"""Draws that a band needs: with fewer nobody can tell its ends."""

IN_DEG: Final = frozenset({"joint-bend", "turns-at-ride"})
"""Findings whose margins are angles; of the others they are lengths."""


def summary(model: Model, sample: Sample, how: How, seed: int) -> Bars:
    """Chances and bands of a sample."""
    looked = sample.looked
    keys = tuple(looked.left)
    chance, off = sample.chance(keys)
    heights = np.stack(list(looked.first.values()), axis=1)
    return Bars(
        how=how,
        seed=seed,
        draws=len(looked.possible),
        impossible=int(np.count_nonzero(~looked.possible)),
        chance=chance,
        chance_off=off,
        findings=tuple(_finding(model, sample, key) for key in keys),
        first=_band(_nearest(heights), "mm"),
        keys=model.keys,
        left_out=left_out(model.found.rig),
        forecast_off=tuple((*key, _in_unit(key, off)) for key, off in sample.forecast_off.items()),
        unshaped=tuple(joint for joint in model.found.joints if joint not in model.shapes),
    )


def _finding(model: Model, sample: Sample, key: Key) -> FindingBars:
    code, subject = key
    unit, is_reach = _unit(code), code == "out-of-reach"
    wants = model.found.rig.wanted
    wanted = {"joint-gap": wants.gap.mm, "surroundings": wants.clearance.mm}.get(code, 0.0)
    chance, off = sample.chance((key,))
    looked = sample.looked
    return FindingBars(
        code=code,
        subject=subject,
        chance=chance,
        chance_off=off,
        band=None if is_reach else _of_all(sample, sample.left(key) - wanted, unit),
        worst=None if is_reach else _of_all(sample, sample.worst(key), unit),
        first=_band(looked.first[key], "mm"),
        level=_band(looked.level[key], "mm"),
        at=_pose(looked.at[key]),
    )


def _of_all(sample: Sample, values: FloatArray, unit: Literal["deg", "mm"]) -> Band | None:
    """Band of numbers in mm or rad of every draw; None where none is possible."""
    if not np.isfinite(values[sample.weights != 0.0]).any():
        return None
    low, high = sample.quantiles(values, (LOW, HIGH))
    return _told(low, high, unit)


def _band(values: FloatArray, unit: Literal["deg", "mm"]) -> Band | None:
    """Band of numbers in mm or rad of draws that weigh the same; None where there are too few."""
    known = values[np.isfinite(values)]
    if len(known) < FEWEST:
        return None
    low, high = (float(each) for each in np.quantile(known, (LOW, HIGH)))
    return _told(low, high, unit)


def _in_unit(key: Key, value: float) -> float:
    return degrees(value) if _unit(key[0]) == "deg" else value


def _told(low: float, high: float, unit: Literal["deg", "mm"]) -> Band:
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
