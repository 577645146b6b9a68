"""Where to cut a yoke for each caliper reading, and where the arrow goes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, pi, sin, sqrt
from typing import Any

from geometry.yoke import YokeShape
from geometry.yoke.round_ear import ROOT_AT
from sim.parts.caliper import FLOOR_AT, beside_well

Point = tuple[float, float]

ALONG_BORES, ACROSS, ALONG_SHAFT = "along the bores", "across", "along the shaft"
"""How a cut is seen: x right and z up; x right and y up; y right and z up."""

CLEAR = 8.0
"""How far an arrow stands clear of the metal, mm."""


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


def cut_for(shape: YokeShape, reading: str) -> Cut:
    """Return the cut that shows a reading of `sim.parts.caliper` on a yoke."""
    return _CUTS[reading](shape)


def _ear_face(shape: YokeShape) -> float:
    """Place along x of the ears' nearest metal beside the bores in the cut through both."""
    return -0.5 * shape.bore if hasattr(shape, "ear_radius") else 0.0


def _end(shape: YokeShape) -> float:
    """How far the ears reach from the cross centre on the side away from the shaft."""
    return float(getattr(shape, "ear_radius", 0.5 * shape.bore))


def _inside_span(shape: YokeShape) -> Cut:
    x, half = _ear_face(shape), 0.5 * shape.inside_span
    return Cut(ACROSS, 0.0, Arrow((x, -half), (x, half), (-_end(shape) - CLEAR - x, 0.0)))


def _ear_thickness(shape: YokeShape) -> Cut:
    x, low, high = _ear_face(shape), 0.5 * shape.inside_span, 0.5 * shape.outside_span
    return Cut(ACROSS, 0.0, Arrow((x, low), (x, high), (-_end(shape) - CLEAR - x, 0.0)))


def _ear_wall(shape: Any) -> Cut:
    middle = 0.25 * (shape.inside_span + shape.outside_span)
    arrow = Arrow((-shape.ear_radius, 0.0), (-0.5 * shape.bore, 0.0), (0.0, -shape.ear_radius - 4))
    return Cut(ALONG_BORES, middle, arrow)


def _ear_bevel(shape: YokeShape) -> Cut:
    high = 0.5 * shape.outside_span
    x = -_end(shape) if hasattr(shape, "ear_radius") else 0.5 * shape.bore
    arrow = Arrow((x, high - shape.ear_edge), (x, high), (-CLEAR, 0.0))
    if hasattr(shape, "ear_radius"):
        return Cut(ACROSS, 0.0, arrow)
    half = 0.5 * float(getattr(shape, "saddle_width", 0.0))
    across = Arrow((high - shape.ear_edge, half), (high, half), (0.0, CLEAR))
    return Cut(ALONG_SHAFT, 0.4 * shape.bore, across)


def _root_width(shape: Any) -> Cut:
    x, half = ROOT_AT * shape.throat_depth, 0.5 * shape.ear_root_width
    middle = 0.25 * (shape.inside_span + shape.outside_span)
    return Cut(ALONG_BORES, middle, Arrow((x, -half), (x, half)))


def _saddle_width(shape: Any) -> Cut:
    x, half = 0.35 * shape.bore, 0.5 * shape.saddle_width
    middle = 0.25 * (shape.inside_span + shape.outside_span)
    shift = -x - 0.5 * shape.bore - CLEAR
    return Cut(ALONG_BORES, middle, Arrow((x, -half), (x, half), (shift, 0.0)))


def _rod(shape: YokeShape) -> tuple[tuple[Point, Point], ...]:
    """A rod as thick as the caps through both bores, seen from above."""
    x, y = 0.5 * shape.bore, 0.5 * shape.outside_span + 5.0
    return (((-x, -y), (-x, y)), ((x, -y), (x, y)), ((-x, y), (x, y)), ((-x, -y), (x, -y)))


def _throat_gap(shape: YokeShape) -> Cut:
    arrow = Arrow((0.5 * shape.bore, 0.0), (shape.throat_depth, 0.0))
    return Cut(ACROSS, 0.0, arrow, _rod(shape))


def _well_gap(shape: YokeShape) -> Cut:
    values = shape.dimensions()
    z, radius = beside_well(values), shape.saddle_radius
    floor = shape.throat_depth + radius - sqrt(max(radius**2 - z**2, 0.0))
    half = 0.5 * shape.bore
    # The rod is seen from its end.
    turn = [0.05 * pi * k for k in range(41)]
    rim = [(half * cos(angle), half * sin(angle)) for angle in turn]
    near = ((half, -z), (half, z + CLEAR))
    arrow = Arrow((half, z), (floor, z))
    return Cut(ALONG_BORES, 0.0, arrow, (*pairwise(rim), near))


def _nut_well(shape: Any) -> Cut:
    half = 0.5 * shape.nut_well
    return Cut(ALONG_BORES, 0.0, Arrow((shape.throat_depth, -half), (shape.throat_depth, half)))


def _throat_radius(shape: YokeShape) -> Cut:
    radius = shape.throat_radius
    x, y = shape.throat_depth - radius, 0.5 * shape.inside_span - radius
    to = (x + radius / sqrt(2.0), y + radius / sqrt(2.0))
    return Cut(ACROSS, 0.0, Arrow((x, y), to, one_head=True))


def _floor_fall(shape: YokeShape) -> Cut:
    floor, radius = shape.throat_depth, shape.saddle_radius
    fall = radius - sqrt(max(radius**2 - FLOOR_AT**2, 0.0))
    edge = (((floor, -1.4 * FLOOR_AT), (floor, 1.4 * FLOOR_AT)),)
    arrow = Arrow((floor, FLOOR_AT), (floor + fall, FLOOR_AT), (0.0, CLEAR))
    return Cut(ALONG_BORES, 0.0, arrow, edge)


def _tube(shape: Any) -> tuple[tuple[Point, Point], ...]:
    near, far, radius = shape.weld_land, shape.weld_land + 25.0, 0.5 * shape.tube_diameter
    return tuple(((near, y), (far, y)) for y in (-radius, radius))


def _shoulder_gap(shape: Any) -> Cut:
    start = (0.5 * shape.bore, 0.5 * shape.outside_span)
    end = (shape.weld_land, 0.5 * shape.tube_diameter)
    return Cut(ACROSS, 0.0, Arrow(start, end, (0.0, CLEAR)), (*_tube(shape), *_rod(shape)))


def _shoulder(shape: Any) -> Cut:
    radius = 0.5 * shape.tube_diameter
    arrow = Arrow((shape.weld_land - shape.shoulder, radius), (shape.weld_land, radius), (0, CLEAR))
    return Cut(ACROSS, 0.0, arrow, _tube(shape))


def _tube_diameter(shape: Any) -> Cut:
    x, radius = shape.weld_land + 18.0, 0.5 * shape.tube_diameter
    return Cut(ACROSS, 0.0, Arrow((x, -radius), (x, radius)), _tube(shape))


def _flange_gap(shape: Any) -> Cut:
    start, end = (0.5 * shape.bore, 0.5 * shape.outside_span), (shape.flange_face, 0.0)
    rim = 0.5 * shape.flange_diameter
    arrow = Arrow((start[0], start[1]), (end[0], rim), (0.0, CLEAR))
    return Cut(ACROSS, 0.0, arrow, _rod(shape))


def _flange_thickness(shape: Any) -> Cut:
    rim = 0.5 * shape.flange_diameter
    return Cut(ACROSS, 0.0, Arrow((shape.plate, rim), (shape.flange_face, rim), (0.0, CLEAR)))


def _flange_diameter(shape: Any) -> Cut:
    x, rim = shape.flange_face, 0.5 * shape.flange_diameter
    return Cut(ACROSS, 0.0, Arrow((x, -rim), (x, rim), (shape.mate_thickness + CLEAR, 0.0)))


def _bolt_circle(shape: Any) -> Cut:
    y, z = shape.bolt_places()[0]
    at = shape.plate - 0.5 * shape.bolt_head_height
    return Cut(ALONG_SHAFT, at, Arrow((-y, -z), (y, z)))


def _bolt_head(shape: Any) -> Cut:
    half = 0.5 * shape.bolt_head
    if hasattr(shape, "bolt_places"):
        y, z = shape.bolt_places()[0]
        at = shape.plate - 0.5 * shape.bolt_head_height
    else:
        y, z = shape.strap_middle, 0.5 * shape.strap_bolt_spacing
        at = _strap_seat(shape) - 0.5 * shape.bolt_head_height
    # Across the flats: the corners of the hexagon lie to the right and left.
    return Cut(ALONG_SHAFT, at, Arrow((y, z - half), (y, z + half), (shape.bolt_head + 4.0, 0.0)))


def _strap_seat(shape: Any) -> float:
    """Place along x that a strap's bolt head is screwed down on."""
    top = float(shape.build().parts["bolts"].bounds[0, 0])
    return top + float(shape.bolt_head_height)


def _bolt_head_height(shape: Any) -> Cut:
    if hasattr(shape, "bolt_places"):
        y, z = shape.bolt_places()[0]
        low, high = shape.plate - shape.bolt_head_height, shape.plate
    else:
        y, z = shape.strap_middle, 0.5 * shape.strap_bolt_spacing
        high = _strap_seat(shape)
        low = high - shape.bolt_head_height
    return Cut(ALONG_BORES, y, Arrow((low, z), (high, z), (0.0, shape.bolt_head + 2.0)))


def _web(shape: Any) -> Cut:
    start, end = (shape.throat_depth, 0.0), (shape.throat_depth + shape.web, 0.0)
    side = 0.5 * (shape.barrel_diameter if hasattr(shape, "barrel_diameter") else 0.0) + CLEAR
    return Cut(ACROSS, 0.0, Arrow(start, end, (0.0, side)))


def _round(shape: Any, diameter: float) -> Cut:
    x, radius = shape.throat_depth + shape.web + 6.0, 0.5 * diameter
    return Cut(ACROSS, 0.0, Arrow((x, -radius), (x, radius)))


def _strap_width(shape: Any) -> Cut:
    low, high = (shape.strap_middle + s * 0.5 * shape.strap_width for s in (-1.0, 1.0))
    z = 0.5 * shape.bore + shape.strap_thickness
    return Cut(ALONG_SHAFT, -0.2, Arrow((low, z), (high, z), (0.0, shape.bolt_head + CLEAR)))


def _strap_thickness(shape: Any) -> Cut:
    near, far = -0.5 * shape.bore, -0.5 * shape.bore - shape.strap_thickness
    return Cut(ALONG_BORES, shape.strap_middle, Arrow((far, 0.0), (near, 0.0), (0.0, CLEAR + 10.0)))


def _strap_bolt_spacing(shape: Any) -> Cut:
    half, y = 0.5 * shape.strap_bolt_spacing, shape.strap_middle
    at = _strap_seat(shape) - 0.5 * shape.bolt_head_height
    return Cut(ALONG_SHAFT, at, Arrow((y, -half), (y, half), (shape.bolt_head + 4.0, 0.0)))


_CUTS: Mapping[str, Callable[[Any], Cut]] = {
    "inside span": _inside_span,
    "ear thickness": _ear_thickness,
    "ear wall": _ear_wall,
    "ear bevel": _ear_bevel,
    "root width": _root_width,
    "saddle width": _saddle_width,
    "throat gap": _throat_gap,
    "well gap": _well_gap,
    "nut well": _nut_well,
    "throat radius": _throat_radius,
    "floor fall": _floor_fall,
    "shoulder gap": _shoulder_gap,
    "shoulder": _shoulder,
    "tube diameter": _tube_diameter,
    "flange gap": _flange_gap,
    "flange thickness": _flange_thickness,
    "flange diameter": _flange_diameter,
    "bolt circle": _bolt_circle,
    "bolt head": _bolt_head,
    "bolt head height": _bolt_head_height,
    "web": _web,
    "barrel diameter": lambda shape: _round(shape, shape.barrel_diameter),
    "hub diameter": lambda shape: _round(shape, shape.hub_diameter),
    "strap width": _strap_width,
    "strap thickness": _strap_thickness,
    "strap bolt spacing": _strap_bolt_spacing,
}


def length_of(arrow: Arrow) -> float:
    """Return the length that an arrow measures, mm: square to its shift, if it has one."""
    along = (arrow.end[0] - arrow.start[0], arrow.end[1] - arrow.start[1])
    size = hypot(*arrow.aside)
    if size == 0.0:
        return hypot(*along)
    return abs(along[0] * arrow.aside[1] - along[1] * arrow.aside[0]) / size
