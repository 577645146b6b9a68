"""The page of every key of a rig file, from the schema: `python -m tests.rig_keys_page`."""

from collections.abc import Iterator
from math import isinf
from pathlib import Path

from pydantic.fields import FieldInfo

from sim.rig.choice import Choice
from sim.rig.rig import Rig
from sim.table.form import form_of
from sim.table.kinds import Kind, kind_of
from sim.table.part import Part
from sim.table.problems import dotted
from sim.table.structure import fields_of, holds, is_list, kinds_of, parts_of, tables, words_of
from viewer.words.keys import group_title, label_of

PAGE = Path(__file__).parents[1] / "docs" / "rig-keys.md"

_HEAD = """\
# Every key of a rig file

Made from the schema by `python -m tests.rig_keys_page`, as the sheet of the window, the questions \
of `bindpoint new` and the JSON Schema for editors are made from it. [The rig file](rig-file.md) \
explains how the tables go together, and lists what is assumed where a key is left out.
"""


def page() -> str:
    """The whole page."""
    return "\n".join((_HEAD, *_sections())) + "\n"


def _sections() -> Iterator[str]:
    """Each table once, headed by every place where it stands."""
    places: dict[type[Part], list[str]] = {}
    for path, part in tables(Rig):
        places.setdefault(part, []).append(dotted(path))
    for part, found in places.items():
        yield f"## {_heading(part, tuple(dict.fromkeys(found)))}"
        yield f"{(part.__doc__ or '').splitlines()[0] if found[0] else 'At the top of the file.'}"
        yield "| key | name | what it is, and what goes wrong | value |"
        yield "|---|---|---|---|"
        for key, info in fields_of(part).items():
            yield _row(f"{found[0]}.{key}".lstrip("."), key, info)
        yield ""


def _heading(part: type[Part], places: tuple[str, ...]) -> str:
    named = ", ".join(f"`[{place}]`" for place in places if place)
    kind = f', `kind = "{kinds_of(part)[0]}"`' if kinds_of(part) else ""
    return f"{named}{kind}: {group_title(places[0])}" if named else group_title("")


def _row(place: str, key: str, info: FieldInfo) -> str:
    inner = next(parts_of(info.annotation), None)
    means = info.description or ((inner.__doc__ or "").splitlines()[0] if inner else "")
    return f"| `{key}` | {label_of(place)} | {form_of(info).help(means)} | {value_words(info)} |"


def value_words(info: FieldInfo) -> str:
    """What kind of value stands at a key, with its unit and its range."""
    parts, words = list(parts_of(info.annotation)), words_of(info.annotation)
    if parts and issubclass(parts[0], Choice):
        return "a name of the catalogue, or a table"
    if parts:
        return "tables" if is_list(info.annotation) else "a table"
    if holds(info.annotation, tuple):
        return _points(info)
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
    of = kind.range
    low = f"{'above ' if of.above else ''}{of.least:g}"
    high = "" if isinf(of.most) else f" to {'under ' if of.below else ''}{of.most:g}"
    examples = info.examples or kind.examples
    example = f", such as `{examples[0]}`" if examples else ""
    return f"{kind.title.lower()}, {low}{high} {of.unit}".rstrip() + example


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
