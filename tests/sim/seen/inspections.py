"""Random inspections, made by walking the schema."""

from typing import Any, get_args, get_origin

from hypothesis import strategies as st
from pydantic.fields import FieldInfo

from sim.seen.amounts import ClockPlace, OfRoad
from sim.seen.inspection import Inspection
from sim.table.fields import OfAngle, OfLength
from sim.table.kinds import Count, Kind, Typed, kind_of
from sim.table.part import Part
from sim.table.structure import fields_of, is_list, parts_of
from sim.table.words import Word

TEXT = st.text(
    st.characters(min_codepoint=32, max_codepoint=0x17F), min_size=1, max_size=40
).filter(lambda text: all(each.isprintable() for each in text))
LENGTHS = st.one_of(
    st.integers(1, 400).map(lambda n: f"{n} thou"),
    st.integers(1, 9_000).map(lambda n: f"{n / 1000:g} in"),
    st.integers(1, 2_000).map(lambda n: f"{n / 10:g} mm"),
)
ANGLES = st.integers(0, 440).map(lambda n: f"{n / 10:g} deg")
ROADS = st.one_of(
    st.integers(0, 300_000).map(lambda n: f"{n} mi"), st.integers(0, 300_000).map("{} km".format)
)
CLOCKS = st.one_of(
    st.integers(1, 12).map(lambda n: f"{n} o'clock"),
    st.tuples(st.integers(1, 12), st.integers(0, 59)).map(lambda at: f"{at[0]}:{at[1]:02d}"),
)
SPEEDS = st.integers(1, 90).map(lambda n: f"{n} mph")
SKIPPED = object()


def tables(part: type[Part]) -> st.SearchStrategy[dict[str, Any]]:
    """Data of one table, any of its keys left out unless the schema needs them."""
    keys = {}
    for key, info in fields_of(part).items():
        value = at_key(key, info)
        keys[key] = value if info.is_required() else st.one_of(st.just(SKIPPED), value)
    made: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(keys)
    return made.map(lambda data: {k: v for k, v in data.items() if v is not SKIPPED})


def at_key(key: str, info: FieldInfo) -> st.SearchStrategy[Any]:
    """A value for one key."""
    if key in ("schema", "kind"):
        return st.just(1 if key == "schema" else "inspection")
    parts = list(parts_of(info.annotation))
    if parts:
        inside = tables(parts[0])
        return st.lists(inside, max_size=3) if is_list(info.annotation) else inside
    kind = kind_of(info)
    if isinstance(kind, Word):
        word = st.sampled_from(kind.legal)
        return st.lists(word, unique=True) if _is_tuple(info.annotation) else word
    if _is_tuple(info.annotation):
        return st.lists(LENGTHS, min_size=1, max_size=2)
    return _of_kind(kind, info)


def _of_kind(kind: Kind | None, info: FieldInfo) -> st.SearchStrategy[Any]:
    if kind is None:
        return st.booleans() if bool in get_args(info.annotation) else TEXT
    if isinstance(kind, Count):
        return st.integers(round(kind.range.least), round(kind.range.most))
    of_kind = {
        OfRoad: ROADS,
        OfLength: LENGTHS,
        OfAngle: ANGLES,
        ClockPlace: CLOCKS,
        Typed: SPEEDS,
    }
    return next(made for type_, made in of_kind.items() if isinstance(kind, type_))


def _is_tuple(annotation: Any) -> bool:
    return get_origin(annotation) is tuple or any(map(_is_tuple, get_args(annotation)))


INSPECTIONS = tables(Inspection)
"""Data of whole inspections, however much they contradict themselves."""


def swapped(data: dict[str, Any]) -> dict[str, Any]:
    """The same joint with the ears called a called b."""
    caps = data.get("caps", {})
    other = {"a": "b", "b": "a"}
    names = {key: f"{key[:-1]}{other[key[-1]]}" if key != "note" else key for key in caps}
    return data | ({"caps": {names[key]: cap for key, cap in caps.items()}} if caps else {})
