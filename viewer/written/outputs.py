"""Whether a file may be written where something is already.

An output takes the place of an older one of its own kind and of nothing else, unless it is forced.
What a file is, its beginning says; its name says nothing.
"""

import json
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sim.rig import Rig
from sim.seen.inspection import Inspection
from sim.table.structure import fields_of
from viewer.written.files import AskedError, FileError

HEAD = 1_000_000
"""Bytes that are looked at; all of whatever is read as text."""


@dataclass(frozen=True)
class Kind:
    """A kind of file that the program writes.

    called : with its article. is_own : whether a file that begins so is of this kind.
    """

    called: str
    is_own: Callable[[bytes], bool]


def _is_picture(head: bytes) -> bool:
    return head.startswith(b"\x89PNG\r\n\x1a\n")


def _is_rig(head: bytes) -> bool:
    known = rf"^\s*(\[+\s*({'|'.join(fields_of(Rig))})\b|schema\s*=)"
    return b"\0" not in head and bool(re.search(known, head.decode("utf-8", "replace"), re.M))


def _is_inspection(head: bytes) -> bool:
    said = head.decode("utf-8", "replace")
    return b"\0" not in head and bool(re.search(r"^\s*kind\s*=\s*[\"']inspection[\"']", said, re.M))


def _json(head: bytes) -> dict[str, Any]:
    try:
        data = json.loads(head)
    except (ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) else {}


_TICKET = re.compile(rb"^BUILD TICKET\b", re.M)
"""Its head line, below date and name. A rig file may speak of the ticket as well."""

PICTURE = Kind("a PNG picture", _is_picture)
CLIP = Kind("a GIF clip", lambda head: head.startswith((b"GIF87a", b"GIF89a")))
RIG = Kind("a rig file", _is_rig)
INSPECTION = Kind("an inspection", _is_inspection)
SOMEBODYS = Kind("a new name", lambda _head: False)
"""What somebody may have written by hand, such as a rig file: never replaced unasked."""
SCHEMA = Kind(
    "a JSON Schema of rig files",
    lambda head: _json(head).get("title") == Rig.model_config.get("title"),
)
INSPECTION_SCHEMA = Kind(
    "a JSON Schema of inspections",
    lambda head: _json(head).get("title") == Inspection.model_config.get("title"),
)
POSES = Kind(
    "the poses of an export", lambda head: {"X_CP", "parts", "frames"} <= _json(head).keys()
)
PART = Kind("a part of an export", lambda head: head.startswith(b"Unit mm. Part: "))
FORM = Kind(
    "a caliper form",
    lambda head: head.startswith(b"<!doctype html>") and b"<title>Measuring a " in head[:300],
)
TICKET = Kind("a build ticket", lambda head: bool(_TICKET.search(head[:1000])))


def table(columns: Sequence[str]) -> Kind:
    """A CSV table with these columns."""
    first = ",".join(columns).encode()
    return Kind("a table with the same columns", lambda head: head.split(b"\n")[0].strip() == first)


_NAMED = (INSPECTION, RIG, PICTURE, CLIP, SCHEMA, INSPECTION_SCHEMA, POSES, PART, FORM)


def objection(path: Path, kind: Kind) -> str:
    """What is at a place that a file of this kind must not replace; empty where it may be written.

    Nothing, an empty file and one of the same kind may be replaced. A folder, a device and what
    cannot be read are left to the writer, which refuses them.
    """
    try:
        if not path.is_file():
            return ""
        with path.open("rb") as stream:
            head = stream.read(HEAD)
    except (OSError, ValueError):
        return ""
    if not head.strip() or kind.is_own(head):
        return ""
    return next((each.called for each in _NAMED if each.is_own(head)), "a file of another kind")


@dataclass(frozen=True)
class Outputs:
    """The files that a command was asked to write, each by its option.

    forced : whether they may replace anything.
    """

    wanted: Sequence[tuple[str, Path | None, Kind]]
    forced: bool = False

    def demand_room(self) -> None:
        """Refuse what would replace a file of another kind, or two outputs in one file.

        Asked before anything is computed, and once more before anything is written. Raises
        FileError or AskedError.
        """
        places = [(option, path, kind) for option, path, kind in self.wanted if path is not None]
        for number, (option, path, _) in enumerate(places):
            for other, there, _ in places[:number]:
                if _same(path, there):
                    raise AskedError(
                        f"{other} and {option}: came {path} for both, expected a file of its own "
                        "for each"
                    )
        for option, path, kind in () if self.forced else places:
            demand_room(path, kind, option)


def demand_room(path: Path, kind: Kind, option: str = "") -> None:
    """Raise FileError where something else than an older file of this kind is in the place."""
    found = objection(path, kind)
    if found:
        older = "" if kind is SOMEBODYS else f"a new name or {kind.called} to be replaced"
        where = f"{option}: " if option else ""
        raise FileError(
            f"{where}came {path}, which is there already and is {found}, expected "
            f"{older or 'a new name'}; --force replaces it all the same"
        )


def _same(one: Path, other: Path) -> bool:
    try:
        return one.resolve() == other.resolve() or one.samefile(other)
    except (OSError, RuntimeError):
        return one == other
