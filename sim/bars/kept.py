"""Full error bars kept on disk by all that they follow from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict
from math import isfinite
from pathlib import Path
from typing import Any, Final

from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars.result import Again, Band, Bars, FindingBars, Outcome, PoseBand
from sim.bench.shape import Shape
from sim.kept.answers import WHOLE, cache_folder, entry_name, read_entry, write_entry
from sim.vehicle import Joint

MOST_ENTRIES: Final = 400
"""About 4 MB."""


def place_of(
    found: Assessment,
    seed: int,
    draws: int,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    folder: Path | None = None,
) -> Path:
    """Where full bars are kept: named by rig, seed and draws, so that nothing is built to look.

    What a rig has from files of its own, such as a scan, is told by what its check came to.

    sources, shapes : what may be off, where that is not what the rig says.
    """
    name = entry_name(
        WHOLE,
        rig=found.rig.typed(),
        came_to=[
            [joint, *(float(each).hex() for each in (one.clear, one.most, one.room.clear_to))]
            for joint, one in found.joints.items()
        ],
        near=[[gap.name, float(gap.certified_mm).hex()] for gap in found.near],
        sources=sources
        and sorted([each.key, each.value.hex(), each.off.hex()] for each in sources),
        shapes=shapes
        and [
            [joint, [[free.key, free.value.hex(), free.off.hex()] for free in shape.free]]
            for joint, shape in sorted(shapes.items())
        ],
        seed=seed,
        draws=draws,
    )
    return (folder or cache_folder() / "bars") / name


def read_bars(place: Path) -> Bars | None:
    """The bars kept in a place; None where there are none, or none that are whole."""
    try:
        data = read_entry(place)
        return None if data is None else _bars(data)
    except (ValueError, KeyError, TypeError):
        return None


def write_bars(place: Path, told: Bars) -> None:
    """Keep bars; a cache that cannot be written costs time, never the answer."""
    with suppress(OSError):
        write_entry(place, asdict(told), MOST_ENTRIES)


def _bars(data: dict[str, Any]) -> Bars:
    lists = ("keys", "left_out", "unshaped")
    told = data | {name: tuple(data[name]) for name in lists}
    off = tuple((code, subject, float(value)) for code, subject, value in data["forecast_off"])
    findings = tuple(_finding(each) for each in data["findings"])
    again = tuple(_again(each) for each in data["again"])
    if not isfinite(told["chance"]):
        raise ValueError("no chance")
    told |= {"findings": findings, "first": _band(data["first"]), "forecast_off": off}
    return Bars(**(told | {"again": again}))


def _finding(data: dict[str, Any]) -> FindingBars:
    bands = {name: _band(data[name]) for name in ("band", "worst", "first", "level")}
    at = data["at"]
    pose = None if at is None else PoseBand(**{way: Band(**each) for way, each in at.items()})
    return FindingBars(**(data | bands | {"at": pose}))


def _again(data: dict[str, Any]) -> Again:
    return Again(**(data | {end: Outcome(**data[end]) for end in ("low", "high")}))


def _band(data: dict[str, Any] | None) -> Band | None:
    return None if data is None else Band(**data)
