"""What lives around the shaft, in verbs: its bodies, its names, and the smallest gaps to it."""

from collections.abc import Sequence

import numpy as np

from viewer.draw.base import BLACK, Canvas, Letters
from viewer.draw.camera import Camera, Floats, Region
from viewer.scene.labels import Ground, Label
from viewer.scene.marks import BLUE, RED, gap_line, gap_ring, short_length, touch_ring
from viewer.scene.parts import PosedPart
from viewer.scene.shaft import GapMark
from viewer.scene.staging import inside

RING = 34.0
"""Radius of the ring around a gap that is too short on the page to be seen as a line, px."""

SHORT = 16.0
"""Such a gap, px."""


def mark_gap(
    gap: GapMark, canvas: Canvas, region: Region, camera: Camera, ground: Ground, scale: float
) -> Label:
    """Draw the line between the two nearest points, or a ring where they touch; its label."""
    ends = camera.project(gap.points, region)
    middle = ends.mean(axis=0)
    apart = float(np.linalg.norm(ends[1] - ends[0]))
    clear = 0.5 * apart + 4.0 * scale
    if gap.touches:
        touch_ring(canvas, middle, RING * scale, scale, seen=True)
        clear = 1.5 * RING * scale
    else:
        if apart < SHORT * scale:
            gap_ring(canvas, middle, RING * scale, scale, seen=True)
            clear = 1.1 * RING * scale
        gap_line(canvas, ends, scale)
    ground.cover_box(Region.around(middle, max(clear, 0.5 * apart)), 6.0)
    colour = RED if gap.touches else BLUE
    small = Letters(24.0 * scale)
    first = f"TOUCHES THE {gap.thing.upper()}" if gap.touches else f"GAP {short_length(gap.gap_mm)}"
    lines = [(first, Letters(33.0 * scale, bold=True, colour=colour))]
    lines.append((f"{gap.part} to {gap.thing}" if not gap.touches else f"the {gap.part}", small))
    return Label(tuple(lines), (float(middle[0]), float(middle[1])), clear, colour)


def cover_thing(
    name: str, around: Sequence[PosedPart], region: Region, camera: Camera, ground: Ground
) -> None:
    """Keep words off a thing, which is small on the page and hidden by them at once."""
    for part in around:
        if part.name == name:
            points = camera.project(part.in_chassis, region)
            low = np.maximum(points.min(axis=0), region.corners[0])
            width, height = np.minimum(points.max(axis=0), region.corners[1]) - low
            if width > 0.0 and height > 0.0:
                ground.cover_box(Region(*map(float, (*low, width, height))), 5.0)


def names(
    around: Sequence[PosedPart],
    named: Sequence[str],
    region: Region,
    camera: Camera,
    scale: float,
) -> list[Label]:
    """The name of each thing, pointing at it where it can be seen."""
    labels = []
    for name in dict.fromkeys(named):
        points = np.concatenate([part.in_chassis for part in around if part.name == name])
        at = _within(camera.project(points, region), region)
        if at is not None:
            words = ((name, Letters(26.0 * scale, bold=True, colour=BLACK)),)
            labels.append(Label(words, (float(at[0]), float(at[1]))))
    return labels


def _within(points: Floats, region: Region) -> Floats | None:
    """Middle of what a region shows of a body with these corners, (n, 2) px; None of nothing."""
    low, high = points.min(axis=0), points.max(axis=0)
    if (low > region.corners[1]).any() or (high < region.corners[0]).any():
        return None
    at = 0.5 * (np.maximum(low, region.corners[0]) + np.minimum(high, region.corners[1]))
    return np.asarray(at) if inside(at, region) else None
