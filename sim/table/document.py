"""A file as a commented TOML text: what each value means, and what was assumed for the rest."""

from collections.abc import Iterator, Mapping
from os import PathLike
from pathlib import Path as FilePath
from textwrap import wrap
from typing import Any, Final, Protocol

import tomlkit

from sim.kept.atomic import replace_file
from sim.table.part import Part
from sim.table.problems import dotted, one_problem
from sim.table.structure import Path, fields_of, part_for

_WIDTH: Final = 92


class Filled(Protocol):
    """A value that was left out and filled in."""

    @property
    def value(self) -> Any:
        """It, as it would be typed."""

    @property
    def why(self) -> str:
        """Why this one."""


def commented(
    root: type[Part], typed: Mapping[str, Any], head: str, assumed: Mapping[str, Filled]
) -> str:
    """TOML text of what is `typed`, with a remark on every key.

    head : the remark at its beginning.
    assumed : by key path, what was filled in; it is told in remarks.
    """
    lines = [*_remark(head), "", *_table(root, typed, (), assumed)]
    return "\n".join(lines) + "\n"


def save_text(text: str, path: str | PathLike[str]) -> None:
    """Save a text as a whole. Raises `RigError` where that fails; the old file is untouched."""
    try:
        replace_file(FilePath(path), text.encode("utf-8"))
    except (OSError, ValueError) as fault:  # ValueError: a NUL inside a path
        why = getattr(fault, "strerror", None) or "not a path"
        raise one_problem(
            str(path), "", str(why).lower(), "a place to save to; the old file is untouched"
        ) from None


def _table(
    part: type[Part], data: Mapping[str, Any], path: Path, assumed: Mapping[str, Filled]
) -> Iterator[str]:
    """Lines of one table: first its own keys, then the tables in it."""
    inner: list[tuple[str, Any, type[Part]]] = []
    for key, field in fields_of(part).items():
        here = dotted((*path, key))
        value = data.get(key)
        table = part_for(field.annotation, value if value is not None else {"kind": "vertical"})
        if table is not None and not table.has_own_keys() and value != []:
            if value is not None or any(k.startswith(here + ".") for k in assumed):
                inner.append((key, value, table))
            continue
        if value is None and here not in assumed:
            continue
        yield from _remark(field.description or (table.__doc__ or "").split("\n")[0])
        if value is not None:
            yield f"{key} = {_value(value)}"
        else:
            yield from _assumed_line(key, assumed[here])
    for key, value, table in inner:
        yield from _inner(table, value, (*path, key), assumed)


def _inner(
    part: type[Part], value: Any, path: Path, assumed: Mapping[str, Filled]
) -> Iterator[str]:
    many = isinstance(value, list)
    for each in value if many else [value or {}]:
        yield ""
        yield from _remark((part.__doc__ or "").split("\n")[0])
        header = dotted(path)
        yield f"[[{header}]]" if many else f"[{header}]"
        yield from _table(part, each, path, assumed)


def _remark(text: str) -> list[str]:
    return [f"# {line}" for line in wrap(text, _WIDTH)]


def _assumed_line(key: str, assumed: Filled) -> Iterator[str]:
    yield f"# {key} = {_value(assumed.value)}"
    yield from _remark(f"    (assumed: {assumed.why})")


def _value(value: Any) -> str:
    """TOML of a value on one line."""
    if isinstance(value, Mapping):
        table = tomlkit.inline_table()
        table.update(value)
        return str(table.as_string())
    return str(tomlkit.item(value).as_string())
