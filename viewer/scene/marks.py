"""Shapes that point at a place of a sheet: rings, a gap's own line, arcs, dashes, dimensions.

Each is drawn twice, first broad in white, so that it stands out from light and dark metal alike,
in colour and in black and white.
"""

import numpy as np

from viewer.draw.base import BLACK, WHITE, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Page
from viewer.draw.verdict_mark import BLUE, RED, ring
from viewer.scene.labels import haloed


def touch_ring(paper: Page, at: Floats, radius: float, seen: bool = True) -> None:
    """A ring with four ticks pointing in, around a place (2,) px; dashed where metal hides it."""
    segments = at + radius * ring("touches", not seen)
    haloed(paper, segments, Pen(BLACK, 7.5), 3.5)
    paper.stroke(segments, Pen(RED, 4.0))


def touch_dot(paper: Page, at: Floats) -> None:
    """A dot at a place (2,) px where two skins touch: there is no metal in metal to color."""
    for size, colour in ((9.0, WHITE), (6.5, RED)):
        rim = at + size * ring("clear")
        middle = np.broadcast_to(at, rim[:, 0].shape)
        paper.area(np.stack([middle, rim[:, 0], rim[:, 1]], axis=1), colour)


def gap_ring(paper: Page, at: Floats, radius: float, seen: bool = True) -> None:
    """A plain double ring around a place where there is room; dashed where metal hides it."""
    for size in (radius, radius - 8.0):
        haloed(paper, at + size * ring("clear", not seen), Pen(BLUE, 3.5), 2.5)


def gap_line(paper: Page, ends: Floats) -> None:
    """The line between two nearest points, (2, 2) px, with a bar across at either end."""
    along = ends[1] - ends[0]
    length = float(np.linalg.norm(along))
    if length < 0.5:
        return
    aside = 9.0 * np.array([-along[1], along[0]]) / length
    bars = np.stack([ends - aside, ends + aside], axis=1)
    haloed(paper, np.concatenate([ends[None], bars]), Pen(BLUE, 4.0), 2.5)


def dimension(paper: Page, ends: Floats, size: float, half: float) -> None:
    """A dimension line from end to end, (2, 2) px, with heads so long and half as wide."""
    paper.stroke(ends[None], Pen(BLACK, 2.2))
    along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    for tip, way in zip(ends, (along, -along), strict=True):
        arrow_head(paper, tip, way, size, half)


def arrow_head(paper: Page, tip: Floats, way: Floats, size: float, half: float) -> None:
    """The head of an arrow, its tip pointing against `way`, a unit vector (2,)."""
    aside, base = np.array([-way[1], way[0]]), tip + way * size
    paper.area(np.stack([tip, base + aside * half, base - aside * half])[None], BLACK)


def joined(points: Floats) -> Floats:
    """Segments, (n - 1, 2, d), from each point (n, d) to the next."""
    return np.stack([points[:-1], points[1:]], axis=1)


def axis_line(start: Floats, end: Floats) -> Floats:
    """Segments, (n, 2, 2) px, of a line of dashes and dots as for an axis."""
    length = float(np.linalg.norm(end - start))
    dashes = np.arange(0.0, length, DASH + DOT + 2.0 * SPACE)
    dots = dashes + DASH + SPACE
    pieces = np.concatenate(
        [np.stack([dashes, dashes + DASH]), np.stack([dots, dots + DOT])], axis=1
    )
    shares = np.minimum(pieces.T / max(length, 1e-9), 1.0)
    return np.asarray(start + shares[shares[:, 0] < shares[:, 1], :, None] * (end - start))


DASH, DOT, SPACE = 26.0, 3.0, 7.0
"""Of the line of an axis, px."""


def arc(centre: Floats, a: Floats, b: Floats, radius: float, pieces: int = 48) -> Floats:
    """Points, (n, 3) mm, on the arc of `radius` around a centre from direction a to b, (3,)."""
    a, b = a / np.linalg.norm(a), b / np.linalg.norm(b)
    aside = b - (a @ b) * a
    size = float(np.linalg.norm(aside))
    if size < 1e-9:
        return np.repeat(centre[None] + radius * a, 2, axis=0)
    turn = np.linspace(0.0, np.arctan2(size, a @ b), pieces)[:, None]
    return np.asarray(centre + radius * (np.cos(turn) * a + np.sin(turn) * aside / size))


def wedge(centre: Floats, axes: Floats, radius: float) -> tuple[Floats, Floats, Floats]:
    """A bend on the driven side: two axes, (2, 3) each, and the arc between, (n, 3) mm."""
    ways = axes[1], -axes[0]
    a, b = (centre + np.outer([0.0, 1.12 * radius], way) for way in ways)
    return a, b, arc(centre, *ways, radius)
