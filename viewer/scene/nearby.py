"""What lives around the shaft, in verbs: its names, and the smallest gaps to it."""

from collections.abc import Sequence

import numpy as np

from viewer.draw.base import Letters
from viewer.draw.camera import Floats, Region
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene.figure import Figure, inside, points_of
from viewer.scene.marks import gap_line, gap_ring, short_length, touch_ring
from viewer.scene.parts import PosedPart
from viewer.scene.shaft import GapMark

RING = 34.0
"""Radius of the ring around a gap that is too short on the page to be seen as a line, px."""

SHORT = 16.0
"""Such a gap, px."""


def mark_gap(figure: Figure, gap: GapMark) -> None:
    """Draw the line between the two nearest points, or a ring where they touch; its label."""
    ends = figure.at(gap.points)
    middle = ends.mean(axis=0)
    apart = float(np.linalg.norm(ends[1] - ends[0]))
    clear = 0.5 * apart + 4.0
    if gap.touches:
        touch_ring(figure.stage, middle, RING)
        clear = 1.5 * RING
    else:
        if apart < SHORT:
            gap_ring(figure.stage, middle, RING)
            clear = 1.1 * RING
        gap_line(figure.stage, ends)
    figure.ground.cover_box(Region.around(middle, max(clear, 0.5 * apart)), 6.0)
    colour = RED if gap.touches else BLUE
    first = f"TOUCHES THE {gap.thing.upper()}" if gap.touches else f"GAP {short_length(gap.gap_mm)}"
    second = f"the {gap.part}" if gap.touches else f"{gap.part} to {gap.thing}"
    lines = [(first, Letters(33.0, bold=True, colour=colour)), (second, Letters(24.0))]
    figure.say(middle, lines, clear, colour, first=True)


def cover_things(figure: Figure, things: Sequence[PosedPart]) -> None:
    """Keep words off things, which are small on the page and hidden by them at once."""
    for part in things:
        points = figure.at(part.in_chassis)
        low = np.maximum(points.min(axis=0), figure.region.corners[0])
        width, height = np.minimum(points.max(axis=0), figure.region.corners[1]) - low
        if width > 0.0 and height > 0.0:
            figure.ground.cover_box(Region(*map(float, (*low, width, height))), 5.0)


def name_things(figure: Figure, things: Sequence[PosedPart]) -> None:
    """Write the name of each thing, pointing at it where it can be seen."""
    for name in dict.fromkeys(part.name for part in things):
        points = points_of(part for part in things if part.name == name)
        at = _within(figure.at(points), figure.region)
        if at is not None:
            figure.say(at, [(name, Letters(26.0, bold=True))])


def _within(points: Floats, region: Region) -> Floats | None:
    """Middle of what a region shows of a body with these corners, (n, 2) px; None of nothing."""
    low, high = points.min(axis=0), points.max(axis=0)
    if (low > region.corners[1]).any() or (high < region.corners[0]).any():
        return None
    at = 0.5 * (np.maximum(low, region.corners[0]) + np.minimum(high, region.corners[1]))
    return np.asarray(at) if inside(at, region) else None
