"""Every key of a schema as tables of a page."""

from collections.abc import Iterator
from math import isinf

from pydantic.fields import FieldInfo

from sim.rig.choice import Choice
from sim.seen.amounts import ClockPlace, OfRoad
from sim.table.form import form_of
from sim.table.kinds import Kind, kind_of
from sim.table.part import Part
from sim.table.problems import dotted
from sim.table.structure import fields_of, holds, is_list, kinds_of, parts_of, tables, words_of
from sim.table.words import Word
from viewer.words.keys import group_title, label_of


def tables_of(root: type[Part]) -> str:
    """A table for each table of a schema, headed by every place where it stands."""
    return "\n".join(_sections(root))


def _sections(root: type[Part]) -> Iterator[str]:
    places: dict[type[Part], list[str]] = {}
    for path, part in tables(root):
        places.setdefault(part, []).append(dotted(path))
    for part, found in places.items():
        yield f"## {_heading(part, tuple(dict.fromkeys(found)), root)}"
        yield f"{(part.__doc__ or '').splitlines()[0] if found[0] else 'At the top of the file.'}"
        yield "| key | name | what it is, and what goes wrong | value |"
        yield "|---|---|---|---|"
        for key, info in fields_of(part).items():
            yield _row(f"{found[0]}.{key}".lstrip("."), key, info, root)
        yield ""


def _heading(part: type[Part], places: tuple[str, ...], root: type[Part]) -> str:
    named = ", ".join(f"`[{place}]`" for place in places if place)
    kind = f', `kind = "{kinds_of(part)[0]}"`' if kinds_of(part) else ""
    title = group_title(places[0] if named else "", root=root)
    return f"{named}{kind}: {title}" if named else title


def _row(place: str, key: str, info: FieldInfo, root: type[Part]) -> str:
    inner = next(parts_of(info.annotation), None)
    means = info.description or ((inner.__doc__ or "").splitlines()[0] if inner else "")
    told = (f"`{key}`", label_of(place, root), form_of(info).help(means), value_words(info))
    return f"| {' | '.join(told)} |"


def value_words(info: FieldInfo) -> str:
    """What kind of value stands at a key, with its unit and its range."""
    parts, words = list(parts_of(info.annotation)), words_of(info.annotation)
    if parts and issubclass(parts[0], Choice):
        return "a name of the catalogue, or a table"
    if parts:
        return "tables" if is_list(info.annotation) else "a table"
    if holds(info.annotation, tuple) and isinstance(kind_of(info), Word):
        return f"a list of {', '.join(f'`{word}`' for word in words)}"
    if holds(info.annotation, tuple):
        return "one or two lengths" if is_list(info.annotation) else _points(info)
    if words or holds(info.annotation, bool):
        return " or ".join(f"`{word}`" for word in words or ("true", "false"))
    kind = kind_of(info)
    return "a text" if kind is None else _range(kind, info)


def _points(info: FieldInfo) -> str:
    if holds(info.annotation, float):
        return "three points, in the numbers of a mesh file"
    several = str(info.annotation).count("tuple[") > 1
    return "two points: forward, left, up" if several else "lengths: forward, left, up"


def _range(kind: Kind, info: FieldInfo) -> str:
    if isinstance(kind, ClockPlace | OfRoad):
        return f"{kind.title.lower()}, such as `{(info.examples or kind.examples)[0]}`"
    of = kind.range
    low = f"{'above ' if of.above else ''}{of.least:g}"
    high = "" if isinf(of.most) else f" to {'under ' if of.below else ''}{of.most:g}"
    examples = info.examples or kind.examples
    example = f", such as `{examples[0]}`" if examples else ""
    return f"{kind.title.lower()}, {low}{high} {of.unit}".rstrip() + example
