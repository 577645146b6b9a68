"""A drawing on white paper as data: lines, arrow heads and words, to print in black and white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from viewer.draw.camera import Floats

Point = tuple[float, float]

SCALE = 3.2
"""px a mm, so that arrows are of one thickness in all drawings."""

INK, METAL, SMALL_PARTS, ARROW = "#222222", "#8a8a8a", "#3a6ea5", "#c1121f"
"""Colours that keep apart in black and white too: the arrow is the thickest line."""


@dataclass(frozen=True, eq=False)
class Stroke:
    """Lines, (n, 2, 2) mm, of one colour; width and dashes in mm."""

    segments: Floats
    colour: str
    width: float
    dashes: tuple[float, float] | None = None
    round_ends: bool = True


@dataclass(frozen=True)
class Head:
    """The head of an arrow: a filled triangle, mm."""

    corners: tuple[Point, Point, Point]


@dataclass(frozen=True)
class Word:
    """A word, its middle at a point, mm; size : height of its letters, mm."""

    text: str
    at: Point
    size: float = 6.0
    bold: bool = False


Mark = Stroke | Head | Word


@dataclass(frozen=True, eq=False)
class Plan:
    """A drawing as data, mm: what is drawn, in order, and the corners (2,) of its frame."""

    view: str
    marks: tuple[Mark, ...]
    low: Floats
    high: Floats


def moved(point: Point, along: Sequence[float], by: float) -> Point:
    """A point a way along a direction (2,), mm."""
    return point[0] + by * along[0], point[1] + by * along[1]


def head(tip: Point, along: Sequence[float], length: float) -> Head:
    """The head of an arrow that ends at `tip` and flies `along` (2,); mm."""
    back = moved(tip, along, -length)
    side = (-along[1] * 0.3 * abs(length), along[0] * 0.3 * abs(length))
    return Head((tip, moved(back, side, 1.0), moved(back, side, -1.0)))


def svg(plan: Plan, title: str) -> str:
    """The drawing as SVG."""
    low, high = plan.low, plan.high
    wide, tall = (float(x) for x in high - low)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{SCALE * wide:.0f}" '
        f'height="{SCALE * tall:.0f}" viewBox="{low[0]:.2f} {-high[1]:.2f} {wide:.2f} '
        f'{tall:.2f}" role="img"><title>{escape(title)}</title>'
        f'<rect x="{low[0]:.2f}" y="{-high[1]:.2f}" width="{wide:.2f}" height="{tall:.2f}" '
        f'fill="#ffffff"/>{"".join(map(_drawn, plan.marks))}</svg>'
    )


def _drawn(mark: Mark) -> str:
    """Return one mark as SVG."""
    if isinstance(mark, Head):
        return f'<path d="M{"L".join(_at(c) for c in mark.corners)}Z" fill="{ARROW}"/>'
    if isinstance(mark, Word):
        x, y = mark.at
        weight = ' font-weight="bold"' if mark.bold else ""
        return (
            f'<text x="{x:.2f}" y="{-y:.2f}" font-family="sans-serif" font-size="{mark.size:g}" '
            f'text-anchor="middle" dominant-baseline="central" fill="{INK}"{weight}>'
            f"{escape(mark.text)}</text>"
        )
    steps = "".join(f"M{_at(a)}L{_at(b)}" for a, b in mark.segments.tolist())
    dashed = f' stroke-dasharray="{mark.dashes[0]:g} {mark.dashes[1]:g}"' if mark.dashes else ""
    ends = ' stroke-linecap="round"' if mark.round_ends else ""
    return (
        f'<path d="{steps}" fill="none" stroke="{mark.colour}" '
        f'stroke-width="{mark.width}"{ends}{dashed}/>'
    )


def _at(point: Sequence[float]) -> str:
    return f"{point[0]:.2f} {-point[1]:.2f}"
