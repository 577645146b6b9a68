"""The picture of one yoke in verbs for a canvas: in space, along its bores, and from above."""

import numpy as np

from viewer.draw.base import BLACK, Canvas, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.scene.labels import LEADING, Ground, Label, place, rectangle
from viewer.scene.marks import BLUE, INCH, RED, circle, dashes, haloed, joined
from viewer.scene.page import fitted, frame
from viewer.scene.parts import MATERIALS
from viewer.scene.staging import covered, show
from viewer.scene.yoke import YokePicture

IN_SPACE = np.array([-0.62, -0.55, 0.56])
"""From where the whole yoke is seen: from its open side, a little from above."""

ALONG_BORES, FROM_ABOVE = np.array([0.0, -1.0, 0.0]), np.array([0.0, 0.0, 1.0])
UP, LEFT = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])

BEYOND = 0.1
"""How far the axes are drawn on past the yoke, as a share of its size."""


def draw_yoke(picture: YokePicture, canvas: Canvas) -> None:
    """Draw the yoke with its axes and rings from three sides, and the words."""
    free, scale = frame(canvas, picture.headline, picture.lines, picture.caution)
    between = 26.0 * scale
    aside = 0.36 * free.width
    half = 0.5 * (free.height - between)
    main = Region(free.left, free.bottom, free.width - aside - between, free.height)
    upper = Region(main.right + between, free.bottom + half + between, aside, half)
    lower = Region(upper.left, free.bottom, aside, half)
    _in_space(picture, canvas, main, scale)
    _along_bores(picture, canvas, upper, scale)
    _from_above(picture, canvas, lower, scale)


def _in_space(picture: YokePicture, canvas: Canvas, region: Region, scale: float) -> None:
    if picture.guessed:
        row = 48.0 * scale
        _key(canvas, region, scale)
        region = Region(region.left, region.bottom + row, region.width, region.height - row)
    camera, ground = _stage(picture, canvas, region, "yoke", IN_SPACE, UP, scale)
    labels = _axes(picture, canvas, region, camera, ground, scale)
    if picture.bores is not None:
        words = (
            (picture.bores.word, Letters(26.0 * scale, bold=True, colour=BLUE)),
            (exact(picture.bores.diameter), Letters(26.0 * scale, colour=BLUE)),
        )
        x, y = camera.project(_rings(picture)[0][_LOW], region)
        labels.append(Label(words, (float(x), float(y))))
    place(canvas, ground, labels, scale)


_LOW = 72
"""Which corner of a ring is its lowest."""


def _key(canvas: Canvas, region: Region, scale: float) -> None:
    """What the red patches are, in a row at the foot of a region."""
    swatch = Region(region.left, region.bottom + 4.0 * scale, 44.0 * scale, 26.0 * scale)
    rectangle(canvas, swatch.grown(2.0 * scale), BLACK)
    rectangle(canvas, swatch, MATERIALS["mark"].colour)
    text = "hole in the scan, closed by the program: a guess. If a touch is there, scan it again"
    room = region.width - swatch.width - 14.0 * scale
    letters = fitted(canvas, text, Letters(24.0 * scale), room)
    canvas.words(text, (swatch.right + 14.0 * scale, swatch.bottom + 3.0 * scale), letters)


def _along_bores(picture: YokePicture, canvas: Canvas, region: Region, scale: float) -> None:
    row = 74.0 * scale if picture.throat is not None else 0.0
    inner = _titled(canvas, region, "Along the bores", scale)
    inner = Region(inner.left, inner.bottom + row, inner.width, inner.height - row)
    camera, ground = _stage(picture, canvas, inner, "along", ALONG_BORES, UP, scale)
    _axes(picture, canvas, inner, camera, ground, scale)
    if picture.throat is None:
        return
    ends = camera.project([[0.0, 0.0, 0.0], [picture.throat, 0.0, 0.0]], inner)
    far = np.stack([ends[:, 0], np.full(2, inner.bottom - 10.0 * scale)], axis=1)
    _dimension(canvas, ends, far, scale)
    text, letters = f"floor of the throat {exact(picture.throat)}", Letters(23.0 * scale, True)
    room = region.right - canvas.extent(text, letters)
    left = min(max(region.left, float(far[0, 0])), room)
    canvas.words(text, (left, inner.bottom - 48.0 * scale), letters)


def _from_above(picture: YokePicture, canvas: Canvas, region: Region, scale: float) -> None:
    column = 170.0 * scale if picture.inside_span is not None else 0.0
    inner = _titled(canvas, region, "From above", scale)
    inner = Region(inner.left + column, inner.bottom, inner.width - column, inner.height)
    camera, ground = _stage(picture, canvas, inner, "above", FROM_ABOVE, LEFT, scale)
    _axes(picture, canvas, inner, camera, ground, scale)
    if picture.inside_span is None:
        return
    half = 0.5 * picture.inside_span
    ends = camera.project([[0.0, -half, 0.0], [0.0, half, 0.0]], inner)
    metal = float(camera.project([picture.bounds[0, 0], 0.0, 0.0], inner)[0])
    far = np.stack([np.full(2, metal - 26.0 * scale), ends[:, 1]], axis=1)
    _dimension(canvas, ends, far, scale)
    letters = Letters(23.0 * scale, True, align="right")
    at, base = far.mean(axis=0) - [14.0 * scale, 0.0]
    mm, inch = exact(picture.inside_span).split(" (")
    for k, text in enumerate(("between ears", mm, f"({inch}")):
        canvas.words(text, (float(at), float(base) + (0.9 - k) * 28.0 * scale), letters)


def exact(mm: float) -> str:
    """A length as a caliper shows it: ``34.5 mm (1.358 in)``."""
    return f"{mm:.1f} mm ({mm / INCH:.3f} in)"


def _titled(canvas: Canvas, region: Region, title: str, scale: float) -> Region:
    letters = Letters(26.0 * scale, bold=True)
    canvas.words(title, (region.left, region.top - letters.size), letters)
    tall = letters.size * LEADING
    return Region(region.left, region.bottom, region.width, region.height - tall)


def _stage(
    picture: YokePicture,
    canvas: Canvas,
    region: Region,
    name: str,
    toward: Floats,
    up: Floats,
    scale: float,
) -> tuple[Camera, Ground]:
    """Draw the yoke and its rings; returns from where, and what ground is taken."""
    points = np.concatenate([part.in_chassis for part in picture.parts])
    points = np.concatenate([points, *_axis_ends(picture)])
    camera = framing(points, toward, up, region, margin=0.05)
    canvas.view(name, region, camera)
    show(canvas, picture.parts, camera, scale)
    ground = covered(picture.parts, camera, region, region)
    for ring in _rings(picture):
        seen = camera.project(ring, region)
        haloed(canvas, joined(seen), Pen(BLUE, 3.5 * scale), 2.0 * scale)
        ground.cover(seen, 4.0)
    return camera, ground


def _rings(picture: YokePicture) -> list[Floats]:
    """The ends of the bores, each (n, 3)."""
    if picture.bores is None:
        return []
    turn = np.linspace(0.0, 2.0 * np.pi, 97)
    unit = np.stack([np.cos(turn), np.zeros_like(turn), np.sin(turn)], axis=-1)
    round_ = 0.5 * picture.bores.diameter * unit
    return [np.asarray(round_ + np.array([0.0, y, 0.0])) for y in picture.bores.ends]


def _axis_ends(picture: YokePicture) -> tuple[Floats, Floats]:
    """Ends of the line through the bores and of the shaft's axis, (2, 3) each."""
    low, high = picture.bounds
    more = BEYOND * float(np.linalg.norm(high - low))
    bores = np.array([[0.0, low[1] - more, 0.0], [0.0, high[1] + more, 0.0]])
    shaft = np.array([[0.0, 0.0, 0.0], [high[0] + more, 0.0, 0.0]])
    return bores, shaft


def _axes(
    picture: YokePicture,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    ground: Ground,
    scale: float,
) -> list[Label]:
    """Both axes and the cross centre; returns their names, to be placed."""
    bores, shaft = (camera.project(ends, region) for ends in _axis_ends(picture))
    labels = []
    for (start, end), colour, word in (
        (bores, BLUE, "axis of the bores"),
        (shaft, BLACK, "this way to the shaft"),
    ):
        if np.linalg.norm(end - start) < 1.0:
            continue
        line = dashes(start, end, 26.0 * scale, 7.0 * scale, dot=True)
        haloed(canvas, line, Pen(colour, 2.4 * scale), 1.6 * scale)
        ground.cover_line(start, end, 3.0)
        words = ((word, Letters(26.0 * scale, bold=True, colour=colour)),)
        labels.append(Label(words, (float(end[0]), float(end[1]))))
    tip, way = shaft[1], shaft[0] - shaft[1]
    if np.linalg.norm(way) > 1.0:
        way = way / np.linalg.norm(way)
        canvas.area(_head(tip, way, 30.0 * scale)[None], BLACK)
    centre = camera.project(np.zeros(3), region)
    arm = 15.0 * scale * np.eye(2)
    cross = np.stack([centre - arm, centre + arm], axis=1)
    haloed(
        canvas,
        np.concatenate([circle(centre, 8.0 * scale), cross]),
        Pen(RED, 3.0 * scale),
        2.0 * scale,
    )
    ground.cover(centre[None], 4.0)
    words = (("cross centre", Letters(26.0 * scale, bold=True, colour=RED)),)
    labels.append(Label(words, (float(centre[0]), float(centre[1])), 18.0 * scale))
    return labels


def _dimension(canvas: Canvas, here: Floats, far: Floats, scale: float) -> None:
    """A dimension line along `far`, (2, 2) px, with thin lines to the places it speaks of."""
    haloed(canvas, np.stack([here, far], axis=1), Pen(BLACK, 1.4 * scale), 1.2 * scale)
    canvas.stroke(far[None], Pen(BLACK, 2.2 * scale))
    along = (far[1] - far[0]) / np.linalg.norm(far[1] - far[0])
    for tip, way in zip(far, (along, -along), strict=True):
        canvas.area(_head(tip, way, 18.0 * scale)[None], BLACK)


def _head(tip: Floats, way: Floats, size: float) -> Floats:
    """The head of an arrow, one triangle, its tip pointing against `way`."""
    aside = np.array([-way[1], way[0]])
    base = tip + way * size
    return np.stack([tip, base + aside * 0.3 * size, base - aside * 0.3 * size])
