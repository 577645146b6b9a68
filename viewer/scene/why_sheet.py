"""The sheet of why a joint broke or wore: words, odds, marks on the yokes, a pressed trunnion."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

import numpy as np

from sim.cocked import CapResult
from viewer.draw.base import BLACK, Letters, Pen
from viewer.draw.camera import Region
from viewer.draw.stage import Paper
from viewer.scene.labels import LEADING
from viewer.scene.met import MetPicture
from viewer.scene.odds import ROW, Bar, draw_odds
from viewer.scene.page import EDGE, GREY, PAGE, Sheet, balanced, headed, wrapped
from viewer.scene.pressed import draw_unrolled

HEADLINE, LINE, PART, SMALL = 40.0, 27.0, 32.0, 19.0
"""px of the letters: of the first line, of those below it, of what heads a part, of the caution."""

MET_TALL: Final = 1030.0
"""Height of the yokes with their marks, px."""

PRESSED_TALL: Final = 360.0
"""Height of the pressure on a trunnion under its headline, px."""

PRESSED: Final = LINE - 3.0
"""px of the letters under that headline."""

AROUND: Final = 150.0
"""px for the rest: edges, the caution, rules."""

BETWEEN: Final = 30.0
"""px between two parts of the sheet."""

WIDE: Final = 0.55
"""Mean width of a letter against its height."""


def rows_of(text: str, tall: float) -> int:
    """Rows that a text may take across the sheet in letters so tall (px), before it is set."""
    return ceil(len(text) * WIDE * tall / (PAGE[0] - 2.0 * EDGE))


@dataclass(frozen=True, eq=False)
class PressedPart:
    """The pressure on one trunnion, and what heads it."""

    headline: str
    lines: tuple[str, ...]
    cap: CapResult


@dataclass(frozen=True, eq=False)
class WhySheet(Sheet):
    """Why a joint broke or wore, on one sheet.

    title, day : whose joint, and when this was told. counter : what one says at the counter.
    bars : causes that are not ruled out. met : both yokes with their marks; None where they say
    nothing. pressed : one trunnion; None where nothing is known of it.
    """

    title: str
    day: str
    counter: tuple[str, ...]
    odds_headline: str
    bars: tuple[Bar, ...]
    met: MetPicture | None
    pressed: PressedPart | None
    caution: str

    @property
    def size(self) -> tuple[int, int]:
        """As tall as what stands on it."""
        first, *rest = self.counter
        words = HEADLINE * rows_of(first, HEADLINE) + LINE * sum(rows_of(e, LINE) for e in rest)
        tall = LEADING * (LINE + words + PART) + len(self.bars) * (ROW + 8.0) + AROUND
        tall += MET_TALL if self.met is not None else 0.0
        if self.pressed is not None:
            rows = sum(rows_of(line, PRESSED) for line in self.pressed.lines)
            tall += PRESSED_TALL + LEADING * PRESSED * rows
        return PAGE[0], round(tall)

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw all of it, from the top down."""
        left, across = page.left + EDGE, page.width - 2.0 * EDGE
        foot = self._foot(paper, page)
        day = Letters(SMALL + 4.0, colour=GREY, align="right")
        paper.write(self.day, (page.right - EDGE, page.top - 40.0), day)
        top = headed(paper, list(self._rows(paper, across)), left, page.top - 14.0, across)
        top = self._ruled(paper, page, top - BETWEEN)
        top = headed(paper, [(self.odds_headline, PART, True)], left, top, across) - 22.0
        top = draw_odds(paper, self.bars, Region(left, foot, across, top - foot))
        if self.met is not None:
            top = self._ruled(paper, page, top - 0.5 * BETWEEN)
            box = Region(page.left, top - MET_TALL, page.width, MET_TALL)
            replace(self.met, lines=self.met.lines[1:], caution="", tall=PART).draw(paper, box)
            top = box.bottom
        if self.pressed is not None:
            top = self._ruled(paper, page, top - 0.5 * BETWEEN)
            words = [(self.pressed.headline, PART, True)]
            for line in self.pressed.lines:
                rows = wrapped(paper, line, Letters(PRESSED), across)
                words += [(row, PRESSED, False) for row in rows]
            base = headed(paper, words, left, top, across) - 16.0
            room = Region(left, base - 330.0, across, 330.0)
            found = self.pressed.cap
            draw_unrolled(paper, room, found.map, found.corners)

    def _rows(self, paper: Paper, across: float) -> Iterator[tuple[str, float, bool]]:
        """Rows of the words with the height and weight of their letters."""
        yield self.title, LINE, False
        for number, text in enumerate(self.counter):
            tall, bold = (HEADLINE, True) if number == 0 else (LINE, False)
            for row in wrapped(paper, text, Letters(tall, bold), across):
                yield row, tall, bold

    def _ruled(self, paper: Paper, page: Region, at: float) -> float:
        """A line across the page; where what is below it begins."""
        ends = np.array([[[page.left + EDGE, at], [page.right - EDGE, at]]])
        paper.stroke(ends, Pen(BLACK, 2.0))
        return at - 8.0

    def _foot(self, paper: Paper, page: Region) -> float:
        """The caution at the foot; where what stands above it may end."""
        letters, base = Letters(SMALL, colour=GREY), page.bottom + 16.0
        across = page.width - 2.0 * EDGE
        for row in reversed(balanced(paper, self.caution, letters, across)):
            paper.write(row, (page.left + EDGE, base), letters)
            base += SMALL * LEADING
        return base + 10.0
