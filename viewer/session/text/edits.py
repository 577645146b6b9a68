"""Typing a value into the text of a rig file without disturbing the rest of it."""

from collections.abc import Mapping
from typing import Any

from tomlkit import TOMLDocument, array, inline_table, item
from tomlkit.items import Array, InlineTable

from sim.rig.change import EditError, key_path, placed


def value_at(data: Any, key: str) -> Any:
    """What stands at a key path in plain data; None where nothing does."""
    path = key_path(key)
    if path is None:
        raise EditError(f'{key}: no key path, expected one such as "travel.droop"')
    here = data
    for step in path:
        if isinstance(here, Mapping) and isinstance(step, str):
            here = here.get(step)
        elif isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
            here = here[step]
        else:
            return None
    return here


def typed_into(text: TOMLDocument, key: str, value: Any) -> None:
    """Put a value at a key path of a text, in place; None takes the key away.

    The place after the last of a list is where one is added. Raises `EditError`.
    """
    placed(text, key, value, grows=True, item=_item)


def _item(value: Any, holder: Any) -> Any:
    """A value for the file; what goes into a table on one line stays on it."""
    if isinstance(holder, InlineTable | Array):
        if isinstance(value, Mapping):
            table = inline_table()
            table.update(value)
            return table
        if isinstance(value, list):
            entries = array()
            entries.extend(_item(each, entries) for each in value)
            return entries
    return item(value)
