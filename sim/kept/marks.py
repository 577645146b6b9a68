"""Marks of joints kept on disk: where two yokes meet up to a bend is found once and for all."""

from base64 import b64decode, b64encode
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from geometry.contact.patches import Patch
from geometry.contact.pressed import Pressed
from geometry.contact.skin import Skin
from sim.kept.answers import cache_folder, entry_name, read_entry, write_entry

MOST_ENTRIES = 40
"""About 40 MB."""


@dataclass(frozen=True, eq=False)
class Met:
    """What the bodies of a joint do to each other up to a bend.

    stops : rad, the bend that the shallow marks are for
    shallow, forced : the patches at either cross, of a single joint at the one it has
    """

    stops: float
    shallow: tuple[tuple[Patch, ...], ...]
    forced: tuple[tuple[Patch, ...], ...]


def cached_met(
    asked: Mapping[str, Any], make: Callable[[], Met], folder: Path | None = None
) -> Met:
    """Return the marks of a joint, from the cache or found anew and kept.

    asked : all that they follow from, as can be told in JSON.
    make : finds them, asked only when there is no entry.
    folder : where entries are kept; `marks` below `cache_folder()` when left out.

    A cache that cannot be read or written costs time, never the answer.
    """
    place = (folder or cache_folder() / "marks") / entry_name(**asked)
    met = _met(read_entry(place))
    if met is None:
        met = make()
        with suppress(OSError):
            write_entry(place, _data(met), MOST_ENTRIES)
    return met


def _data(met: Met) -> dict[str, Any]:
    return {"stops": met.stops} | {
        name: [[_patch_data(patch) for patch in patches] for patches in getattr(met, name)]
        for name in ("shallow", "forced")
    }


def _met(data: Any) -> Met | None:
    """The marks of an entry; None where it is not whole."""
    try:
        found = (
            tuple(tuple(map(_patch, patches)) for patches in data[name])
            for name in ("shallow", "forced")
        )
        return Met(float(data["stops"]), *found)
    except (ValueError, KeyError, TypeError, IndexError, AttributeError):
        return None


def _patch_data(patch: Patch) -> dict[str, Any]:
    plain = ("surface", "against", "clock", "pair", "spins")
    told = {name: getattr(patch, name) for name in plain}
    return told | {"wide": _pressed_data(patch.wide)}


def _patch(data: Mapping[str, Any]) -> Patch:
    wide = _pressed(data["wide"])
    spins = tuple((float(low), float(high)) for low, high in data["spins"])
    # What hangs together has no point of another patch around it.
    pressed = wide.only(wide.met)
    told = data["surface"], data["against"], data["clock"], data["pair"]
    return Patch(pressed, wide, *told, spins)


_SKIN = {"points": "<f8", "normals": "<f8", "areas": "<f8", "labels": "<i2", "faces": "<i4"}
_POSES = {"depth": "<f8", "bend": "<f8", "spin": "<f8", "first": "<f8"}


def _pressed_data(found: Pressed) -> dict[str, Any]:
    arrays = {name: _told(getattr(found.skin, name), kind) for name, kind in _SKIN.items()}
    arrays |= {name: _told(getattr(found, name), kind) for name, kind in _POSES.items()}
    return arrays | {"names": found.skin.names, "body": found.body, "into": found.into}


def _pressed(data: Mapping[str, Any]) -> Pressed:
    skin = {name: _array(data[name], kind) for name, kind in _SKIN.items()}
    triples = {name: skin[name].reshape(-1, 3) for name in ("points", "normals", "faces")}
    poses = {name: _array(data[name], kind) for name, kind in _POSES.items()}
    return Pressed(
        data["body"], data["into"], Skin(**(skin | triples), names=tuple(data["names"])), **poses
    )


def _told(array: np.ndarray[Any, Any], kind: str) -> str:
    return b64encode(np.ascontiguousarray(array, dtype=kind).tobytes()).decode()


def _array(text: str, kind: str) -> np.ndarray[Any, Any]:
    return np.frombuffer(b64decode(text), kind)
