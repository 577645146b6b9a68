"""Giving an inspection other values without disturbing the rest of its text."""

from collections.abc import Mapping, MutableMapping
from os import PathLike
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from sim.seen.inspection import Inspection
from sim.seen.reading import inspection_text, parse_inspection
from sim.table.document import save_text
from sim.table.problems import RigError
from sim.table.reading import read_text


def retyped(text: str, wanted: Inspection) -> str:
    """The text of an inspection changed to that of another one; remarks, order and layout stay.

    Where it cannot be had by typing values, or the text is no inspection, the other one is written
    anew.
    """
    try:
        old = parse_inspection(text)
        document = tomlkit.parse(text)
        _type(document, old.typed(), wanted.typed())
        made = tomlkit.dumps(document)
        if parse_inspection(made) == wanted:
            return made
    except (RigError, TOMLKitError, TypeError):  # TypeError: tables that tomlkit cannot edit
        pass
    return inspection_text(wanted)


def save_inspection(inspection: Inspection, path: str | PathLike[str]) -> None:
    """Save an inspection as a whole; of one that is there already remarks and order stay.

    Raises `RigError` when it cannot be saved; the old file is then untouched.
    """
    save_text(retyped(_there(Path(path)), inspection), path)


def _there(path: Path) -> str:
    """The text that stands there; "" for nothing that can be read."""
    try:
        return read_text(path)
    except RigError:
        return ""


def _type(table: MutableMapping[str, Any], old: Mapping[str, Any], new: Mapping[str, Any]) -> None:
    """Put what is new into a table of a text, and take away what is gone."""
    for key in [key for key in old if key not in new]:
        del table[key]
    for key, value in new.items():
        before = old.get(key)
        if before == value:
            continue
        if isinstance(value, Mapping) and isinstance(before, Mapping):
            _type(table[key], before, value)
        else:
            table[key] = tomlkit.item(value, _sort_keys=False)
