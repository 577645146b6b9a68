"""Giving a rig file the values of another rig, without disturbing the rest of its text."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.items import Array, InlineTable, Item, Table

from sim.rig import Rig, RigError, parse_rig
from sim.rig.change import EditError, key_path
from sim.rig.document import rig_text
from sim.rig.validation import OPPOSITE
from viewer.session.text.edits import typed_into

_MARK = "the key beside this has another name from here on"
"""A value that stands for a moment where a key is to be renamed; no rig file has it."""


def retyped(text: str, wanted: Rig, by: Mapping[str, Sequence[str]] | None = None) -> str:
    """The text of a rig file changed to that of another rig; remarks, order and layout stay.

    by : who changed the key paths that are typed anew, to be remarked at the end of their lines,
    after what stands there, with what was typed before.
    Where it cannot be had by typing values, the other rig is written anew.
    """
    typed = wanted.typed()
    try:
        changes = dict(differences(parse_rig(text, "rig").typed(), typed))
        document, renamed = _renamed(text, changes)
        for key, value in changes.items():
            if key not in renamed:
                typed_into(document, key, value)
        if by is not None:
            _remark(document, tomlkit.parse(text), by, renamed)
        made = tomlkit.dumps(document)
        if parse_rig(made, "rig").typed() == typed:
            return made
    except (RigError, EditError):
        pass
    return rig_text(wanted)


def differences(old: Any, new: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    """Key paths at which plain data differ, with the new value; None where there is none."""
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        # Taken away first: of some keys a file may have only one.
        for name in (name for name in old if name not in new):
            yield f"{key}.{name}".lstrip("."), None
        for name, value in new.items():
            yield from differences(old.get(name), value, f"{key}.{name}".lstrip("."))
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for place, (one, other) in enumerate(zip(old, new, strict=True), start=1):
            yield from differences(one, other, f"{key}[{place}]")
    elif old != new:
        yield key, new


def _renamed(text: str, changes: Mapping[str, Any]) -> tuple[TOMLDocument, Mapping[str, str]]:
    """The text parsed, each key that gives way to its opposite renamed where it stands.

    With every key that needs no typing any more, and what stood in its place.
    """
    document = tomlkit.parse(text)
    renamed: dict[str, str] = {}
    for key, value in changes.items():
        *way, last = key.rsplit(".", maxsplit=1)
        opposite = ".".join((*way, OPPOSITE.get(last, "")))
        if value is not None or changes.get(opposite) is None:
            continue
        typed_into(document, key, _MARK)
        line = re.compile(rf'\b{last}(\s*=\s*)"{re.escape(_MARK)}"')
        new = opposite.rsplit(".", maxsplit=1)[-1]
        said = line.sub(rf'{new}\g<1>"{_MARK}"', document.as_string())
        document = tomlkit.parse(said)
        typed_into(document, opposite, changes[opposite])
        renamed |= {key: key, opposite: key}
    return document, renamed


def _remark(
    document: TOMLDocument,
    before: TOMLDocument,
    by: Mapping[str, Sequence[str]],
    renamed: Mapping[str, str],
) -> None:
    """Remark on every line with a new value who changed it, and what stood there."""
    lines: dict[str, tuple[Item, list[str], str]] = {}
    for key, names in by.items():
        line, item = _line(document, key)
        if item is None:
            continue
        _, said, _ = lines.setdefault(line, (item, [], renamed.get(key, "")))
        said += [name for name in names if name not in said]
    for line, (item, said, other) in lines.items():
        here, was = _line(before, other or line)
        words = f"cure: {' and '.join(said)}"
        if was is not None and here == (other or line) and not isinstance(was, Table):
            value = was if isinstance(was, str) else was.as_string().strip()
            words += f", was {value}" if not other else f", was {other.split('.')[-1]} {value}"
        stood, apart = item.trivia.comment.lstrip("# "), item.trivia.comment_ws
        item.comment(f"{stood}; {words}" if stood else words)
        item.trivia.comment_ws = apart or "  "


def _line(document: TOMLDocument, key: str) -> tuple[str, Item | None]:
    """Key path and item of the line that a key path is typed on."""
    here: Any = document
    path, line = "", None
    for step in key_path(key) or ():
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            break
        path = f"{path}[{step + 1}]" if isinstance(step, int) else f"{path}.{step}".lstrip(".")
        line = here if isinstance(here, Item) else line
        if isinstance(here, InlineTable | Array):
            break
    return path, line
