"""What stands around a picture: headline, lines, caution, the arrow that points forward."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from geometry.mesh import Mesh
from viewer.draw.base import BLACK, Canvas, Colour, Letters, Paint, Pen
from viewer.draw.camera import Camera, Region
from viewer.draw.shading import sharp_edges
from viewer.scene.labels import LEADING

GREY: Colour = (0.30, 0.30, 0.30)
PAGE = (1600, 1000)
"""The page that sizes of type are given for; other pages scale them."""

EDGE = 34.0
"""Margin of the page, px."""

ARROW = 200.0
"""Width of what points forward, px."""

STRIP = 118.0
"""Height of the strip that says which way is forward, px."""

FORWARD = np.array([1.0, 0.0, 0.0])
_NAMES = (("the front", "behind"), ("the left", "the right"), ("above", "below"))


def scale_of(canvas: Canvas) -> float:
    """Size of everything on this page against one of `PAGE`."""
    return min(have / meant for have, meant in zip(canvas.size, PAGE, strict=True))


def frame(
    canvas: Canvas, headline: str, lines: Sequence[str], caution: str
) -> tuple[Region, float]:
    """Write headline, lines and caution; returns what is left for pictures, and the scale."""
    scale = scale_of(canvas)
    width, height = canvas.size
    left, across = EDGE * scale, width - 2.0 * EDGE * scale
    base = height - 14.0 * scale
    for text, size, bold in [(headline, 50.0, True), *((line, 29.0, False) for line in lines)]:
        letters = fitted(canvas, text, Letters(size * scale, bold), across)
        base -= letters.size * LEADING
        canvas.words(text, (left, base), letters)
    small = Letters(19.0 * scale, False, GREY)
    bottom = 16.0 * scale
    for row in reversed(balanced(canvas, caution, small, across)):
        canvas.words(row, (left, bottom), small)
        bottom += small.size * LEADING
    bottom += 14.0 * scale
    return Region(left, bottom, across, base - 22.0 * scale - bottom), scale


def bearings(canvas: Canvas, camera: Camera, strip: Region, scale: float) -> None:
    """Say in a strip of the page which way is forward, and from where the picture is seen."""
    _forward(canvas, camera, Region(strip.left, strip.bottom, ARROW * scale, strip.height), scale)
    text, letters, box = _caption(canvas, camera, strip, scale)
    canvas.words(text, (box.left, box.bottom), letters)


def bearings_boxes(canvas: Canvas, camera: Camera, strip: Region, scale: float) -> list[Region]:
    """What of the strip `bearings` needs."""
    _, _, box = _caption(canvas, camera, strip, scale)
    return [Region(strip.left, strip.bottom, ARROW * scale, strip.height), box]


def _caption(
    canvas: Canvas, camera: Camera, strip: Region, scale: float
) -> tuple[str, Letters, Region]:
    text, letters = seen_from(camera.toward), Letters(24.0 * scale)
    left = strip.left + (ARROW + 30.0) * scale
    width = canvas.extent(text, letters)
    return text, letters, Region(left, strip.bottom, width, letters.size * LEADING)


def fitted(canvas: Canvas, text: str, letters: Letters, width: float) -> Letters:
    """Return the letters, made smaller where the text would not fit."""
    needed = canvas.extent(text, letters)
    if needed <= width:
        return letters
    return Letters(letters.size * width / needed, letters.bold, letters.colour, letters.align)


def wrapped(canvas: Canvas, text: str, letters: Letters, width: float) -> list[str]:
    """Break a text into lines of at most that width, between words."""
    rows: list[str] = []
    for word in text.split():
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and canvas.extent(longer, letters) <= width:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows


def balanced(canvas: Canvas, text: str, letters: Letters, width: float) -> list[str]:
    """Break a text into as few lines as it needs, of about one length."""
    rows = wrapped(canvas, text, letters, width)
    for share in np.linspace(0.4, 1.0, 13):
        narrower = wrapped(canvas, text, letters, share * width)
        if len(narrower) == len(rows):
            return narrower
    return rows


def _forward(canvas: Canvas, camera: Camera, box: Region, scale: float) -> None:
    """A solid arrow that points forward in the vehicle, seen as the picture is, with the word."""
    toward = camera.R_VC[2]
    away = float(toward @ FORWARD)
    letters = Letters(26.0 * scale, bold=True)
    word = "FORWARD"
    if abs(away) > 0.85:
        word += " (toward you)" if away > 0.0 else " (away from you)"
    word_height = 1.25 * letters.size
    canvas.words(word, (box.left, box.bottom), letters)
    region = Region(box.left, box.bottom + word_height, box.width, box.height - word_height)
    # The arrow is turned about itself to show its face.
    face = toward - away * FORWARD
    flat = float(np.linalg.norm(face))
    face = face / flat if flat > 1e-6 else np.array([0.0, 0.0, 1.0])
    X_CP = np.eye(4)
    X_CP[:3, 1], X_CP[:3, 2] = np.cross(face, FORWARD), face
    across, upward = np.abs(camera.R_VC[:2] @ FORWARD)
    tall, wide = upward + 0.6 * across, across + 0.6 * upward
    span = 1.1 * max(tall, wide * region.height / region.width)
    canvas.view("forward", region, Camera(np.zeros(3), toward, camera.up, span))
    mesh = arrow()
    canvas.solid("forward", mesh, Paint(BLACK, 0.0, glow=0.6), X_CP)
    canvas.lines("forward", sharp_edges(mesh), Pen(BLACK, 1.5 * scale), X_CP)


def arrow() -> Mesh:
    """A flat arrow along x, 1 long, lying in the plane z = 0, in no unit."""
    half = np.array([[-0.5, 0.11], [0.06, 0.11], [0.06, 0.27], [0.5, 0.0]])
    rim = np.concatenate([half, half[-2::-1] * [1.0, -1.0]])
    count = len(rim)
    vertices = np.concatenate([np.column_stack([rim, np.full(count, z)]) for z in (-0.05, 0.05)])
    top = np.array([[6, 5, 1], [6, 1, 0], [4, 3, 5], [5, 3, 1], [1, 3, 2]])
    here = np.arange(count)
    there = (here + 1) % count
    side = np.concatenate(
        [
            np.stack([here, here + count, there + count], 1),
            np.stack([here, there + count, there], 1),
        ]
    )
    return Mesh.uniform(vertices, np.concatenate([top[:, ::-1], top + count, side]), "arrow")


def seen_from(toward: ArrayLike) -> str:
    """Say from where a picture is seen: "Seen from the left and above"."""
    direction = np.asarray(toward, float)
    direction = direction / np.linalg.norm(direction)
    order = np.argsort(-np.abs(direction))
    parts = [_NAMES[i][int(direction[i] < 0.0)] for i in order if abs(direction[i]) > 0.3]
    text = " and ".join(parts) if len(parts) < 3 else f"{parts[0]}, {parts[1]} and {parts[2]}"
    return f"Seen from {text}"
