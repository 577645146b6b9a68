"""Smallest gaps of joints kept on disk: a rig that is checked again has the same worst bends."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from geometry.contact.gap import Gap, smallest_gap
from geometry.contact.joint_parts import ClosingJoint
from sim.kept.answers import cache_folder, entry_name, read_entry, write_entry

MOST_ENTRIES = 1000
"""About 1 MB."""


def cached_gap(
    parts: str,
    bend: float,
    closing: Callable[[], ClosingJoint],
    folder: Path | None = None,
) -> Gap:
    """Return the smallest gap over a turn at a bend (rad), from the cache or found anew and kept.

    parts : all that the parts of the joint are built from.
    closing : gives the joint made ready for queries, asked only when there is no entry.
    folder : where entries are kept; `gaps` below `cache_folder()` when left out.

    A cache that cannot be read or written costs time, never the answer.
    Raises ShapeError when the parts overlap already at bend 0.
    """
    name = entry_name(parts=parts, bend=float(bend).hex())
    place = (folder or cache_folder() / "gaps") / name
    gap = _gap(read_entry(place))
    if gap is None:
        gap = smallest_gap(closing(), bend)
        with suppress(OSError):
            write_entry(place, _data(gap), MOST_ENTRIES)
    return gap


def _data(gap: Gap) -> dict[str, Any]:
    plain = {"distance": float(gap.distance), "overlaps": bool(gap.overlaps)}
    return asdict(gap) | plain | {"points": gap.points.tolist()}


def _gap(data: Any) -> Gap | None:
    try:
        points = np.array(data["points"], dtype=np.float64)
        points.flags.writeable = False
        names = {name: (data[name][0], data[name][1]) for name in ("bodies", "surfaces")}
        return Gap(**(data | names | {"points": points}))
    except (ValueError, KeyError, TypeError, IndexError):
        return None
