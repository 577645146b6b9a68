"""Writing rig files: what was typed stays as typed, remarks stay, a failed save loses nothing."""

from collections.abc import Mapping, MutableMapping
from os import PathLike
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from sim.kept.atomic import replace_file
from sim.rig.document import commented_text
from sim.rig.reading import parse_toml, read_text
from sim.rig.rig import Rig
from sim.table.problems import RigError, one_problem


def rig_text(rig: Rig, like: str | None = None) -> str:
    """TOML text of a rig.

    `like` is the text of an earlier state: its order, its remarks and whatever did not change are
    kept. Without it every key gets a remark that explains it.
    """
    if like is None:
        return commented_text(rig)
    try:
        document = tomlkit.parse(like)
    except (TOMLKitError, RecursionError):
        return commented_text(rig)
    _update(document, rig.typed())
    return tomlkit.dumps(document)


def save_rig(rig: Rig, path: str | PathLike[str], like: str | None = None) -> None:
    """Save a rig; a file that is there keeps its remarks, and is whole at every moment.

    `like` is as in `rig_text`; by default it is what stands in the file now. Raises `RigError`
    when it cannot be saved; the old file is then untouched.
    """
    save_text(rig_text(rig, _old_text(path) if like is None else like), path)


def save_text(text: str, path: str | PathLike[str]) -> None:
    """Save a text as a whole, or raise `RigError` with the old file untouched."""
    try:
        replace_file(Path(path), text.encode("utf-8"))
    except (OSError, ValueError) as fault:  # ValueError: a NUL inside a path
        why = getattr(fault, "strerror", None) or "not a path"
        raise one_problem(
            str(path), "", str(why).lower(), "a place to save to; the old file is untouched"
        ) from None


def _old_text(path: str | PathLike[str]) -> str | None:
    try:
        text = read_text(path)
        parse_toml(text, str(path))
    except RigError:
        return None
    return text


def _update(table: MutableMapping[str, Any], data: Mapping[str, Any]) -> None:
    """Bring a parsed table in line with the data, touching only what differs."""
    for key in [key for key in table if key not in data]:
        del table[key]
    for key, value in data.items():
        old = table.get(key)
        if isinstance(value, Mapping) and isinstance(old, MutableMapping):
            _update(old, value)
        elif _many(value) and isinstance(old, list) and len(old) == len(value):
            for entry, new in zip(old, value, strict=True):
                _update(entry, new)
        elif old is None or not _same(old, value):
            table[key] = value


def _many(value: Any) -> bool:
    """Whether a value is an array of tables."""
    return isinstance(value, list) and bool(value) and isinstance(value[0], Mapping)


def _same(old: Any, value: Any) -> bool:
    """Whether the file says a value already; a choice may be a table with nothing but a name."""
    plain = old.unwrap() if hasattr(old, "unwrap") else old
    if isinstance(plain, dict) and list(plain) in (["kind"], ["size"]):
        return bool(next(iter(plain.values())) == value)
    return bool(plain == value)
