"""The close-up: a cut through the touching place, each body hatched its own way."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import cycle
from math import radians

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.stage import Paper
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene.figure import Figure
from viewer.scene.labels import Ground, Label, place, rectangle
from viewer.scene.marks import gap_line, touch_ring
from viewer.scene.page import fitted
from viewer.scene.parts import PosedPart
from viewer.scene.section import clipped, cut, filled, hatch
from viewer.scene.spot import Spot
from viewer.words.captions import GIVES, cut_caption, scale_caption, short_length

ANGLES = (radians(45.0), radians(-45.0), radians(90.0))
"""Direction of the hatching of each body, as they come."""

ROW = 36.0
"""Height of a row of the key, px."""

STEPS = (2.0, 5.0, 10.0, 20.0)
"""Lengths, mm, that the scale bar may have."""


_PALER = 0.48
_LINE: Colour = (0.25, 0.25, 0.27)


@dataclass(frozen=True, eq=False)
class CloseUp:
    """What is cut, and where.

    solids : closed bodies, called and coloured as in the key. spot : the place.
    ends : (2, 3) the two points a gap or a wall is measured between; None for none.
    overlap : the metal that would have to give; None for none.
    ringed : whether the place is ringed where it is too small to be seen.
    """

    solids: tuple[PosedPart, ...]
    spot: Spot
    ends: Floats | None = None
    overlap: Mesh | None = None
    ringed: bool = False

    def draw(self, figure: Figure, box: Region) -> None:
        """Draw title, cut and key into the box, for a spot of a figure."""
        paper, camera, title = figure.paper, figure.camera, Letters(26.0, bold=True)
        key = (len(self.solids) + 1) * ROW + 12.0
        tall = min(1.1 * box.width, box.height - title.size * 1.5 - key)
        frame = Region(box.left, box.top - title.size * 1.5 - tall, box.width, tall)
        zoom = Camera(self.spot.at, cutting_plane(camera, self.spot), camera.up, window(self.spot))
        larger = zoom.px_per_mm(frame) / figure.px_per_mm
        heading = cut_caption(larger)
        letters = fitted(paper, heading, title, box.width)
        paper.write(heading, (box.left, box.top - title.size), letters)
        rectangle(paper, frame.grown(2.5), BLACK)
        rectangle(paper, frame, WHITE)
        entries, skins = [], []
        for solid, angle in zip(self.solids, cycle(ANGLES), strict=False):
            skin = skin_on_page(solid, zoom, frame)
            if len(clipped(skin, *frame.corners)):
                _metal(paper, skin, frame, solid, angle)
                entries.append((solid, angle))
                skins.append(skin)
        if self.overlap is not None:
            skin = skin_on_page(PosedPart("overlap", "mark", self.overlap), zoom, frame)
            _outline(paper, skin, frame, Pen(WHITE, 11.0))
            paper.area(clip_strips(filled(skin, 1.0), frame), RED)
            _outline(paper, skin, frame, Pen(BLACK, 2.5))
        elif self.ends is not None:
            _gap(paper, frame, skins, zoom.project(self.ends, frame), self.spot.size)
        if self.ringed and _small(self.spot, zoom):
            touch_ring(paper, frame.middle, 46.0)
        _bar(paper, frame, zoom)
        below = Region(box.left, box.bottom, box.width, frame.bottom - box.bottom)
        _key(paper, below, entries, self.overlap is not None)


def cutting_plane(camera: Camera, spot: Spot) -> Floats:
    """Normal (3,) toward the eye of the plane that holds the direction across the gap."""
    toward = camera.R_VC[2]
    if spot.across is None:
        return np.asarray(toward)
    normal = toward - (toward @ spot.across) * spot.across
    length = float(np.linalg.norm(normal))
    return np.asarray(normal / length if length > 0.1 else camera.R_VC[0])


def window(spot: Spot) -> float:
    """Height of the close-up, mm: enough around the place to know it again."""
    return float(np.clip(7.0 * spot.size, 18.0, 80.0))


def _small(spot: Spot, zoom: Camera) -> bool:
    """Whether an overlap is so small in the cut that it needs a ring to be seen."""
    return spot.bite is None or float(np.ptp(spot.bite.bounds, axis=0).max()) < _RINGED * zoom.span


_RINGED = 0.16
"""Share of the cut's height."""


def _gap(paper: Paper, frame: Region, skins: Sequence[Floats], ends: Floats, size: float) -> None:
    """The gap's own line, and its number where it covers no edge of the metal."""
    gap_line(paper, ends)
    ground = Ground(frame.grown(-8.0))
    for skin in skins:
        for start, end in clipped(skin, *frame.corners):
            ground.cover_line(start, end, 3.0)
    ground.cover_box(bar_plate(frame))
    ground.cover_line(ends[0], ends[1], 4.0)
    middle = ends.mean(axis=0)
    words = ((short_length(size), Letters(25.0, bold=True, colour=BLUE)),)
    place(paper, ground, [Label(words, (float(middle[0]), float(middle[1])), 8.0, BLUE)])


def skin_on_page(solid: PosedPart, zoom: Camera, frame: Region) -> Floats:
    """Segments, (n, 2, 2) px, in which the plane through the focus cuts a body."""
    X_VC = np.eye(4)
    X_VC[:3, :3] = zoom.R_VC
    X_VC[:3, 3] = -zoom.R_VC @ zoom.focus
    flat = cut(solid.mesh, X_VC @ solid.X_CP)
    return np.asarray(frame.middle + flat * zoom.px_per_mm(frame))


def _metal(paper: Paper, skin: Floats, frame: Region, solid: PosedPart, angle: float) -> None:
    """Fill what is cut of a body with its own colour, much paler, and hatch it at an angle, rad."""
    # The black of a touch has to be plain on it.
    red, green, blue = (_PALER + (1.0 - _PALER) * share for share in solid.paint.colour)
    paper.area(clip_strips(filled(skin, 1.0), frame), (red, green, blue))
    corner = frame.corners[0]
    lines = clipped(corner + hatch(skin - corner, angle, 13.0), *frame.corners)
    paper.stroke(lines, Pen(_LINE, 2.0))
    _outline(paper, skin, frame, Pen(BLACK, 3.0))


def _outline(paper: Paper, skin: Floats, frame: Region, pen: Pen) -> None:
    paper.stroke(clipped(skin, *frame.corners), pen)


def clip_strips(strips: Floats, frame: Region) -> Floats:
    """Strips, (n, 3, 2) px, kept within the frame; they are level, so clipping corners will do."""
    low, high = frame.corners
    kept = (strips[..., 1] >= low[1]).all(axis=1) & (strips[..., 1] <= high[1]).all(axis=1)
    kept &= (strips[..., 0].max(axis=1) > low[0]) & (strips[..., 0].min(axis=1) < high[0])
    return np.asarray(np.clip(strips[kept], low, high))


def bar_plate(frame: Region) -> Region:
    """Where the scale bar stands."""
    return Region(frame.left, frame.bottom, 210.0, 52.0)


def _bar(paper: Paper, frame: Region, zoom: Camera) -> None:
    """A bar of known length in the corner."""
    px, plate, pad = zoom.px_per_mm(frame), bar_plate(frame), 10.0
    room = plate.width - 2.0 * pad
    size = max((step for step in STEPS if step * px <= room), default=STEPS[0])
    rectangle(paper, plate.grown(2.0), BLACK)
    rectangle(paper, plate, WHITE)
    start = plate.corners[0] + pad
    end = start + np.array([size * px, 0.0])
    tick = np.array([0.0, 6.0])
    bar = np.array([[start, end], [start - tick, start + tick], [end - tick, end + tick]])
    paper.stroke(bar, Pen(BLACK, 3.0))
    paper.write(scale_caption(size), (start[0], start[1] + pad), Letters(20.0, bold=True))


def _key(
    paper: Paper, box: Region, entries: Sequence[tuple[PosedPart, float]], overlap: bool
) -> None:
    """What each hatching stands for."""
    names = [solid.name for solid, _ in entries] + [GIVES] * overlap
    for row, name in enumerate(names):
        y = box.top - (row + 1) * ROW - 10.0
        swatch = Region(box.left, y + 4.0, 60.0, ROW - 8.0)
        if row < len(entries):
            _metal(paper, border(swatch), swatch, *entries[row])
        else:
            rectangle(paper, swatch, RED)
            paper.stroke(border(swatch), Pen(BLACK, 3.0))
        paper.write(name, (swatch.right + 14.0, y + 5.0), Letters(22.0))


def border(box: Region) -> Floats:
    """The four sides of a box, (4, 2, 2) px."""
    return np.stack([box.rim, np.roll(box.rim, -1, axis=0)], axis=1)
