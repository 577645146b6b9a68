"""The catalogue of generic parts: crosses in five sizes, the yokes and slips that go with them.

The numbers are data (models/catalogue): common practice, from memory. They stand in until the
real part is measured, and each of them can be overridden by name.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any, TypeVar, cast

from geometry.cross import CrossShape
from geometry.dimensions import Dimension
from geometry.errors import BindpointError, ShapeError
from geometry.slip import SlipShape
from geometry.yoke import YOKES, YokeShape

DEEP = "deep-throat"
"""Word before the kind of a yoke made to bend further."""

_OTHERS: Mapping[str, type[CrossShape] | type[SlipShape]] = {
    "cross": CrossShape,
    "slip": SlipShape,
}

_Shape = TypeVar("_Shape", CrossShape, SlipShape, YokeShape)

_ABOUT_CROSSES = ("aliases", "note")


class CatalogueError(BindpointError, ValueError):
    """A name that the catalogue does not know."""


@dataclass(frozen=True)
class CrossSize:
    """A size of cross.

    name : cap diameter x span, about, in mm ("27 x 82")
    aliases : trade sizes it goes by ("1310")
    source : where its numbers come from
    note : what else is known of them
    """

    name: str
    aliases: tuple[str, ...]
    source: str
    note: str


def cross_sizes() -> tuple[CrossSize, ...]:
    """Return every size of cross, from small to large."""
    data = _data("crosses")
    return tuple(
        CrossSize(name, tuple(table["aliases"]), data["source"], table["note"])
        for name, table in data.items()
        if isinstance(table, dict)
    )


def cross_shape(name: str, overrides: Mapping[str, float] | None = None) -> CrossShape:
    """Return the cross of a size or trade size, with any of its dimensions overridden.

    overrides : dimension name to mm, rad or a count
    Raises CatalogueError for an unknown name, ShapeError when dimensions clash.
    """
    size = _size_name(name)
    values = {
        key: value for key, value in _data("crosses")[size].items() if key not in _ABOUT_CROSSES
    }
    return _made(CrossShape, f"cross {size}", size, values, overrides)


def yoke_kinds() -> tuple[str, ...]:
    """Return every kind of yoke: the ordinary ones, then the deep-throat ones."""
    return (*YOKES, *(f"{DEEP} {kind}" for kind in YOKES))


def yoke_shape(
    kind: str, cross: str | CrossShape, overrides: Mapping[str, float] | None = None
) -> YokeShape:
    """Return the yoke of a kind for a cross, with any of its dimensions overridden.

    cross : a size or trade size, or a cross of the catalogue with dimensions of its own, whose
        caps the yoke then takes
    overrides : dimension name to mm, rad or a count
    Raises CatalogueError for an unknown name, ShapeError when dimensions clash.
    """
    shape = yoke_class(kind)
    held = cross_shape(cross) if isinstance(cross, str) else cross
    size = _size_name(held.name)
    data = _data(shape.kind.replace(" ", "_"))
    values = {
        "bore": held.cap_diameter,
        "cap_span": held.span,
        "cap_length": held.cap_length,
        **data["ordinary"][size],
    }
    if kind.startswith(DEEP):
        values |= data[DEEP][size]
    return _made(shape, f"{kind} {size}", f"{kind} {size}", values, overrides)


def slip_shape(
    cross: str,
    tube_outside: float,
    tube_wall: float,
    overrides: Mapping[str, float] | None = None,
) -> SlipShape:
    """Return the slip that goes with a size of cross, for a tube; all mm.

    overrides : dimension name to mm or a count
    Raises CatalogueError for an unknown name, ShapeError when dimensions clash.
    """
    size = _size_name(cross)
    values = {
        "tube_diameter": tube_outside,
        "pilot_diameter": tube_outside - 2.0 * tube_wall,
        **_data("slip")[size],
    }
    return _made(SlipShape, f"slip {size}", f"slip {size}", values, overrides)


@cache
def dimension_names(kind: str) -> tuple[Dimension, ...]:
    """Return the dimensions that can be overridden of a kind of yoke, a "cross" or a "slip"."""
    if kind in _OTHERS:
        return _OTHERS[kind].described()
    return yoke_class(kind).described()


def yoke_class(kind: str) -> type[YokeShape]:
    """Return the kind of yoke, ordinary or deep-throat. Raises CatalogueError."""
    if kind not in yoke_kinds():
        raise CatalogueError(f"no yoke {kind!r}; {_choices(kind, yoke_kinds())}")
    return YOKES[ordinary(kind)]


def ordinary(kind: str) -> str:
    """Return a kind of yoke without the word for its deep throat."""
    return kind.removeprefix(f"{DEEP} ")


def slides(kind: str) -> bool:
    """Whether a kind of yoke slides on the output, so that it goes nowhere else."""
    return any(each.slides and kind.endswith(name) for name, each in YOKES.items())


def _size_name(name: str) -> str:
    """Return the size of cross meant by a size or a trade size, however it is spaced."""
    given = "".join(str(name).lower().replace("×", "x").split())
    known = {
        "".join(alias.split()): size.name
        for size in cross_sizes()
        for alias in (size.name, *size.aliases)
    }
    if given not in known:
        names = [alias for size in cross_sizes() for alias in (size.name, *size.aliases)]
        raise CatalogueError(f"no cross {name!r}; {_choices(str(name), names)}")
    return known[given]


def _made(
    shape: type[_Shape],
    what: str,
    name: str,
    values: Mapping[str, float],
    overrides: Mapping[str, float] | None,
) -> _Shape:
    told = tuple(sorted(values.items())), tuple((overrides or {}).items())
    return cast(_Shape, _built(cast(Any, shape), what, name, *told))


_Numbers = tuple[tuple[str, float], ...]


@lru_cache(maxsize=512)
def _built(shape: type[Any], what: str, name: str, values: _Numbers, overrides: _Numbers) -> Any:
    """A shape by its numbers, which a rig asks for again at each of its doses."""
    own = dict(overrides)
    names = [dimension.name for dimension in shape.described()]
    for key in own:
        if key not in names:
            raise CatalogueError(f"{what} has no dimension {key!r}; {_choices(key, names)}")
    base = dict(values)
    if "pilot_diameter" in base and "tube_diameter" in own:
        # Another tube is taken to have the same wall, unless its pilot is told as well.
        base["pilot_diameter"] += own["tube_diameter"] - base["tube_diameter"]
    try:
        return shape(name=name, **(base | own))
    except ShapeError as error:
        raise ShapeError(f"{what}: {error}") from error


def _choices(given: str, legal: Iterable[str]) -> str:
    """Return the words that list the legal names, the nearest one first if there is one."""
    names = list(legal)
    nearest = get_close_matches(given, names, n=1)
    meant = f"did you mean {nearest[0]!r}? " if nearest else ""
    return f"{meant}There are: {', '.join(names)}"


@cache
def _data(stem: str) -> dict[str, Any]:
    text = files("models").joinpath("catalogue", f"{stem}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
