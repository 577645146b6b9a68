"""Giving a rig file the values of another rig, without disturbing the rest of its text."""

from collections.abc import Iterator, Mapping
from typing import Any

import tomlkit

from sim.rig import Rig, RigError, parse_rig
from sim.rig.document import commented_text
from viewer.session.edits import EditError, placed


def retyped(text: str, wanted: Rig) -> str:
    """The text of a rig file changed to that of another rig; remarks and layout stay.

    Where that cannot be had by typing values, the other rig is written anew.
    """
    typed = wanted.typed()
    document = tomlkit.parse(text)
    try:
        for key, value in differences(parse_rig(text, "rig").typed(), typed):
            placed(document, key, value)
        made = tomlkit.dumps(document)
        if parse_rig(made, "rig").typed() == typed:
            return made
    except (RigError, EditError):
        pass
    return commented_text(wanted)


def differences(old: Any, new: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    """Key paths at which plain data differ, with the new value; None where there is none."""
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        # Taken away first: of some keys a file may have only one.
        for name in (name for name in old if name not in new):
            yield f"{key}.{name}".lstrip("."), None
        for name, value in new.items():
            yield from differences(old.get(name), value, f"{key}.{name}".lstrip("."))
    elif _are_tables(old) and _are_tables(new) and len(old) == len(new):
        for place, (one, other) in enumerate(zip(old, new, strict=True), start=1):
            yield from differences(one, other, f"{key}[{place}]")
    elif old != new:
        yield key, new


def _are_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(each, Mapping) for each in value)
