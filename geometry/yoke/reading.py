"""What a caliper reads on a yoke: the dimension it gives, and where to cut the yoke to show it.

A caliper seldom reads a dimension of the shape itself: nobody can put one on the cross centre.
So every reading is taken from an edge that is there. Each kind of yoke has its own readings;
here stands what they are made of, and those that more than one kind has.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Any, Final

Point = tuple[float, float]

ALONG_BORES, ACROSS, ALONG_SHAFT = "along the bores", "across", "along the shaft"
"""How a cut is seen: x right and z up; x right and y up; y right and z up."""

CLEAR: Final = 8.0
"""How far an arrow stands clear of the metal, mm."""

FLOOR_AT: Final = 20.0
"""mm from the middle at which the fall of the throat's floor is read."""


@dataclass(frozen=True)
class Arrow:
    """What is measured, in the plane of the drawing, mm.

    start, end : between which points
    aside : shift of the arrow from there, so that it stands clear; thin lines lead to the points
    one_head : whether it is a radius, from its centre to the arc
    """

    start: Point
    end: Point
    aside: Point = (0.0, 0.0)
    one_head: bool = False


@dataclass(frozen=True)
class Cut:
    """A cut to draw and the arrow on it.

    view : how it is seen
    at : where the plane of the cut is, mm from the cross centre toward the viewer's side
    arrow : what is measured
    lines : a rod through the bores, a straight edge, a tube: what is not part of the yoke
    """

    view: str
    at: float
    arrow: Arrow
    lines: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True)
class Way:
    """How a reading becomes a dimension and back, mm, given the other dimensions by name."""

    dimension: Callable[[float, Mapping[str, float]], float]
    reading: Callable[[float, Mapping[str, float]], float]


def fall(at: float, radius: float) -> float:
    """How far an arc has fallen `at` mm beside its middle."""
    return radius - sqrt(max(radius**2 - at**2, 0.0))


AS_READ: Final = Way(lambda read, _: read, lambda value, _: value)
FROM_BORE: Final = Way(
    lambda read, values: read + 0.5 * values["bore"],
    lambda value, values: value - 0.5 * values["bore"],
)
"""From the near edge of the bores."""
FALLING: Final = Way(
    lambda fallen, _: (FLOOR_AT**2 + fallen**2) / (2.0 * fallen),
    lambda radius, _: fall(FLOOR_AT, radius),
)
"""The radius of an arc by its fall."""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One thing to measure on a yoke.

    name : of the reading
    dimension : of the yoke that it gives
    asks : the question, in one line
    how : how to measure it
    cut : where to cut a yoke to show it
    way : from what is read to the dimension
    """

    name: str
    dimension: str
    asks: str
    how: str
    cut: Callable[[Any], Cut]
    way: Way = AS_READ


def rod(shape: Any) -> tuple[tuple[Point, Point], ...]:
    """A rod as thick as the caps through both bores, seen from above."""
    x, y = 0.5 * shape.bore, 0.5 * shape.outside_span + 5.0
    return (((-x, -y), (-x, y)), ((x, -y), (x, y)), ((-x, y), (x, y)), ((-x, -y), (x, -y)))


def _beyond_ears(shape: Any, low: float, high: float) -> Cut:
    x, end = shape.ear_reach
    return Cut(ACROSS, 0.0, Arrow((x, low), (x, high), (-end - CLEAR - x, 0.0)))


def _throat_radius(shape: Any) -> Cut:
    radius = shape.throat_radius
    x, y = shape.throat_depth - radius, 0.5 * shape.inside_span - radius
    to = (x + radius / sqrt(2.0), y + radius / sqrt(2.0))
    return Cut(ACROSS, 0.0, Arrow((x, y), to, one_head=True))


EARS: Final = (
    Reading(
        name="inside span",
        dimension="inside_span",
        asks="How far apart are the inside faces of the two ears?",
        how="Inside jaws between the flats round the bores.",
        cut=lambda shape: _beyond_ears(shape, -0.5 * shape.inside_span, 0.5 * shape.inside_span),
    ),
    Reading(
        name="ear thickness",
        dimension="ear_thickness",
        asks="How thick is an ear, from its inside face to its outside face, at the bore?",
        how="Outside jaws over one ear, beside the bore; not over a snap ring or a boss.",
        cut=lambda shape: _beyond_ears(shape, 0.5 * shape.inside_span, 0.5 * shape.outside_span),
    ),
)
"""What the ears of every yoke are asked."""


def ear_bevel(cut: Callable[[Any], Cut]) -> Reading:
    """The bevel of the ears' edges, shown where the kind's ears have one."""
    return Reading(
        name="ear bevel",
        dimension="ear_edge",
        asks="How wide is the bevel or rounding along the outer edges of the ears?",
        how="From the outside face to where the bevel ends, square to the face. A rounding counts "
        "like the bevel that would just clear it.",
        cut=cut,
    )


THROAT_RADIUS: Final = Reading(
    name="throat radius",
    dimension="throat_radius",
    asks="What is the radius between the floor of the throat and the inside of an ear?",
    how="A radius gauge, or a coin or washer that lies snug in the corner: half its diameter.",
    cut=_throat_radius,
)


def shank(name: str, dimension: str, asks: str, how: str) -> Reading:
    """A diameter behind the web, where the shank is round."""

    def cut(shape: Any) -> Cut:
        x, radius = shape.throat_depth + shape.web + 6.0, 0.5 * getattr(shape, dimension)
        return Cut(ACROSS, 0.0, Arrow((x, -radius), (x, radius)))

    return Reading(name=name, dimension=dimension, asks=asks, how=how, cut=cut)


def bolt_heads(place: Callable[[Any], tuple[float, float, float]]) -> tuple[Reading, Reading]:
    """Width and height of a bolt's head; `place` is (y, z) of one, and x that it sits on."""

    def width(shape: Any) -> Cut:
        y, z, seat = place(shape)
        half, at = 0.5 * shape.bolt_head, seat - 0.5 * shape.bolt_head_height
        # Across the flats: the corners of the hexagon lie to the right and left.
        aside = (shape.bolt_head + 4.0, 0.0)
        return Cut(ALONG_SHAFT, at, Arrow((y, z - half), (y, z + half), aside))

    def height(shape: Any) -> Cut:
        y, z, seat = place(shape)
        aside = (0.0, shape.bolt_head + 2.0)
        return Cut(ALONG_BORES, y, Arrow((seat - shape.bolt_head_height, z), (seat, z), aside))

    return (
        Reading(
            name="bolt head",
            dimension="bolt_head",
            asks="How wide is a bolt head across its flats?",
            how="Outside jaws; the size of the wrench that fits.",
            cut=width,
        ),
        Reading(
            name="bolt head height",
            dimension="bolt_head_height",
            asks="How far does a bolt head stand up, with its washer?",
            how="Depth gauge from the top of the head to what it is screwed down on.",
            cut=height,
        ),
    )
