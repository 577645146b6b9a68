"""What a caliper reads on a strap yoke, and where to cut one to show it."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from math import cos, pi, sin
from typing import Any, Final

from geometry.yoke.reading import (
    ALONG_BORES,
    ALONG_SHAFT,
    CLEAR,
    EARS,
    Arrow,
    Cut,
    Reading,
    Way,
    bolt_heads,
    ear_bevel,
    fall,
    shank,
)

SEAT: Final = 0.8
"""How far behind the middle of the caps the ears end, mm: a saddle is a little under half round."""

BESIDE_WELL: Final = 3.0
"""mm from the edge of a nut's well at which the floor beside it is read."""


def beside_well(values: Mapping[str, float]) -> float:
    """How far from the shaft's axis the floor is read on a yoke with a well for a nut, mm."""
    return 0.5 * values["nut_well"] + BESIDE_WELL


def _well_floor(values: Mapping[str, float]) -> float:
    """From the middle of the floor, which the well has taken, back to the bore's near edge, mm."""
    return 0.5 * values["bore"] - fall(beside_well(values), values["saddle_radius"])


def _ear_bevel(shape: Any) -> Cut:
    high, half = 0.5 * shape.outside_span, 0.5 * shape.saddle_width
    across = Arrow((high - shape.ear_edge, half), (high, half), (0.0, CLEAR))
    return Cut(ALONG_SHAFT, 0.4 * shape.bore, across)


def _saddle_width(shape: Any) -> Cut:
    x, half = 0.35 * shape.bore, 0.5 * shape.saddle_width
    middle = 0.25 * (shape.inside_span + shape.outside_span)
    shift = -x - 0.5 * shape.bore - CLEAR
    return Cut(ALONG_BORES, middle, Arrow((x, -half), (x, half), (shift, 0.0)))


def _well_gap(shape: Any) -> Cut:
    z = beside_well(shape.dimensions())
    floor, half = shape.throat_depth + fall(z, shape.saddle_radius), 0.5 * shape.bore
    # The rod is seen from its end.
    turn = [0.05 * pi * k for k in range(41)]
    rim = [(half * cos(angle), half * sin(angle)) for angle in turn]
    near = ((half, -z), (half, z + CLEAR))
    return Cut(ALONG_BORES, 0.0, Arrow((half, z), (floor, z)), (*pairwise(rim), near))


def _nut_well(shape: Any) -> Cut:
    half = 0.5 * shape.nut_well
    return Cut(ALONG_BORES, 0.0, Arrow((shape.throat_depth, -half), (shape.throat_depth, half)))


def _strap_width(shape: Any) -> Cut:
    low, high = (shape.strap_middle + s * 0.5 * shape.strap_width for s in (-1.0, 1.0))
    z = 0.5 * shape.bore + shape.strap_thickness
    return Cut(ALONG_SHAFT, -0.2, Arrow((low, z), (high, z), (0.0, shape.bolt_head + CLEAR)))


def _strap_thickness(shape: Any) -> Cut:
    near, far = -0.5 * shape.bore, -0.5 * shape.bore - shape.strap_thickness
    return Cut(ALONG_BORES, shape.strap_middle, Arrow((far, 0.0), (near, 0.0), (0.0, CLEAR + 10.0)))


def _bolt(shape: Any) -> tuple[float, float, float]:
    """A strap's bolt: (y, z), and what its head is screwed down on, mm."""
    return shape.strap_middle, 0.5 * shape.strap_bolt_spacing, SEAT - shape.strap_thickness


def _strap_bolt_spacing(shape: Any) -> Cut:
    y, half, seat = _bolt(shape)
    at = seat - 0.5 * shape.bolt_head_height
    return Cut(ALONG_SHAFT, at, Arrow((y, -half), (y, half), (shape.bolt_head + 4.0, 0.0)))


READINGS: Final = (
    *EARS,
    Reading(
        name="saddle width",
        dimension="saddle_width",
        asks="How wide is an ear across its flanks, over both bolt bosses?",
        how="Outside jaws across the ear at the saddle.",
        cut=_saddle_width,
    ),
    ear_bevel(_ear_bevel),
    Reading(
        name="nut well",
        dimension="nut_well",
        asks="How wide is the well for the nut in the floor of the throat?",
        how="Inside jaws across the well.",
        cut=_nut_well,
    ),
    Reading(
        name="well gap",
        dimension="throat_depth",
        asks=f"How far is it from the bore to the floor of the throat, {BESIDE_WELL:g} mm beside "
        "the nut's well?",
        how="Put a straight rod as thick as the caps into both saddles and take the depth gauge "
        "from its near side down to the floor, halfway between the ears. With the cross in, from "
        "the cap's near side.",
        cut=_well_gap,
        way=Way(
            lambda read, values: read + _well_floor(values),
            lambda value, values: value - _well_floor(values),
        ),
    ),
    shank(
        "hub diameter",
        "hub_diameter",
        "What is the outside diameter of the hub?",
        "Outside jaws on the round behind the ears.",
    ),
    Reading(
        name="strap width",
        dimension="strap_width",
        asks="How wide is a strap, along the cap?",
        how="Outside jaws over its edges.",
        cut=_strap_width,
    ),
    Reading(
        name="strap thickness",
        dimension="strap_thickness",
        asks="How thick is a strap's metal?",
        how="Outside jaws, at the top of its arch.",
        cut=_strap_thickness,
    ),
    Reading(
        name="strap bolt spacing",
        dimension="strap_bolt_spacing",
        asks="How far apart are the middles of the two bolts of one strap?",
        how="From the left edge of the one head to the left edge of the other.",
        cut=_strap_bolt_spacing,
    ),
    *bolt_heads(_bolt),
)
"""That which most often decides a touch among the first."""
