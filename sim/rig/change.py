"""Changing values of a rig: a what-if, a cure, a row of a study."""

import re
from collections.abc import Mapping
from typing import Any, Final

from sim.rig.rig import Rig
from sim.rig.structure import Path, part_for
from sim.rig.validation import rig_from_data
from sim.rig.wrap import axle_wrap
from sim.table.problems import as_typed, one_problem
from sim.units import Angle

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
        _put(data, key, value, file)
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


def _put(data: dict[str, Any], key: str, value: Any, file: str) -> None:
    path = key_path(key)
    expected = "a key path such as travel.droop or suspension.readings[2].length"
    if path is None or (isinstance(path[-1], int) and value is None):
        raise one_problem(file, "", as_typed(key), expected)
    *way, last = path
    here: Any = data
    part: Any = Rig
    for step, following in zip(way, path[1:], strict=True):
        if isinstance(here, dict) and isinstance(step, str):
            inner = here.setdefault(step, [] if isinstance(following, int) else {})
            fields = part.model_fields if part is not None else {}
            part = part_for(fields[step].annotation, inner) if step in fields else None
        elif isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
            inner = here[step]
        else:
            raise one_problem(file, key, "a place that is not there", expected)
        here = inner
    if isinstance(here, dict) and isinstance(last, str):
        for rule in part.one_of if part is not None else ():
            if last in rule.keys:
                for other in rule.keys:
                    here.pop(other, None)
        here.pop(last, None)
        if value is not None:
            here[last] = value
    elif isinstance(here, list) and isinstance(last, int) and 0 <= last < len(here):
        here[last] = value
    else:
        raise one_problem(file, key, "a place that is not there", expected)
