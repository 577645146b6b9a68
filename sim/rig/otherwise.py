"""The same rig with one assumed value put otherwise: a little off, or another part of its kind.

Nobody gave that value, so this rig is as good a guess as the one with the default. A number that
comes out differently for it rests on the value.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from math import radians
from typing import Any, Final

from sim.head.catalogue import head_kinds
from sim.parts.catalogue import DEEP, cross_sizes, ordinary
from sim.rig.choice import Choice, CrossChoice, HeadChoice, YokeChoice
from sim.rig.datum import with_taped_length
from sim.rig.rig import Rig
from sim.suspension.leaf.table import LeafTable
from sim.table.part import Part
from sim.units import Angle, Length

OFF_SHARE: Final = 0.05
"""How far off a value is put, of itself: what a generic value may well be off."""
OFF_MM: Final = 5.0
"""mm. How far a length is put off besides, which may be nothing."""
OFF_ANGLE: Final = radians(0.5)
"""The same for an angle; what goes with its square, as a side angle of a shaft that runs straight
back, still shows."""

OF_THE_FILE: Final = ("schema", "name")
"""Keys that say nothing of the vehicle."""


def otherwise(rig: Rig) -> Iterator[tuple[str, Rig]]:
    """Every assumed value of a rig by its key path, with a rig that has another one there.

    The rigs are not checked as a file is; parts of theirs may turn out impossible to build. A
    value that could be nothing else is left out, such as the position of an axle whose joints are
    both given.
    """
    for each in rig.assumed:
        if each.key in OF_THE_FILE:
            continue
        *tables, last = each.key.split(".")
        table: Any = rig
        for name in tables:
            table = getattr(table, name, None)
        value = getattr(table, last, None)
        for path, put in _others(rig, each.key, value):
            yield each.key, _lengths_anew(_with(rig, path.split("."), put))


def _others(rig: Rig, key: str, value: Any) -> Iterator[tuple[str, Any]]:
    """Key path and value of what else may stand there; of whole words one that is legal."""
    word = _WORDS.get(key.rsplit(".", maxsplit=1)[-1])
    if isinstance(value, str) and word is not None:
        yield from word(rig, key)
    elif value is not None and not isinstance(value, str):
        yield key, _other(value)
    elif value is not None and (number := _NUMBER.fullmatch(value)):
        yield key, f"{float(number['size']) * (1.0 - OFF_SHARE):g} {number['unit']}"


def _other(value: Any) -> Any:
    """A value of the same kind that is not far off, or another part of the catalogue."""
    match value:
        case Length():
            other: Any = Length.exactly((1.0 + OFF_SHARE) * value.mm + OFF_MM)
        case Angle():
            other = Angle.exactly((1.0 + OFF_SHARE) * value.rad + OFF_ANGLE)
        case tuple():
            other = tuple(_other(part) for part in value)
        case YokeChoice():
            kind = ordinary(value.kind)
            other = _named(value, f"{DEEP} {kind}" if kind == value.kind else kind)
        case CrossChoice():
            other = _named(value, _after(value.size, _sizes()))
        case HeadChoice():
            other = _named(value, _after(value.kind, head_kinds()))
        case _:
            other = value * (1.0 + OFF_SHARE)
    return other


def _named(choice: Choice, name: str) -> Choice:
    return choice.model_copy(update={choice.name_key: name})


def _sizes() -> tuple[str, ...]:
    return tuple(size.name for size in cross_sizes())


def _after(name: str, names: tuple[str, ...]) -> str:
    """Another name of a catalogue."""
    return next(other for other in names if other != name)


def _position(rig: Rig, key: str) -> Iterator[tuple[str, Any]]:
    """The other axle, unless the joints lie where only one of them can be."""
    if rig.output.joint is None:
        yield key, "rear" if rig.axle.front else "front"


def _suspension(rig: Rig, _key: str) -> Iterator[tuple[str, Any]]:
    """Leaf springs of an ordinary size, which turn the housing as they move it."""
    yield "suspension", LeafTable.of_ordinary_size(rig.axle.front)


def _slips(rig: Rig, key: str) -> Iterator[tuple[str, Any]]:
    """The other place of the slip; behind a carrier bearing there is only one."""
    if rig.carrier is None:
        yield key, "shaft" if rig.shaft.slip.at == "output" else "output"


def _joint(rig: Rig, key: str) -> Iterator[tuple[str, Any]]:
    """A double-Cardan head in place of one cross, where a head can be.

    A yoke beside it that nobody named either is then the one that is assumed beside a head.
    """
    table = key.rsplit(".", maxsplit=1)[0]
    if not table.startswith("shaft.") or (rig.carrier is not None and "output" in table):
        return
    head: dict[str, Any] = {"joint": "double", "head": HeadChoice.model_validate(head_kinds()[0])}
    if any(each.key == "shaft.pinion_end.pinion_yoke" for each in rig.assumed):
        head |= (
            {"pinion_yoke": YokeChoice.model_validate("flange yoke")} if "pinion" in table else {}
        )
    yield table, head


def _strap(rig: Rig, key: str) -> Iterator[tuple[str, Any]]:
    yield key, "middle" if rig.travel.droop_strap == "sides" else "sides"


_NUMBER: Final = re.compile(r"(?P<size>[0-9.]+) *(?P<unit>[^0-9.].*)")
"""A number with its unit that is kept as text: shares, stiffnesses."""

_WORDS: Final[Mapping[str, Callable[[Rig, str], Iterator[tuple[str, Any]]]]] = {
    "position": _position,
    "kind": _suspension,
    "at": _slips,
    "joint": _joint,
    "droop_strap": _strap,
}
"""What else a word may be, by the last part of its key."""


def _with(part: Part, path: list[str], value: Any) -> Any:
    """A part of a rig with another value at a path; a mapping changes several keys at its end."""
    name, *rest = path
    held = getattr(part, name)
    if rest:
        value = _with(held, rest, value)
    elif isinstance(value, Mapping):
        value = held.model_copy(update=dict(value))
    return part.model_copy(update={name: value})


def _lengths_anew(rig: Rig) -> Rig:
    """The same with the length that follows from a tape between other places worked out anew."""
    if rig.ride_height is None or rig.ride_height.tape is None:
        return rig
    length = with_taped_length(rig.ride_height, rig.output, rig.axle, rig.shaft)
    return rig.model_copy(update={"ride_height": length})
