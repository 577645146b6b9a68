"""From what was said, by key path, to the data of a file; what is not complete is left out."""

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic.fields import FieldInfo

from sim.rig.change import key_path
from sim.rig.rig import Rig
from sim.table.part import OneOf, Part
from sim.table.structure import fields_of, is_list, part_for
from viewer.interview.answers import Keys


def assemble(said: Keys, root: type[Part] = Rig) -> dict[str, Any]:
    """Nested data of a file of schema `root` from values by key path.

    Points, readings and links that are not complete yet are left out, and so is every key that is a
    choice of the interview's own and no key path.
    """
    data: dict[Any, Any] = {}
    for key, value in said.items():
        path = key_path(key)
        if path is not None:
            _place(data, path, value)
    return _table(root, data)


def _place(data: dict[Any, Any], path: Sequence[str | int], value: Any) -> None:
    """Put a value at a key path; what is a list in the end counts its entries meanwhile."""
    *way, last = path
    for part in way:
        data = data.setdefault(part, {})
    data[last] = value


def _table(part: type[Part], data: Mapping[Any, Any]) -> dict[str, Any]:
    fields = fields_of(part)
    whole = {key: _value(fields.get(key), value) for key, value in data.items()}
    return {key: value for key, value in whole.items() if value not in ([], {})}


def _value(info: FieldInfo | None, value: Any) -> Any:
    """What stands at a key: a list or a point only as far as it is complete."""
    if info is None or not isinstance(value, dict):
        return value
    if is_list(info.annotation):
        part = part_for(info.annotation, value)
        entries = [_table(part, value[place]) for place in sorted(value)] if part else []
        complete = [entry for entry in entries if part and _is_complete(part, entry)]
        fewest = max((getattr(each, "min_length", 0) for each in info.metadata), default=0)
        return complete if len(complete) >= fewest else []
    part = part_for(info.annotation, value)
    if part is not None:
        return _table(part, value)
    return [value[place] for place in sorted(value)] if len(value) == 3 else []


def _is_complete(part: type[Part], entry: Mapping[str, Any]) -> bool:
    """Whether an entry of a list has all that its table needs."""
    needed = {key for key, info in fields_of(part).items() if info.is_required()}
    rules = (rule for rule in part.rules if isinstance(rule, OneOf) and rule.needed)
    return needed <= entry.keys() and all(rule.given(entry) for rule in rules)
