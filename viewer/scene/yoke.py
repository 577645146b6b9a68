"""The picture of one yoke: how it was placed, and what was measured on it.

All in the yoke frame Y, mm: origin at the cross centre, x along its own shaft, y along its bores.
"""

from dataclasses import dataclass

import numpy as np

from geometry.imported.repair import FILLED
from viewer.draw.base import BLACK, Letters
from viewer.draw.camera import LEFT, UP, Floats, Region, framing
from viewer.draw.stage import Paper
from viewer.draw.verdict_mark import BLUE, RED, ring
from viewer.scene.figure import Figure, points_of
from viewer.scene.labels import LEADING, rectangle
from viewer.scene.marks import arrow_head, axis_line, dimension, joined
from viewer.scene.page import Picture, fitted
from viewer.scene.parts import MATERIALS, PosedPart, SceneError
from viewer.words.captions import (
    ABOVE_CAPTION,
    ALONG_CAPTION,
    BORES_AXIS,
    CLOSED_BY_PROGRAM,
    CROSS_CENTRE,
    SHAFT_WAY,
    caliper_length,
    span_caption,
    throat_caption,
)

IN_SPACE = np.array([-0.62, -0.55, 0.56])
"""From where the whole yoke is seen: from its open side, a little from above."""

ALONG_BORES, FROM_ABOVE = -LEFT, UP

BEYOND = 0.1
"""How far the axes are drawn on past the yoke, as a share of its size."""


@dataclass(frozen=True)
class BoreMark:
    """The two bores: their diameter, where each ends along y in rising order, and their shape.

    saddles : whether they are half round, closed by straps
    """

    diameter: float
    ends: tuple[float, float, float, float]
    word: str = "bores"


@dataclass(frozen=True, eq=False)
class YokePicture(Picture):
    """One yoke in its own frame.

    Attributes
    ----------
    parts : what is drawn.
    bores : what is ringed; None where no bores are known.
    inside_span : mm between the inside faces of the ears; None where not known.
    throat : mm from the cross centre to the floor of the throat; None where not known.

    Raises SceneError without parts.
    """

    parts: tuple[PosedPart, ...]
    bores: BoreMark | None
    inside_span: float | None
    throat: float | None

    def __post_init__(self) -> None:
        if not self.parts:
            raise SceneError("a picture of a yoke needs parts; got none")

    @property
    def bounds(self) -> Floats:
        """Lower and upper corner of the box around all parts, (2, 3)."""
        points = np.concatenate([part.in_chassis for part in self.parts])
        return np.stack([points.min(axis=0), points.max(axis=0)])

    @property
    def guessed(self) -> bool:
        """Whether some of it was not in the scan and closed by the program."""
        return any(part.name == FILLED for part in self.parts)

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw the yoke with its axes and rings from three sides, and the words."""
        free = self.frame(paper, page)
        between = 26.0
        aside = 0.36 * free.width
        half = 0.5 * (free.height - between)
        main = Region(free.left, free.bottom, free.width - aside - between, free.height)
        upper = Region(main.right + between, free.bottom + half + between, aside, half)
        lower = Region(upper.left, free.bottom, aside, half)
        self._in_space(paper, main)
        self._along_bores(paper, upper)
        self._from_above(paper, lower)

    def _in_space(self, paper: Paper, region: Region) -> None:
        if self.guessed:
            row = 48.0
            _key(paper, region)
            region = Region(region.left, region.bottom + row, region.width, region.height - row)
        figure = self._figure(paper, region, "yoke", IN_SPACE, UP)
        self._axes(figure)
        if self.bores is not None:
            letters = Letters(26.0, bold=True, colour=BLUE), Letters(26.0, colour=BLUE)
            words = self.bores.word, caliper_length(self.bores.diameter)
            figure.say(figure.at(self._rings()[0][_LOW]), list(zip(words, letters, strict=True)))
        figure.place()

    def _along_bores(self, paper: Paper, region: Region) -> None:
        row = 74.0 if self.throat is not None else 0.0
        inner = _titled(paper, region, ALONG_CAPTION)
        inner = Region(inner.left, inner.bottom + row, inner.width, inner.height - row)
        figure = self._figure(paper, inner, "along", ALONG_BORES, UP)
        self._axes(figure)
        if self.throat is None:
            return
        ends = figure.at([[0.0, 0.0, 0.0], [self.throat, 0.0, 0.0]])
        far = np.stack([ends[:, 0], np.full(2, inner.bottom - 10.0)], axis=1)
        _dimension(figure, ends, far)
        text, letters = throat_caption(self.throat), Letters(23.0, True)
        room = region.right - paper.extent(text, letters)
        left = min(max(region.left, float(far[0, 0])), room)
        paper.write(text, (left, inner.bottom - 48.0), letters)

    def _from_above(self, paper: Paper, region: Region) -> None:
        column = 170.0 if self.inside_span is not None else 0.0
        inner = _titled(paper, region, ABOVE_CAPTION)
        inner = Region(inner.left + column, inner.bottom, inner.width - column, inner.height)
        figure = self._figure(paper, inner, "above", FROM_ABOVE, LEFT)
        self._axes(figure)
        if self.inside_span is None:
            return
        half = 0.5 * self.inside_span
        ends = figure.at([[0.0, -half, 0.0], [0.0, half, 0.0]])
        metal = float(figure.at([self.bounds[0, 0], 0.0, 0.0])[0])
        far = np.stack([np.full(2, metal - 26.0), ends[:, 1]], axis=1)
        _dimension(figure, ends, far)
        letters = Letters(23.0, True, align="right")
        at, base = far.mean(axis=0) - [14.0, 0.0]
        for k, text in enumerate(span_caption(self.inside_span)):
            paper.write(text, (float(at), float(base) + (0.9 - k) * 28.0), letters)

    def _figure(
        self, paper: Paper, region: Region, name: str, toward: Floats, up: Floats
    ) -> Figure:
        """Draw the yoke and its rings."""
        points = np.concatenate([points_of(self.parts), *self._axis_ends()])
        figure = Figure(paper, name, region, framing(points, toward, up, region, margin=0.05))
        figure.put(self.parts)
        for each in self._rings():
            seen = figure.at(each)
            figure.draw(joined(seen), 3.5, 2.0, BLUE)
            figure.ground.cover(seen, 4.0)
        return figure

    def _rings(self) -> list[Floats]:
        """The ends of the bores, each (n, 3)."""
        if self.bores is None:
            return []
        turn = np.linspace(0.0, 2.0 * np.pi, 97)
        unit = np.stack([np.cos(turn), np.zeros_like(turn), np.sin(turn)], axis=-1)
        round_ = 0.5 * self.bores.diameter * unit
        return [np.asarray(round_ + np.array([0.0, y, 0.0])) for y in self.bores.ends]

    def _axis_ends(self) -> tuple[Floats, Floats]:
        """Ends of the line through the bores and of the shaft's axis, (2, 3) each."""
        low, high = self.bounds
        more = BEYOND * float(np.linalg.norm(high - low))
        bores = np.array([[0.0, low[1] - more, 0.0], [0.0, high[1] + more, 0.0]])
        shaft = np.array([[0.0, 0.0, 0.0], [high[0] + more, 0.0, 0.0]])
        return bores, shaft

    def _axes(self, figure: Figure) -> None:
        """Both axes and the cross centre, with their names."""
        bores, shaft = (figure.at(ends) for ends in self._axis_ends())
        for (start, end), colour, word in (
            (bores, BLUE, BORES_AXIS),
            (shaft, BLACK, SHAFT_WAY),
        ):
            if np.linalg.norm(end - start) < 1.0:
                continue
            figure.draw(axis_line(start, end), 2.4, 1.6, colour)
            figure.ground.cover_line(start, end, 3.0)
            figure.say(end, [(word, Letters(26.0, bold=True, colour=colour))])
        tip, way = shaft[1], shaft[0] - shaft[1]
        if np.linalg.norm(way) > 1.0:
            arrow_head(figure.paper, tip, way / np.linalg.norm(way), 30.0, 9.0)
        centre = figure.at(np.zeros(3))
        arm = 15.0 * np.eye(2)
        cross = np.stack([centre - arm, centre + arm], axis=1)
        figure.draw(np.concatenate([centre + 8.0 * ring("clear"), cross]), 3.0, 2.0, RED)
        figure.ground.cover(centre[None], 4.0)
        figure.say(centre, [(CROSS_CENTRE, Letters(26.0, bold=True, colour=RED))], 18.0)


_LOW = 72
"""Which corner of a ring is its lowest."""


def _key(paper: Paper, region: Region) -> None:
    """What the red patches are, in a row at the foot of a region."""
    swatch = Region(region.left, region.bottom + 4.0, 44.0, 26.0)
    rectangle(paper, swatch.grown(2.0), BLACK)
    rectangle(paper, swatch, MATERIALS["mark"].colour)
    text = CLOSED_BY_PROGRAM
    letters = fitted(paper, text, Letters(24.0), region.width - swatch.width - 14.0)
    paper.write(text, (swatch.right + 14.0, swatch.bottom + 3.0), letters)


def _titled(paper: Paper, region: Region, title: str) -> Region:
    letters = Letters(26.0, bold=True)
    paper.write(title, (region.left, region.top - letters.size), letters)
    tall = letters.size * LEADING
    return Region(region.left, region.bottom, region.width, region.height - tall)


def _dimension(figure: Figure, here: Floats, far: Floats) -> None:
    """A dimension line along `far`, (2, 2) px, with thin lines to the places it speaks of."""
    figure.draw(np.stack([here, far], axis=1), 1.4, 1.2)
    dimension(figure.paper, far, 18.0, 5.4)
