"""What can be told of one part of a joint, straight from the schema of inspections.

Nothing here knows single words: one that is added to a list of the schema has its place to tick.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from pydantic.fields import FieldInfo

from sim.seen import Inspection
from sim.table.form import form_of
from sim.table.kinds import kind_of
from sim.table.part import Part
from sim.table.structure import fields_of, holds, is_list, parts_of, words_of

Kind = Literal["words", "word", "number", "pair", "text", "yes or no"]

Told = Literal["seen", "not there", "not looked at"]
"""What is told of a word: it is there; its list was looked at and it is not; nobody looked."""


@dataclass(frozen=True)
class Row:
    """Something that can be told.

    Attributes
    ----------
    key : key path. name : what it is called. says : what it means.
    kind : how it is told. words : of a closed list. such : what a value looks like.
    otherwise : what stands where nothing is told.
    """

    key: str
    name: str
    says: str
    kind: Kind
    words: tuple[str, ...] = ()
    such: str = ""
    otherwise: str = ""


def rows_of(table: str) -> tuple[Row, ...]:
    """Everything that can be told in a table such as "caps.end_a", words first."""
    part = _part(table)
    rows = [
        _row(f"{table}.{key}" if table else key, key, info)
        for key, info in fields_of(part).items()
        if not list(parts_of(info.annotation))
    ]
    return tuple(sorted(rows, key=lambda row: row.kind != "words"))


def told_of(data: Mapping[str, Any], row: Row, word: str) -> Told:
    """What is told of a word of a list."""
    there = typed_at(data, row.key)
    if there is None:
        return "not looked at"
    return "seen" if word in there else "not there"


def typed_at(data: Any, key: str) -> Any:
    """What is typed at a key path of plain tables; None where nothing is."""
    for step in key.split("."):
        if not isinstance(data, Mapping):
            return None
        data = data.get(step)
    return data


def _part(table: str) -> type[Part]:
    """The table of the schema at a key path."""
    part: type[Part] = Inspection
    for step in table.split(".") if table else ():
        part = next(iter(parts_of(fields_of(part)[step].annotation)))
    return part


def _row(path: str, key: str, info: FieldInfo) -> Row:
    form, kind = form_of(info), kind_of(info)
    such = next(iter(info.examples or (kind.examples if kind is not None else ())), "")
    name = form.name or key.replace("_", " ")
    return Row(
        path,
        f"{name[:1].upper()}{name[1:]}",
        form.help(info.description or ""),
        _kind(info.annotation),
        words_of(info.annotation),
        " and ".join(map(str, such)) if isinstance(such, list | tuple) else str(such),
        form.otherwise,
    )


def _kind(annotation: Any) -> Kind:
    words = words_of(annotation)
    if is_list(annotation):
        return "words" if words else "pair"
    if words:
        return "word"
    if holds(annotation, bool):
        return "yes or no"
    return "number" if holds(annotation, int) else "text"
