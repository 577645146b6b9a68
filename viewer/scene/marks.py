"""Shapes that point at a place: a ring with four ticks, a gap's own line, arcs, dashes.

Each is drawn twice, first broad in white, so that it stands out from light and dark metal alike,
in colour and in black and white.
"""

import numpy as np

from viewer.draw.base import BLACK, WHITE, Canvas, Colour, Pen
from viewer.draw.camera import Floats

RED: Colour = (0.76, 0.06, 0.0)
"""The colour of a touch; dark enough to stay plain in black and white."""

BLUE: Colour = (0.0, 0.29, 0.60)
"""The colour of room that is left; told apart from the red by the commoner colour blindnesses."""


INCH = 25.4


def haloed(canvas: Canvas, segments: Floats, pen: Pen, halo: float) -> None:
    """Draw segments with `halo` px of white on both sides."""
    canvas.stroke(segments, Pen(WHITE, pen.width + 2.0 * halo))
    canvas.stroke(segments, pen)


def touch_ring(
    canvas: Canvas, at: Floats, radius: float, scale: float, seen: bool, colour: Colour = RED
) -> None:
    """A ring with four ticks pointing in, around a place (2,) px; dashed where metal hides it."""
    ring = circle(at, radius)
    if not seen:
        ring = ring[np.arange(len(ring)) % 8 < 5]
    angle = np.radians([45.0, 135.0, 225.0, 315.0])
    rays = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    ticks = at + rays[:, None] * np.array([[radius * 0.78], [radius * 1.42]])
    haloed(canvas, np.concatenate([ring, ticks]), Pen(BLACK, 7.5 * scale), 3.5 * scale)
    canvas.stroke(np.concatenate([ring, ticks]), Pen(colour, 4.0 * scale))


def gap_ring(canvas: Canvas, at: Floats, radius: float, scale: float, seen: bool) -> None:
    """A plain double ring around a place where there is room; dashed where metal hides it."""
    for size in (radius, radius - 8.0 * scale):
        ring = circle(at, size)
        if not seen:
            ring = ring[np.arange(len(ring)) % 8 < 5]
        haloed(canvas, ring, Pen(BLUE, 3.5 * scale), 2.5 * scale)


def gap_line(canvas: Canvas, ends: Floats, scale: float) -> None:
    """The line between two nearest points, (2, 2) px, with a bar across at either end."""
    along = ends[1] - ends[0]
    length = float(np.linalg.norm(along))
    if length < 0.5:
        return
    aside = 9.0 * scale * np.array([-along[1], along[0]]) / length
    bars = np.stack([ends - aside, ends + aside], axis=1)
    haloed(canvas, np.concatenate([ends[None], bars]), Pen(BLUE, 4.0 * scale), 2.5 * scale)


def circle(at: Floats, radius: float, pieces: int = 64) -> Floats:
    """Segments, (n, 2, 2), of a circle."""
    angle = np.linspace(0.0, 2.0 * np.pi, pieces + 1)
    return joined(at + radius * np.stack([np.cos(angle), np.sin(angle)], axis=-1))


def joined(points: Floats) -> Floats:
    """Segments, (n - 1, 2, d), from each point (n, d) to the next."""
    return np.stack([points[:-1], points[1:]], axis=1)


def dashes(start: Floats, end: Floats, dash: float, space: float, dot: bool = False) -> Floats:
    """Segments, (n, 2, 2) px, of a dashed line, or of one of dashes and dots as for an axis."""
    length = float(np.linalg.norm(end - start))
    if length == 0.0:
        return np.empty((0, 2, 2))
    along = (end - start) / length
    pieces, at = [], 0.0
    marks = [dash, 0.12 * dash] if dot else [dash]
    while at < length:
        for mark in marks:
            if at < length:
                pieces.append((at, min(at + mark, length)))
            at += mark + space
    return np.asarray(start + np.array(pieces)[..., None] * along)


def arc(centre: Floats, a: Floats, b: Floats, radius: float, pieces: int = 48) -> Floats:
    """Points, (n, 3) mm, on the arc of `radius` around a centre from direction a to b, (3,)."""
    a, b = a / np.linalg.norm(a), b / np.linalg.norm(b)
    aside = b - (a @ b) * a
    size = float(np.linalg.norm(aside))
    if size < 1e-9:
        return np.repeat(centre[None] + radius * a, 2, axis=0)
    turn = np.linspace(0.0, np.arctan2(size, a @ b), pieces)[:, None]
    return np.asarray(centre + radius * (np.cos(turn) * a + np.sin(turn) * aside / size))


def short_length(mm: float) -> str:
    """A small length as a shop reads it: ``0.071 in (1.8 mm)``, never as nothing at all."""
    if 0.0 < mm < 0.05:
        return "under 0.004 in (0.1 mm)"
    if mm < 10.0:
        return f"{mm / INCH:.3f} in ({mm:.1f} mm)"
    return f"{mm / INCH:.2f} in ({mm:.0f} mm)"
