"""Keys of a file against its schema: unknown ones, with the nearest known one suggested."""

import re
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from types import UnionType
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from sim.table.form import Form, form_of
from sim.table.part import Part
from sim.table.problems import Problem, as_typed, dotted

Path = tuple[str | int, ...]
UNKNOWN: Final = "unknown key"


def fields_of(part: type[Part]) -> dict[str, FieldInfo]:
    """Each key of a table, by the name that it has in the file."""
    return {field.alias or name: field for name, field in part.model_fields.items()}


def part_for(annotation: Any, value: Any) -> type[Part] | None:
    """Tell which table the schema expects where `value` stands; None where it expects none.

    Among several kinds of table the one whose `kind` the value names is taken.
    """
    parts = list(parts_of(annotation))
    if len(parts) <= 1:
        return parts[0] if parts else None
    kind = value.get("kind") if isinstance(value, Mapping) else None
    return next((part for part in parts if kind in kinds_of(part)), None)


def kinds_of(part: type[Part]) -> tuple[str, ...]:
    """Values that the key `kind` of a table may have."""
    field = part.model_fields.get("kind")
    return get_args(field.annotation) if field is not None else ()


def parts_of(annotation: Any) -> Iterator[type[Part]]:
    """Every kind of table that an annotation allows."""
    if isinstance(annotation, type):
        if issubclass(annotation, Part):
            yield annotation
        return
    if get_origin(annotation) in {Annotated, Union, UnionType, tuple}:
        arguments = get_args(annotation)
        for argument in arguments[:1] if get_origin(annotation) is Annotated else arguments:
            yield from parts_of(argument)


def field_at(part: type[Part], path: Path, data: Any) -> FieldInfo | None:
    """Field of the schema at a key path below `part`, whose table is `data`."""
    field: FieldInfo | None = None
    inner: type[Part] | None = part
    for key in path:
        if isinstance(key, int):
            data = data[key] if isinstance(data, list) and key < len(data) else None
        elif inner is None:
            return None
        else:
            field = fields_of(inner).get(key)
            data = data.get(key) if isinstance(data, Mapping) else None
        if field is None:
            return None
        inner = part_for(field.annotation, data)
    return field


def key_problems(data: Mapping[str, Any], root: type[Part]) -> Iterator[Problem]:
    """Unknown keys, and keys that exclude one another, in all tables of a file of schema `root`."""
    yield from _in_table(data, root, (), root)


def _in_table(
    table: Mapping[str, Any], part: type[Part], path: Path, root: type[Part]
) -> Iterator[Problem]:
    known = fields_of(part)
    yield from part.key_problems(table, dotted(path))
    for key, value in table.items():
        if key in known:
            yield from _inside(value, known[key].annotation, (*path, key), root)
        elif not part.has_own_keys():
            yield _unknown(key, value, part, path, root)


def _inside(value: Any, annotation: Any, path: Path, root: type[Part]) -> Iterator[Problem]:
    many = get_origin(annotation) is tuple and isinstance(value, list)
    entries = enumerate(value) if many else [(None, value)]
    for place, entry in entries:
        part = part_for(annotation, entry)
        if part is not None and isinstance(entry, Mapping):
            yield from _in_table(entry, part, path if place is None else (*path, place), root)


def _unknown(key: str, value: Any, part: type[Part], path: Path, root: type[Part]) -> Problem:
    known = list(fields_of(part))
    close = get_close_matches(key.lower().replace("-", "_").replace(" ", "_"), known, 1)
    if close:
        expected = f"{close[0]}, the nearest known key"
    elif elsewhere := _homes(root).get(key, ()):
        expected = f"this key in {' or '.join(elsewhere)}, where it is known"
    else:
        expected = f"one of {', '.join(known)}"
    return Problem(dotted((*path, key)), as_typed(value), expected, UNKNOWN)


@cache
def _homes(root: type[Part]) -> Mapping[str, tuple[str, ...]]:
    """Tables each key of a schema is known in."""
    homes: dict[str, list[str]] = {}
    for path, part in tables(root):
        for key in fields_of(part):
            homes.setdefault(key, []).append(f"[{dotted(path)}]" if path else "the top of the file")
    return {key: tuple(dict.fromkeys(places)) for key, places in homes.items()}


def tables(part: type[Part], path: Path = ()) -> Iterator[tuple[Path, type[Part]]]:
    """Every table of the schema with its key path, this one first."""
    yield path, part
    for key, field in fields_of(part).items():
        for inner in parts_of(field.annotation):
            yield from tables(inner, (*path, key))


@cache
def keys_of(root: type[Part]) -> Mapping[str, tuple[type[Part], FieldInfo]]:
    """Every key of a schema by its path, such as "suspension.links.name", with its table.

    Of several kinds of table the first that has the key.
    """
    found: dict[str, tuple[type[Part], FieldInfo]] = {}
    for path, part in tables(root):
        for key, info in fields_of(part).items():
            found.setdefault(dotted((*path, key)), (part, info))
    return found


def form_in(root: type[Part], path: str) -> Form:
    """Form of the key at a path of a schema; an empty one where there is no such key."""
    found = keys_of(root).get(re.sub(r"\[\d+\]", "", path))
    return Form() if found is None else form_of(found[1])


def words_of(annotation: Any) -> tuple[str, ...]:
    """Words one of which stands at a key; empty where it is no choice of words."""
    if get_origin(annotation) is Literal:
        return tuple(map(str, get_args(annotation)))
    return next((found for each in get_args(annotation) if (found := words_of(each))), ())


def is_list(annotation: Any) -> bool:
    """Whether a key holds a list of tables, one or more."""
    if get_origin(annotation) is tuple:
        return get_args(annotation)[-1:] == (Ellipsis,)
    return any(map(is_list, get_args(annotation)))


def holds(annotation: Any, plain: type) -> bool:
    """Whether a key holds values of a plain type, such as yes and no, or several in a tuple."""
    if plain in (annotation, get_origin(annotation)):
        return True
    return any(holds(each, plain) for each in get_args(annotation))
