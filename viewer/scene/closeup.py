"""The close-up: a cut through the touching place, each body hatched its own way."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import cycle
from math import radians

import numpy as np

from viewer.draw.base import BLACK, WHITE, Canvas, Colour, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.scene.joint import JointPicture, Spot
from viewer.scene.labels import Ground, Label, place, rectangle
from viewer.scene.marks import BLUE, INCH, RED, gap_line, short_length, touch_ring
from viewer.scene.page import fitted
from viewer.scene.parts import PosedPart
from viewer.scene.section import clipped, cut, filled, hatch

ANGLES = (radians(45.0), radians(-45.0), radians(90.0))
"""Direction of the hatching of each body, as they come."""

ROW = 36.0
"""Height of a row of the key, px."""

STEPS = (2.0, 5.0, 10.0, 20.0)
"""Lengths, mm, that the scale bar may have."""


@dataclass(frozen=True)
class Hatch:
    """How the cut metal of a body looks: direction of the lines, rad, and its steel."""

    angle: float
    steel: Colour

    @property
    def ground(self) -> Colour:
        """The colour of the body, much paler, so that the black of a touch is plain on it."""
        red, green, blue = (_PALER + (1.0 - _PALER) * share for share in self.steel)
        return red, green, blue


_PALER = 0.48
_LINE: Colour = (0.25, 0.25, 0.27)


def draw(
    picture: JointPicture,
    canvas: Canvas,
    box: Region,
    main: Region,
    camera: Camera,
    spot: Spot,
    scale: float,
) -> None:
    """Draw title, cut and key into the box, for a spot that `camera` shows in the main region."""
    title = Letters(26.0 * scale, bold=True)
    key = (len(picture.solids) + 1) * ROW * scale + 12.0 * scale
    tall = min(1.1 * box.width, box.height - title.size * 1.5 - key)
    frame = Region(box.left, box.top - title.size * 1.5 - tall, box.width, tall)
    zoom = Camera(spot.at, cutting_plane(camera, spot), camera.up, window(spot))
    larger = zoom.px_per_mm(frame) / camera.px_per_mm(main)
    heading = f"Cut through this place, {larger:.0f} times larger"
    heading_letters = fitted(canvas, heading, title, box.width)
    canvas.words(heading, (box.left, box.top - title.size), heading_letters)
    rectangle(canvas, frame.grown(2.5 * scale), BLACK)
    rectangle(canvas, frame, WHITE)
    entries, skins = [], []
    for solid, angle in zip(picture.solids, cycle(ANGLES), strict=False):
        skin, look = skin_on_page(solid, zoom, frame), Hatch(angle, solid.paint.colour)
        if len(clipped(skin, *frame.corners)):
            _metal(canvas, skin, frame, look, scale)
            entries.append((solid.name, look))
            skins.append(skin)
    if picture.overlap is not None:
        part = PosedPart("overlap", "mark", picture.overlap, np.eye(4))
        skin = skin_on_page(part, zoom, frame)
        _outline(canvas, skin, frame, 11.0 * scale, WHITE)
        canvas.area(clip_strips(filled(skin, 1.0), frame), RED)
        _outline(canvas, skin, frame, 2.5 * scale, BLACK)
    elif picture.points is not None and not picture.overlaps:
        _gap(canvas, frame, skins, zoom.project(picture.points, frame), spot.size, scale)
    if picture.overlaps and _small(spot, zoom):
        touch_ring(canvas, frame.middle, 46.0 * scale, scale, seen=True)
    _bar(canvas, frame, zoom, scale)
    _key(
        canvas,
        Region(box.left, box.bottom, box.width, frame.bottom - box.bottom),
        entries,
        picture.overlap is not None,
        scale,
    )


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
    return (
        spot.bite is None
        or float(np.ptp(spot.bite.mesh.bounds, axis=0).max()) < _RINGED * zoom.span
    )


_RINGED = 0.16
"""Share of the cut's height."""


def _gap(
    canvas: Canvas, frame: Region, skins: Sequence[Floats], ends: Floats, size: float, scale: float
) -> None:
    """The gap's own line, and its number where it covers no edge of the metal."""
    gap_line(canvas, ends, scale)
    ground = Ground(frame.grown(-8.0 * scale))
    for skin in skins:
        for start, end in clipped(skin, *frame.corners):
            ground.cover_line(start, end, 3.0)
    ground.cover_box(bar_plate(frame, scale))
    ground.cover_line(ends[0], ends[1], 4.0)
    middle = ends.mean(axis=0)
    words = ((short_length(size), Letters(25.0 * scale, bold=True, colour=BLUE)),)
    label = Label(words, (float(middle[0]), float(middle[1])), 8.0 * scale, BLUE)
    place(canvas, ground, [label], scale)


def skin_on_page(solid: PosedPart, zoom: Camera, frame: Region) -> Floats:
    """Segments, (n, 2, 2) px, in which the plane through the focus cuts a body."""
    X_VC = np.eye(4)
    X_VC[:3, :3] = zoom.R_VC
    X_VC[:3, 3] = -zoom.R_VC @ zoom.focus
    flat = cut(solid.mesh, X_VC @ solid.X_CP)
    return np.asarray(frame.middle + flat * zoom.px_per_mm(frame))


def _metal(
    canvas: Canvas,
    skin: Floats,
    frame: Region,
    look: Hatch,
    scale: float,
) -> None:
    canvas.area(clip_strips(filled(skin, 1.0), frame), look.ground)
    lines = clipped(hatch(skin, look.angle, 13.0 * scale), *frame.corners)
    canvas.stroke(lines, Pen(_LINE, 2.0 * scale))
    _outline(canvas, skin, frame, 3.0 * scale, BLACK)


def _outline(canvas: Canvas, skin: Floats, frame: Region, width: float, colour: Colour) -> None:
    canvas.stroke(clipped(skin, *frame.corners), Pen(colour, width))


def clip_strips(strips: Floats, frame: Region) -> Floats:
    """Strips, (n, 3, 2) px, kept within the frame; they are level, so clipping corners will do."""
    low, high = frame.corners
    kept = (strips[..., 1] >= low[1]).all(axis=1) & (strips[..., 1] <= high[1]).all(axis=1)
    kept &= (strips[..., 0].max(axis=1) > low[0]) & (strips[..., 0].min(axis=1) < high[0])
    return np.asarray(np.clip(strips[kept], low, high))


def bar_plate(frame: Region, scale: float) -> Region:
    """Where the scale bar stands."""
    return Region(frame.left, frame.bottom, 210.0 * scale, 52.0 * scale)


def _bar(canvas: Canvas, frame: Region, zoom: Camera, scale: float) -> None:
    """A bar of known length in the corner."""
    px = zoom.px_per_mm(frame)
    plate = bar_plate(frame, scale)
    pad = 10.0 * scale
    room = plate.width - 2.0 * pad
    size = max((step for step in STEPS if step * px <= room), default=STEPS[0])
    letters = Letters(20.0 * scale, bold=True)
    rectangle(canvas, plate.grown(2.0 * scale), BLACK)
    rectangle(canvas, plate, WHITE)
    start = np.array([plate.left + pad, plate.bottom + pad])
    end = start + np.array([size * px, 0.0])
    tick = np.array([0.0, 6.0 * scale])
    bar = np.array([[start, end], [start - tick, start + tick], [end - tick, end + tick]])
    canvas.stroke(bar, Pen(BLACK, 3.0 * scale))
    canvas.words(f"{size:.0f} mm ({size / INCH:.2f} in)", (start[0], start[1] + pad), letters)


def _key(
    canvas: Canvas,
    box: Region,
    entries: Sequence[tuple[str, Hatch]],
    overlap: bool,
    scale: float,
) -> None:
    """What each hatching stands for."""
    letters = Letters(22.0 * scale)
    y = box.top - (ROW + 10.0) * scale
    for name, look in [*entries, *([("metal that would have to give", None)] if overlap else [])]:
        swatch = Region(box.left, y + 4.0 * scale, 60.0 * scale, (ROW - 8.0) * scale)
        if look is None:
            rectangle(canvas, swatch, RED)
            canvas.stroke(border(swatch), Pen(BLACK, 3.0 * scale))
        else:
            _metal(canvas, border(swatch), swatch, look, scale)
        canvas.words(name, (swatch.right + 14.0 * scale, y + 5.0 * scale), letters)
        y -= ROW * scale


def border(box: Region) -> Floats:
    """The four sides of a box, (4, 2, 2) px."""
    (left, bottom), (right, top) = box.corners
    corners = np.array([[left, bottom], [right, bottom], [right, top], [left, top]])
    return np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
