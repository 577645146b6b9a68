"""The catalogue of generic double-Cardan heads: ordinary and high-angle, for every size of cross.

The numbers are data (models/catalogue/heads.toml): common practice, from memory. They stand in
until the real head is measured, and each of them can be overridden by name.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from geometry.cross import CrossShape
from geometry.dimensions import Dimension
from geometry.errors import ShapeError
from geometry.head import HeadShape
from geometry.yoke import YokeShape
from sim.head.bend import Head
from sim.parts.catalogue import CatalogueError, cross_shape, yoke_class, yoke_kinds, yoke_shape


def head_kinds() -> tuple[str, ...]:
    """Return every kind of head, the one that bends least first."""
    return tuple(name for name, table in _data().items() if isinstance(table, dict))


def head_yoke_kinds() -> tuple[str, ...]:
    """Return the kinds of yoke that can be an outer yoke of a head.

    From ears that are open toward the cross no bridge goes on.
    """
    return tuple(kind for kind in yoke_kinds() if not yoke_class(kind).strapped)


def head_dimension_names() -> tuple[Dimension, ...]:
    """Return the dimensions that can be overridden of a head."""
    return HeadShape.described()


def head_shape(
    kind: str,
    cross: str | CrossShape,
    carrying_yoke: str | YokeShape,
    sliding_yoke: str | YokeShape,
    overrides: Mapping[str, float] | None = None,
) -> HeadShape:
    """Return the head of a kind for a cross, with any of its dimensions overridden.

    cross : a size or trade size, or a cross of the catalogue with dimensions of its own
    carrying_yoke, sliding_yoke : the outer yoke with the ball, on the output's or the pinion's
        side, and the one with the socket, on the shaft's; a kind, or a shape for this cross
    overrides : dimension name to mm
    Raises CatalogueError for an unknown name, ShapeError when dimensions clash.
    """
    if kind not in head_kinds():
        raise CatalogueError(f"no head {kind!r}; expected one of {', '.join(head_kinds())}")
    held = cross_shape(cross) if isinstance(cross, str) else cross
    name = f"{kind} {held.name}"
    own = dict(overrides or {})
    names = [dimension.name for dimension in head_dimension_names()]
    for key in own:
        if key not in names:
            raise CatalogueError(
                f"{name} has no dimension {key!r}; expected one of {', '.join(names)}"
            )
    values: dict[str, float] = _data()[kind][held.name] | own
    carrying, sliding = _outer(carrying_yoke, held), _outer(sliding_yoke, held)
    try:
        return HeadShape(name=name, carrying=carrying, sliding=sliding, cross=held, **values)
    except ShapeError as error:
        raise ShapeError(f"{name}: {error}") from error


def head_of(shape: HeadShape) -> Head:
    """Return the head as the mathematics of the line sees it."""
    return Head(shape.span, shape.ball, shape.centring.limit)


def _outer(yoke: str | YokeShape, cross: CrossShape) -> YokeShape:
    if not isinstance(yoke, str):
        return yoke
    if yoke in yoke_kinds() and yoke not in head_yoke_kinds():
        raise CatalogueError(
            f"a {yoke} cannot be an outer yoke of a head: its ears are open toward the cross; "
            f"expected one of {', '.join(head_yoke_kinds())}"
        )
    return yoke_shape(yoke, cross)


@cache
def _data() -> dict[str, Any]:
    text = files("models").joinpath("catalogue", "heads.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
