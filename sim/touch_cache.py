"""Touch curves kept on disk, so that a pair of yokes is asked once and for all.

An entry is named by the content of the meshes, so a changed dimension is a new entry and nothing
ever goes stale. Entries are written to a file beside and then put in place in one step: two
programs at once can only overwrite one good entry by an equal one. An entry that cannot be read
back whole is computed again.
"""

import json
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from hashlib import sha256
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

import numpy as np
from platformdirs import user_cache_path

from geometry.joint_parts import ClosingJoint, JointParts
from geometry.tolerances import TOL
from geometry.touch import SPINS, Contact, TouchCurve, touch_curve

FORMAT = 3
"""Raised whenever the curve's search or layout changes, so that old entries are left alone."""

FOLDER_VARIABLE = "BINDPOINT_CACHE"
"""Environment variable naming another folder for the cache."""

MOST_ENTRIES = 500
"""About 20 MB; the entries longest unused are dropped beyond that."""


def cache_folder() -> Path:
    """Where touch curves are kept."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else user_cache_path("bindpoint") / "touch"


def cached_touch(
    parts: JointParts,
    closing: Callable[[], ClosingJoint] | None = None,
    folder: Path | None = None,
) -> TouchCurve:
    """Return the touch curve of a joint, from the cache or found anew and kept.

    parts : the meshes, which name the entry.
    closing : gives the joint made ready for queries, asked only when there is no entry.
    folder : where entries are kept; `cache_folder()` when left out.

    A cache that cannot be read or written costs time, never the answer.

    Raises
    ------
    ShapeError
        When the parts overlap already at bend 0.
    """
    place = (folder or cache_folder()) / f"{_key(parts)}.json"
    curve = _read(place)
    if curve is None:
        curve = touch_curve(closing() if closing else ClosingJoint(parts))
        with suppress(OSError):
            _write(place, curve)
    return curve


def is_cached(parts: JointParts, folder: Path | None = None) -> bool:
    """Whether the curve of this joint can be had without computing it."""
    return _read((folder or cache_folder()) / f"{_key(parts)}.json") is not None


def _key(parts: JointParts) -> str:
    """Name of an entry: the meshes, and what the search was told."""
    recipe = json.dumps({"format": FORMAT, "spins": SPINS, "tolerances": asdict(TOL)})
    return sha256(f"{parts.key()} {recipe}".encode()).hexdigest()


def _read(place: Path) -> TouchCurve | None:
    try:
        head, body = place.read_text("utf-8").split("\n", 1)
        if head != sha256(body.encode()).hexdigest():
            return None
        curve = _curve(json.loads(body))
    except (OSError, ValueError, KeyError, TypeError):
        return None
    with suppress(OSError):
        place.touch()
    return curve


def _write(place: Path, curve: TouchCurve) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    body = json.dumps(_data(curve))
    text = f"{sha256(body.encode()).hexdigest()}\n{body}"
    with NamedTemporaryFile("w", dir=place.parent, delete=False, encoding="utf-8") as file:
        beside = Path(file.name)
        file.write(text)
    try:
        beside.replace(place)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
    entries = sorted(place.parent.glob("*.json"), key=lambda entry: entry.stat().st_mtime)
    for old in entries[:-MOST_ENTRIES]:
        old.unlink(missing_ok=True)


def _data(curve: TouchCurve) -> dict[str, Any]:
    data = asdict(curve)
    for name in ("spin", "touch", "clear"):
        data[name] = data[name].tolist()
    for contact in (data["first"], *data["contacts"]):
        if contact is not None:
            contact["points"] = contact["points"].tolist()
    return data


def _curve(data: dict[str, Any]) -> TouchCurve:
    arrays = {name: _array(data[name]) for name in ("spin", "touch", "clear")}
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
