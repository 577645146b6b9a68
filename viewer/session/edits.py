"""Typing a value into the text of a rig file without disturbing the rest of it."""

from collections.abc import Mapping
from typing import Any

from tomlkit import TOMLDocument, inline_table, item
from tomlkit.items import Array, InlineTable

from geometry.errors import BindpointError
from sim.rig import Rig
from sim.rig.change import key_path
from sim.rig.structure import Path, part_for


class EditError(BindpointError, ValueError):
    """A place in a rig file that is not there."""


def value_at(data: Any, key: str) -> Any:
    """What stands at a key path in plain data; None where nothing does."""
    here = data
    for step in _path(key):
        if isinstance(here, Mapping) and isinstance(step, str):
            here = here.get(step)
        elif isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
            here = here[step]
        else:
            return None
    return here


def placed(text: TOMLDocument, key: str, value: Any) -> None:
    """Put a value at a key path, in place; None takes the key away.

    Tables on the way are made where they are missing; the place after the last of a list is where
    one is added. Giving one key of a set of which the file may have only one takes the others away.
    """
    path = _path(key)
    *way, last = path
    here: Any = text
    part: Any = Rig
    for step, following in zip(way, path[1:], strict=True):
        inner = _step(here, step, following, key)
        if isinstance(step, str) and part is not None:
            part = _part_below(part, step, inner)
        here = inner
    if isinstance(here, Mapping) and isinstance(last, str):
        _put(here, part, last, value)
    elif isinstance(here, list) and isinstance(last, int) and 0 <= last <= len(here):
        _put_in_list(here, last, value, key)
    else:
        raise EditError(f"{key}: came a place that is not there, expected one of the rig file's")


def _put(table: Any, part: Any, last: str, value: Any) -> None:
    for rule in part.one_of if part is not None else ():
        if last in rule.keys:
            for other in rule.keys:
                if other != last:
                    table.pop(other, None)
    if value is None:
        table.pop(last, None)
    else:
        table[last] = _item(value, table)


def _put_in_list(here: Any, place: int, value: Any, key: str) -> None:
    if value is None:
        if place == len(here):
            raise EditError(f"{key}: came an entry that is not there, expected one that is")
        del here[place]
    elif place < len(here):
        here[place] = _item(value, here)
    else:
        here.append(_item(value, here))


def _item(value: Any, holder: Any) -> Any:
    """A value for the file; what goes into a table on one line stays on it."""
    if isinstance(holder, InlineTable | Array) and isinstance(value, Mapping):
        table = inline_table()
        table.update(value)
        return table
    return item(value)


def _step(here: Any, step: str | int, following: str | int, key: str) -> Any:
    if isinstance(here, Mapping) and isinstance(step, str):
        if step not in here:
            here[step] = _item([] if isinstance(following, int) else {}, here)  # type: ignore[index]
        return here[step]
    if isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
        return here[step]
    raise EditError(f"{key}: came a place that is not there, expected one of the rig file's")


def _part_below(part: Any, step: str, inner: Any) -> Any:
    for name, field in part.model_fields.items():
        if (field.alias or name) == step:
            return part_for(field.annotation, inner)
    return None


def _path(key: str) -> Path:
    path = key_path(key)
    if path is None:
        raise EditError(f'{key}: came no key path, expected one such as "travel.droop"')
    return path
