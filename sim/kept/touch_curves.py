"""Touch curves kept on disk, so that a pair of yokes is asked once and for all."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.touch import Contact, TouchCurve, touch_curve
from geometry.yoke import Yoke
from sim.kept.answers import cache_folder, entry_name, read_entry, write_entry

MOST_ENTRIES = 1000
"""About 30 MB; the entries longest unused are dropped beyond that."""


def cached_touch(
    parts: str,
    closing: Callable[[], ClosingJoint],
    folder: Path | None = None,
    gap: float = 0.0,
) -> TouchCurve:
    """Return the touch curve of a joint, from the cache or found anew and kept.

    parts : all that the parts of the joint are built from.
    closing : gives the joint made ready for queries of that gap, asked only when there is no entry.
    gap : mm, how near counts as touching.
    folder : where entries are kept; `cache_folder()` when left out.

    A cache that cannot be read or written costs time, never the answer.

    Raises
    ------
    ShapeError
        When the parts overlap already at bend 0.
    """
    name = entry_name(parts=parts, gap=float(gap).hex())
    place = (folder or cache_folder()) / name
    curve = _read(place)
    if curve is None:
        curve = touch_curve(closing())
        with suppress(OSError):
            write_entry(place, _data(curve), MOST_ENTRIES)
    return curve


def pair_key(driving: object, driven: object, cross: object) -> str:
    """All that the parts of a joint are built from: equal keys, equal parts.

    Each is what a part is built from, or the yoke itself where that came from a mesh file.
    """
    return f"{_told(driving)} {_told(driven)} {cross!r}"


def _told(source: object) -> str:
    return source.contact.key() if isinstance(source, Yoke) else repr(source)


def _read(place: Path) -> TouchCurve | None:
    try:
        data = read_entry(place)
        return None if data is None else _curve(data)
    except (ValueError, KeyError, TypeError):
        return None


def _data(curve: TouchCurve) -> dict[str, Any]:
    data = asdict(curve)
    for name in ("spin", "touch", "clear", "course"):
        data[name] = data[name].tolist()
    for contact in (data["first"], *data["contacts"]):
        if contact is not None:
            contact["points"] = contact["points"].tolist()
    return data


def _curve(data: dict[str, Any]) -> TouchCurve:
    arrays = {name: _array(data[name]) for name in ("spin", "touch", "clear", "course")}
    contacts = tuple(_contact(contact) for contact in data["contacts"])
    first = _contact(data["first"])
    return TouchCurve(**(data | arrays | {"contacts": contacts, "first": first}))


def _contact(data: dict[str, Any] | None) -> Contact | None:
    if data is None:
        return None
    names = {name: (data[name][0], data[name][1]) for name in ("bodies", "surfaces")}
    return Contact(**(data | names | {"points": _array(data["points"])}))


def _array(values: list[Any]) -> np.ndarray[Any, np.dtype[np.float64]]:
    array = np.array(values, dtype=np.float64)
    array.flags.writeable = False
    return array
