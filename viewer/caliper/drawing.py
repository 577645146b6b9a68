"""A line drawing for every caliper reading: a cut through the yoke and what to measure on it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import hypot

import numpy as np

from geometry.mesh import Floats
from geometry.yoke import YokeShape
from geometry.yoke.reading import ACROSS, ALONG_BORES, ALONG_SHAFT, Arrow, Cut, Point
from viewer.draw.plan import ARROW, INK, METAL, SMALL_PARTS, Mark, Plan, Stroke, head, moved, svg
from viewer.scene.section import clipped, cut, hatch

MARGIN = 4.0
"""Round the drawing, mm."""

BEHIND = 28.0
"""How much of a long shank is shown behind the ears' roots, mm."""

_FRAMES: Mapping[str, tuple[int, int, int]] = {
    ALONG_BORES: (0, 2, 1),
    ACROSS: (0, 1, 2),
    ALONG_SHAFT: (1, 2, 0),
}
"""Axes of the yoke frame that go right, up, and through the cut."""

_BODY = "body"


def plan_of(shape: YokeShape, reading: str) -> Plan:
    """Return the drawing of where a reading is taken on a yoke.

    The metal that is cut is hatched; caps, straps and bolts are outlined in another colour; what
    is not part of the yoke (a rod through the bores, a straight edge, the tube) is dashed.
    """
    plan = next(each.cut(shape) for each in shape.readings() if each.name == reading)
    outlines = _outlines(shape, plan)
    low, high = _frame(outlines, plan, shape)
    lines = [
        Stroke(hatch(outlines[_BODY], np.pi / 4.0, 2.2), METAL, 0.25),
        *(
            Stroke(segments, INK if part == _BODY else SMALL_PARTS, 0.45)
            for part, segments in outlines.items()
        ),
        Stroke(np.array(plan.lines).reshape(-1, 2, 2), INK, 0.35, (2.0, 1.5)),
    ]
    seen = [
        replace(line, segments=clipped(line.segments, low, high))
        for line in lines
        if len(line.segments)
    ]
    return Plan(plan.view, (*seen, *_arrow(plan.arrow)), low, high)


def drawing(shape: YokeShape, reading: str) -> str:
    """Return `plan_of` as SVG."""
    return svg(plan_of(shape, reading), f"where to measure the {reading}")


def _outlines(shape: YokeShape, plan: Cut) -> dict[str, Floats]:
    """Return the outline of each part in the cut, (n, 2, 2) mm, body first."""
    right, up, through = _FRAMES[plan.view]
    X = np.zeros((4, 4))
    X[0, right] = X[1, up] = X[2, through] = X[3, 3] = 1.0
    X[2, 3] = -plan.at
    return {name: cut(mesh, X) for name, mesh in shape.build().parts.items()}


def _frame(outlines: Mapping[str, Floats], plan: Cut, shape: YokeShape) -> tuple[Floats, Floats]:
    """Return the corners of what is shown, (2,) mm each, a long shank cut short."""
    reach = [plan.arrow.start, plan.arrow.end, *_laid(plan.arrow).reach]
    points = [np.array(reach), *(part.reshape(-1, 2) for part in outlines.values())]
    points.append(np.array(plan.lines).reshape(-1, 2))
    cloud = np.concatenate(points)
    low, high = cloud.min(axis=0) - MARGIN, cloud.max(axis=0) + MARGIN
    if plan.view != ALONG_SHAFT:
        must = max(x for x, _ in reach) + MARGIN
        high[0] = min(high[0], max(must, shape.throat_depth + 2.0 * BEHIND))
    return low, high


@dataclass(frozen=True)
class _Laid:
    """An arrow as it is drawn: its two tips, the ends of its line, and room for a number in pen."""

    tips: tuple[Point, Point]
    line: tuple[Point, Point]
    along: Point
    inside: bool
    number: Point

    @property
    def reach(self) -> list[Point]:
        """Points that must be in the frame, mm."""
        x, y = self.number
        return [*self.line, (x - 8.0, y - 3.0), (x + 8.0, y + 3.0)]


def _laid(arrow: Arrow) -> _Laid:
    start, end = _shifted(arrow)
    size = hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / size, (end[1] - start[1]) / size)
    # Where there is no room between the points, the heads push from outside.
    inside = size > 2.5 * _HEAD
    far = 0.0 if inside else 2.5 * _HEAD
    tail = start if arrow.one_head else moved(start, along, -far)
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    beside = (-along[1], along[0])
    space = 4.5 + 4.0 * abs(beside[0])
    number = moved(middle, beside, space) if inside else moved(end, along, far + 8.0)
    return _Laid((start, end), (tail, moved(end, along, far)), along, inside, number)


_HEAD = 4.0
"""Length of an arrow's head, mm."""


def _arrow(arrow: Arrow) -> Iterable[Mark]:
    laid = _laid(arrow)
    start, end = laid.tips
    if arrow.aside != (0.0, 0.0):
        for point, to in ((arrow.start, start), (arrow.end, end)):
            yield _line(point, to, 0.3)
    yield _line(*laid.line, 0.7)
    length = _HEAD if laid.inside else -_HEAD
    yield head(end, laid.along, length)
    if not arrow.one_head:
        yield head(start, laid.along, -length)


def _shifted(arrow: Arrow) -> tuple[Point, Point]:
    """Return the ends of the arrow's own line: level with each other, square to its shift."""
    (ax, ay), (bx, by) = arrow.start, arrow.end
    dx, dy = arrow.aside
    if dx == 0.0 and dy == 0.0:
        return arrow.start, arrow.end
    if dx == 0.0:
        y = (max if dy > 0.0 else min)(ay, by) + dy
        return (ax, y), (bx, y)
    x = (max if dx > 0.0 else min)(ax, bx) + dx
    return (x, ay), (x, by)


def _line(start: Point, end: Point, width: float) -> Stroke:
    return Stroke(np.array([[start, end]]), ARROW, width, round_ends=False)
