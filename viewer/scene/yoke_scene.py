"""The picture of one yoke in verbs for a stage: in space, along its bores, and from above."""

import numpy as np

from viewer.draw.base import BLACK, Letters
from viewer.draw.camera import LEFT, UP, Floats, Region, framing
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import BLUE, RED, ring
from viewer.scene.figure import Figure, points_of
from viewer.scene.labels import LEADING, rectangle
from viewer.scene.marks import INCH, arrow_head, dashes, dimension, joined
from viewer.scene.page import fitted, frame
from viewer.scene.parts import MATERIALS
from viewer.scene.yoke import YokePicture

IN_SPACE = np.array([-0.62, -0.55, 0.56])
"""From where the whole yoke is seen: from its open side, a little from above."""

ALONG_BORES, FROM_ABOVE = -LEFT, UP

BEYOND = 0.1
"""How far the axes are drawn on past the yoke, as a share of its size."""


def draw_yoke(picture: YokePicture, stage: Stage, page: Region) -> None:
    """Draw the yoke with its axes and rings from three sides, and the words."""
    free = frame(stage, page, picture.headline, picture.lines, picture.caution)
    between = 26.0
    aside = 0.36 * free.width
    half = 0.5 * (free.height - between)
    main = Region(free.left, free.bottom, free.width - aside - between, free.height)
    upper = Region(main.right + between, free.bottom + half + between, aside, half)
    lower = Region(upper.left, free.bottom, aside, half)
    _in_space(picture, stage, main)
    _along_bores(picture, stage, upper)
    _from_above(picture, stage, lower)


def _in_space(picture: YokePicture, stage: Stage, region: Region) -> None:
    if picture.guessed:
        row = 48.0
        _key(stage, region)
        region = Region(region.left, region.bottom + row, region.width, region.height - row)
    figure = _figure(picture, stage, region, "yoke", IN_SPACE, UP)
    _axes(picture, figure)
    if picture.bores is not None:
        letters = Letters(26.0, bold=True, colour=BLUE), Letters(26.0, colour=BLUE)
        words = picture.bores.word, exact(picture.bores.diameter)
        figure.say(figure.at(_rings(picture)[0][_LOW]), list(zip(words, letters, strict=True)))
    figure.place()


_LOW = 72
"""Which corner of a ring is its lowest."""


def _key(stage: Stage, region: Region) -> None:
    """What the red patches are, in a row at the foot of a region."""
    swatch = Region(region.left, region.bottom + 4.0, 44.0, 26.0)
    rectangle(stage, swatch.grown(2.0), BLACK)
    rectangle(stage, swatch, MATERIALS["mark"].colour)
    text = "hole in the scan, closed by the program: a guess. If a touch is there, scan it again"
    letters = fitted(stage, text, Letters(24.0), region.width - swatch.width - 14.0)
    stage.write(text, (swatch.right + 14.0, swatch.bottom + 3.0), letters)


def _along_bores(picture: YokePicture, stage: Stage, region: Region) -> None:
    row = 74.0 if picture.throat is not None else 0.0
    inner = _titled(stage, region, "Along the bores")
    inner = Region(inner.left, inner.bottom + row, inner.width, inner.height - row)
    figure = _figure(picture, stage, inner, "along", ALONG_BORES, UP)
    _axes(picture, figure)
    if picture.throat is None:
        return
    ends = figure.at([[0.0, 0.0, 0.0], [picture.throat, 0.0, 0.0]])
    far = np.stack([ends[:, 0], np.full(2, inner.bottom - 10.0)], axis=1)
    _dimension(figure, ends, far)
    text, letters = f"floor of the throat {exact(picture.throat)}", Letters(23.0, True)
    room = region.right - stage.extent(text, letters)
    left = min(max(region.left, float(far[0, 0])), room)
    stage.write(text, (left, inner.bottom - 48.0), letters)


def _from_above(picture: YokePicture, stage: Stage, region: Region) -> None:
    column = 170.0 if picture.inside_span is not None else 0.0
    inner = _titled(stage, region, "From above")
    inner = Region(inner.left + column, inner.bottom, inner.width - column, inner.height)
    figure = _figure(picture, stage, inner, "above", FROM_ABOVE, LEFT)
    _axes(picture, figure)
    if picture.inside_span is None:
        return
    half = 0.5 * picture.inside_span
    ends = figure.at([[0.0, -half, 0.0], [0.0, half, 0.0]])
    metal = float(figure.at([picture.bounds[0, 0], 0.0, 0.0])[0])
    far = np.stack([np.full(2, metal - 26.0), ends[:, 1]], axis=1)
    _dimension(figure, ends, far)
    letters = Letters(23.0, True, align="right")
    at, base = far.mean(axis=0) - [14.0, 0.0]
    mm, inch = exact(picture.inside_span).split(" (")
    for k, text in enumerate(("between ears", mm, f"({inch}")):
        stage.write(text, (float(at), float(base) + (0.9 - k) * 28.0), letters)


def exact(mm: float) -> str:
    """A length as a caliper shows it: ``34.5 mm (1.358 in)``."""
    return f"{mm:.1f} mm ({mm / INCH:.3f} in)"


def _titled(stage: Stage, region: Region, title: str) -> Region:
    letters = Letters(26.0, bold=True)
    stage.write(title, (region.left, region.top - letters.size), letters)
    tall = letters.size * LEADING
    return Region(region.left, region.bottom, region.width, region.height - tall)


def _figure(
    picture: YokePicture, stage: Stage, region: Region, name: str, toward: Floats, up: Floats
) -> Figure:
    """Draw the yoke and its rings."""
    points = np.concatenate([points_of(picture.parts), *_axis_ends(picture)])
    figure = Figure(stage, name, region, framing(points, toward, up, region, margin=0.05))
    figure.put(picture.parts)
    for each in _rings(picture):
        seen = figure.at(each)
        figure.draw(joined(seen), 3.5, 2.0, BLUE)
        figure.ground.cover(seen, 4.0)
    return figure


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


def _axes(picture: YokePicture, figure: Figure) -> None:
    """Both axes and the cross centre, with their names."""
    bores, shaft = (figure.at(ends) for ends in _axis_ends(picture))
    for (start, end), colour, word in (
        (bores, BLUE, "axis of the bores"),
        (shaft, BLACK, "this way to the shaft"),
    ):
        if np.linalg.norm(end - start) < 1.0:
            continue
        figure.draw(dashes(start, end, 26.0, 7.0, dot=True), 2.4, 1.6, colour)
        figure.ground.cover_line(start, end, 3.0)
        figure.say(end, [(word, Letters(26.0, bold=True, colour=colour))])
    tip, way = shaft[1], shaft[0] - shaft[1]
    if np.linalg.norm(way) > 1.0:
        arrow_head(figure.stage, tip, way / np.linalg.norm(way), 30.0, 9.0)
    centre = figure.at(np.zeros(3))
    arm = 15.0 * np.eye(2)
    cross = np.stack([centre - arm, centre + arm], axis=1)
    figure.draw(np.concatenate([centre + 8.0 * ring("clear"), cross]), 3.0, 2.0, RED)
    figure.ground.cover(centre[None], 4.0)
    figure.say(centre, [("cross centre", Letters(26.0, bold=True, colour=RED))], 18.0)


def _dimension(figure: Figure, here: Floats, far: Floats) -> None:
    """A dimension line along `far`, (2, 2) px, with thin lines to the places it speaks of."""
    figure.draw(np.stack([here, far], axis=1), 1.4, 1.2)
    dimension(figure.stage, far, 18.0, 5.4)
