"""Fitted joints kept on disk, so that a joint is fitted once for what was read on it.

An entry is named by the joint's yokes with all that may be off, by what every reading says as
numbers, whichever way it was typed, and by the code. The yokes are built anew from their draw, and
their curve is kept where all are.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from typing import Any

import numpy as np

from sim.bench.fitted import (
    Contradiction,
    FittedDimension,
    FittedJoint,
    NextReading,
    Turned,
)
from sim.bench.free import Doubt
from sim.bench.readings import Told
from sim.kept.answers import TOUCH, cache_folder, entry_name, read_entry, write_entry
from sim.kept.by_one import by_one
from sim.kept.touch_curves import cached_touch

MOST_ENTRIES = 200
"""About 40 MB."""

CODE = (*TOUCH, "sim.bench")
"""Packages that decide what comes out."""


def kept_fit(doubt: Doubt, read: tuple[Told, ...], make: Callable[[], FittedJoint]) -> FittedJoint:
    """Give the fit of a joint, as kept or made.

    A cache that cannot be read or written costs time, never the answer.
    """
    asked = [_says(each) for each in read]
    place = cache_folder() / "fits" / entry_name(CODE, doubt=doubt.key, read=asked)
    found = _read(doubt, read, read_entry(place))
    if found is not None:
        return found
    with by_one(place):
        found = _read(doubt, read, read_entry(place))
        if found is None:
            found = make()
            with suppress(OSError):
                write_entry(place, _data(found), MOST_ENTRIES)
        return found


def _says(each: Told) -> list[Any]:
    """What a reading says of the joint, to some billionths of a degree."""
    ears = None if each.turned.ears is None else round(each.turned.ears, 9)
    held = None if ears is None else each.driving
    return [ears, held, round(each.read, 9), round(each.off, 9), each.way == "clear"]


def _data(found: FittedJoint) -> dict[str, Any]:
    return {
        "z": found.z.tolist(),
        "draws": [found.draws.shape[1], found.draws.ravel().tolist()],
        "touches": found.touches.tolist(),
        "bands": [found.low.tolist(), found.high.tolist(), found.lowest, found.before],
        "readings": [[each.fits, each.without, each.counts] for each in found.readings],
        "dimensions": [[each.value, each.low, each.high] for each in found.dimensions],
        "contradictions": [asdict(each) for each in found.contradictions],
        "next": [asdict(each) for each in found.next],
        "forecast": [found.forecast_off, found.replaced],
    }


def _read(doubt: Doubt, read: tuple[Told, ...], data: Any) -> FittedJoint | None:
    """The fit of an entry; None where it is not whole."""
    try:
        z = np.array(data["z"], dtype=np.float64)
        columns, draws = data["draws"]
        low, high, lowest, before = data["bands"]
        pair = doubt.pair_at(z)[0]
        return FittedJoint(
            joint=doubt.joint,
            pair=pair,
            z=z,
            draws=np.array(draws, dtype=np.float64).reshape(-1, columns),
            touches=np.array(data["touches"], dtype=np.float64),
            readings=tuple(
                each.against(fits, (without[0], without[1]), counts)
                for each, (fits, without, counts) in zip(read, data["readings"], strict=True)
            ),
            dimensions=tuple(
                FittedDimension(free, *numbers)
                for free, numbers in zip(doubt.free, data["dimensions"], strict=True)
            ),
            curve=cached_touch(pair.key, pair.closing),
            low=np.array(low, dtype=np.float64),
            high=np.array(high, dtype=np.float64),
            lowest=(lowest[0], lowest[1]),
            before=(before[0], before[1]),
            contradictions=tuple(_fight(each) for each in data["contradictions"]),
            next=tuple(NextReading(**_turned(each)) for each in data["next"]),
            forecast_off=data["forecast"][0],
            replaced=data["forecast"][1],
        )
    except (ValueError, KeyError, TypeError, IndexError):
        return None


def _turned(data: dict[str, Any]) -> dict[str, Any]:
    return data | {"turned": Turned(**data["turned"])}


def _fight(data: dict[str, Any]) -> Contradiction:
    lists = {name: tuple(data[name]) for name in ("numbers", "nearest")}
    return Contradiction(**data | lists)
