"""Changing values of a rig: a what-if, a cure, a row of a study."""

import re
from collections.abc import Callable, Mapping, MutableMapping
from typing import Any, Final

from geometry.errors import BindpointError
from sim.rig.rig import Rig
from sim.rig.validation import rig_from_data
from sim.table.problems import as_typed, one_problem
from sim.table.structure import Path, fields_of, part_for
from sim.units import Angle
from sim.wrap import axle_wrap

_DEGREES: Final = ("nose_up", "nose_down")
_PART = re.compile(r"(?P<key>[A-Za-z_]+)(?P<places>(?:\[[0-9]+\])*)")


def changed(rig: Rig, values: Mapping[str, Any], file: str = "rig") -> Rig:
    """Give a rig with other values at some key paths, checked like a file.

    `values` has typed values by key path, such as `{"travel.droop": "6 in",
    "suspension.readings[2].length": "37 in"}`; None takes a key away. Giving a key of a pair of
    opposite directions takes the other one away. Degrees of wrap take a [wrap] table away, whose
    upper end stays as the degrees of the other direction; a [wrap] table takes degrees away.
    Raises `RigError`.
    """
    data = rig.typed()
    _one_way_to_wrap(rig, data, values)
    for key, value in values.items():
        try:
            placed(data, key, value)
        except EditError:
            expected = "a key path such as travel.droop or suspension.readings[2].length"
            known = key_path(key) is not None
            came = "a place that is not there" if known else as_typed(key)
            raise one_problem(file, key if known else "", came, expected) from None
    made = rig_from_data(data, file)
    made._folder = rig.folder
    return made


def key_path(key: str) -> Path | None:
    """Parts of a key path as it is written, or None; entries of an array count from 1."""
    path: list[str | int] = []
    for text in key.split("."):
        match = _PART.fullmatch(text)
        if match is None:
            return None
        path.append(match["key"])
        path += [int(place) - 1 for place in re.findall(r"[0-9]+", match["places"])]
    return tuple(path)


def _one_way_to_wrap(rig: Rig, data: dict[str, Any], values: Mapping[str, Any]) -> None:
    """Keep wrap in degrees or in a [wrap] table, whichever the values speak of."""
    given = {key.split(".")[0] for key, value in values.items() if value is not None}
    if "wrap" in given:
        for way in _DEGREES:
            data["travel"].pop(way, None)
    elif rig.wrap is not None and any(values.get(f"travel.{way}") is not None for way in _DEGREES):
        found = axle_wrap(rig.wrap, rig.suspension, rig.travel, rig.axle.front)
        del data["wrap"]
        for way in _DEGREES:
            data["travel"][way] = Angle.exactly(getattr(found, way).high).typed


class EditError(BindpointError, ValueError):
    """A place in a rig file that is not there, or something that cannot be put into the file."""


def placed(
    data: Any,
    key: str,
    value: Any,
    *,
    grows: bool = False,
    item: Callable[[Any, Any], Any] = lambda value, _holder: value,
) -> None:
    """Put a value at a key path into the data of a rig file, in place; None takes the key away.

    Tables on the way are made where they are missing. Giving one key of a set of which the file may
    have only one takes the others away.

    grows : whether a list may get an entry after its last one, and lose one.
    item : what stands for a value in what holds it, where data are the text of a file.
    Raises `EditError`.
    """
    path = key_path(key)
    if path is None:
        raise EditError(f'{key}: no key path, expected one such as "travel.droop"')
    *way, last = path
    here: Any = data
    part: Any = Rig
    for step, following in zip(way, path[1:], strict=True):
        if isinstance(here, MutableMapping) and isinstance(step, str):
            if step not in here:
                here[step] = item([] if isinstance(following, int) else {}, here)
            part = _below(part, step, here[step])
        elif not _is_entry(here, step):
            raise _nowhere(key)
        here = here[step]
    if isinstance(here, MutableMapping) and isinstance(last, str):
        _put(here, part, last, value, item)
    elif _is_entry(here, last) and (grows or value is not None):
        if value is None:
            del here[last]
        else:
            here[last] = item(value, here)
    elif grows and value is not None and isinstance(here, list) and last == len(here):
        here.append(item(value, here))
    else:
        raise _nowhere(key)


def _put(table: Any, part: Any, key: str, value: Any, item: Callable[[Any, Any], Any]) -> None:
    """Put a value into a table, in place of what says the same; None takes it away."""
    rule = None if part is None else part.exclusive(key)
    for same in (key,) if rule is None else rule.keys:
        if same != key or value is None:
            table.pop(same, None)
    if value is not None:
        table[key] = item(value, table)


def _below(part: Any, step: str, inner: Any) -> Any:
    """The table of the schema that stands at a key of another; None where the schema has none."""
    fields = fields_of(part) if part is not None else {}
    return part_for(fields[step].annotation, inner) if step in fields else None


def _is_entry(here: Any, step: str | int) -> bool:
    return isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here)


def _nowhere(key: str) -> EditError:
    return EditError(f"{key}: came a place that is not there, expected one of the rig file's")
