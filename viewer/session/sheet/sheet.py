"""The rig file as a sheet of fields, straight from the schema: one row for each measurement.

Nothing here knows single keys but for their words; a key added to the schema has its row.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from pydantic.fields import FieldInfo

from sim.rig import Rig
from sim.rig.assumed import Assumed
from sim.rig.choice import Choice
from sim.rig.keys import form_at
from sim.table.form import form_of
from sim.table.part import Part
from sim.table.structure import fields_of, holds, is_list, kinds_of, part_for, parts_of, words_of
from viewer.session.text.document import Document
from viewer.words.keys import group_title, label_of, names_of
from viewer.words.problems import typed_problem

Kind = Literal["text", "choice", "point", "yes or no", "number"]


@dataclass(frozen=True)
class Field:
    """One row of the sheet.

    Attributes
    ----------
    key : key path of what is typed, or the first of `others`.
    label : what it is called.
    help : what it means, a sentence or two.
    kind : how it is edited.
    typed : as typed; None where nothing is. Three texts for a point.
    assumed : what is taken as long as nothing is typed; None where nothing can be.
    why : where that is from.
    choices : what may be chosen; empty where anything is typed.
    others : key paths that say the same in other words, with their labels; one of them at most.
    problem : what is wrong with it, in words.
    """

    key: str
    label: str
    help: str
    kind: Kind
    typed: Any = None
    assumed: Any = None
    why: str = ""
    choices: tuple[str, ...] = ()
    others: tuple[tuple[str, str], ...] = ()
    problem: str | None = None

    @property
    def keys(self) -> tuple[str, ...]:
        """Every key path that it may be said at."""
        return tuple(key for key, _ in self.others) or (self.key,)

    @property
    def is_assumed(self) -> bool:
        """Whether a generic value stands in."""
        return self.typed is None and self.assumed is not None


@dataclass(frozen=True)
class Group:
    """Some rows that belong together.

    Attributes
    ----------
    key : key path of their table; "" for the file itself.
    title, help : what they are about.
    fields : the rows; none where it is not there.
    optional : whether the whole table may be left out.
    there : whether it is.
    entry : place in a list of tables, from 1; 0 where there is no list.
    problem : what is wrong with the table as a whole.
    """

    key: str
    title: str
    help: str
    fields: tuple[Field, ...]
    optional: bool = False
    there: bool = True
    entry: int = 0
    problem: str | None = None


def sheet(document: Document) -> tuple[Group, ...]:
    """All groups of a document's rig as it is typed now, right or wrong."""
    groups = tuple(_Rows(document).groups())
    lost = [each for each in document.problems if not _has_place(groups, each.key)]
    if not lost:
        return groups
    says = "; ".join(f"{each.key or 'the file'}: {typed_problem(each)}" for each in lost)
    return (replace(groups[0], problem=says), *groups[1:])


def _has_place(groups: tuple[Group, ...], key: str) -> bool:
    """Whether a row or a title tells of a problem at a key path."""
    tables = {group.key for group in groups} - {""}
    rows = [own for group in groups for field in group.fields for own in field.keys]
    return key in tables or any(key == own or _within(key, own) for own in rows)


def _within(place: str, key: str) -> bool:
    return place.startswith((f"{key}.", f"{key}["))


class _Rows:
    """Walks the schema along what is typed."""

    def __init__(self, document: Document) -> None:
        self.data = document.data
        self.assumed: Mapping[str, Assumed] = {each.key: each for each in document.rig.assumed}
        self.problems: dict[str, str] = {}
        for problem in document.problems:
            says = typed_problem(problem)
            before = self.problems.get(problem.key)
            self.problems[problem.key] = says if before is None else f"{before}; {says}"

    def groups(self) -> Iterator[Group]:
        """The file's own keys, then every table in the order of the schema."""
        yield from self._table(Rig, self.data, "", optional=False, there=True)

    def _table(
        self,
        part: type[Part],
        data: Any,
        path: str,
        optional: bool,
        there: bool,
        entry: int = 0,
        kinds: tuple[str, ...] = (),
    ) -> Iterator[Group]:
        table = data if isinstance(data, Mapping) else {}
        fields: list[Field] = []
        inner: list[Group] = []
        done: set[str] = set()
        for key, info in fields_of(part).items():
            if key in done or key == "schema":
                continue
            rule = part.exclusive(key)
            if rule is not None and not self._is_table(info):
                done |= set(rule.keys)
                fields.append(self._one_of(part, rule.keys, table, path))
            elif self._is_table(info):
                inner += self._inner(info, table.get(key), _join(path, key))
            else:
                row = self._field(info, key, table, path)
                fields.append(replace(row, choices=kinds) if key == "kind" and kinds else row)
        fields = [field for field in fields if _belongs(field, table)]
        fields.sort(key=lambda field: field.key != f"{path}.kind")  # what it is comes first
        if path == "suspension" or fields or there:
            yield Group(
                path,
                group_title(path, entry, str(table.get("name", "")) if entry else ""),
                (part.__doc__ or "").split("\n")[0],
                tuple(fields) if there else (),
                optional,
                there,
                entry,
                self.problems.get(path) if path else None,
            )
        if there:
            yield from inner

    def _inner(self, info: FieldInfo, value: Any, path: str) -> Iterator[Group]:
        optional = not info.is_required()
        if is_list(info.annotation):
            part = next(iter(parts_of(info.annotation)))
            entries = value if isinstance(value, list) else []
            for number, each in enumerate(entries, start=1):
                yield from self._table(
                    part, each, f"{path}[{number}]", optional=True, there=True, entry=number
                )
            yield Group(path, group_title(path), info.description or "", (), True, False)
            return
        part = self._part(info.annotation, value)
        kinds = tuple(kind for each in parts_of(info.annotation) for kind in kinds_of(each))
        there = value is not None or not optional
        yield from self._table(part, value, path, optional, there, kinds=kinds)

    def _part(self, annotation: Any, value: Any) -> type[Part]:
        """Which table stands here; the first kind there is where the value names none."""
        found = part_for(annotation, value if value is not None else {"kind": ""})
        return found if found is not None else next(iter(parts_of(annotation)))

    def _is_table(self, info: FieldInfo) -> bool:
        found = list(parts_of(info.annotation))
        return bool(found) and not issubclass(found[0], Choice)

    def _one_of(
        self,
        part: type[Part],
        keys: Sequence[str],
        table: Mapping[str, Any],
        path: str,
    ) -> Field:
        """One row for several keys of which at most one may be given."""
        given = next((key for key in keys if table.get(key) is not None), None)
        assumed = next((key for key in keys if _join(path, key) in self.assumed), None)
        shown = given or assumed or keys[0]
        row = self._field(fields_of(part)[shown], shown, table, path)
        others = tuple((_join(path, key), label_of(_join(path, key))) for key in keys)
        problem = next(
            (p for key in keys if (p := self._problem(_join(path, key))) is not None), None
        )
        return replace(row, others=others, problem=problem)

    def _field(self, info: FieldInfo, key: str, table: Mapping[str, Any], path: str) -> Field:
        here = _join(path, key)
        assumed = self.assumed.get(here)
        kind, choices = _kind(info.annotation, here)
        typed = table.get(key)
        return Field(
            here,
            label_of(here),
            _help(info),
            kind,
            typed,
            assumed.value if assumed is not None else _default(info),
            assumed.why if assumed is not None else "the usual",
            choices,
            problem=self._problem(here),
        )

    def _problem(self, key: str) -> str | None:
        """Everything wrong at a key and within it."""
        said = [self.problems[key]] if key in self.problems else []
        for place, says in self.problems.items():
            if _within(place, key):
                said.append(f"{place[len(key) :].strip('.')}: {says}")
        return "; ".join(said) or None


def _belongs(field: Field, table: Mapping[str, Any]) -> bool:
    """Whether a row says something here; one that is filled in or wrong is always shown."""
    other, value = form_at(field.key).only or ("", "")
    unused = field.typed is None and field.problem is None
    return not (unused and other and table.get(other) != value)


def _kind(annotation: Any, key: str) -> tuple[Kind, tuple[str, ...]]:
    """How a field is edited, and what may be chosen."""
    for part in parts_of(annotation):
        if issubclass(part, Choice):
            return "choice", names_of(part, key)
    if holds(annotation, tuple):
        return "point", ()
    if words := words_of(annotation):
        return "choice", words
    if holds(annotation, bool):
        return "yes or no", ()
    return ("number" if holds(annotation, int) or holds(annotation, float) else "text"), ()


def _default(info: FieldInfo) -> Any:
    """What stands for a key without a generic default of its own: yes or no, a ratio of 1."""
    default = info.default
    return default if isinstance(default, bool | int | float | str) else None


def _help(info: FieldInfo) -> str:
    return form_of(info).help(info.description or "")


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key
