"""The sheet of a check: its first page in words, the tightest joint, the whole shaft below."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from viewer.draw.base import BLACK, Letters, Pen
from viewer.draw.camera import Region
from viewer.draw.stage import Paper
from viewer.scene.joint import JointPicture
from viewer.scene.page import EDGE, PAGE, Sheet, headed, wrapped
from viewer.scene.shaft import ShaftPicture

HEADLINE, LINE, PART = 50.0, 29.0, 38.0
"""px of the letters: of the verdict, of the lines below it, of what heads a picture."""


@dataclass(frozen=True, eq=False)
class CheckPicture(Sheet):
    """A joint, and the shaft it is part of; the caution of the sheet is that of the shaft.

    rig, verdict, lines : the first page: whose it is, the verdict with its sentence, what follows.
    """

    rig: str
    verdict: str
    lines: tuple[str, ...]
    joint: JointPicture
    shaft: ShaftPicture

    @property
    def size(self) -> tuple[int, int]:
        """8 x 10 in at 200 dots an inch, so that both halves are of full size."""
        return PAGE[0], 2 * PAGE[1]

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw the words, then both pictures, one above the other, with one caution at the foot."""
        across = page.width - 2.0 * EDGE
        rows = list(self._rows(paper, across))
        base = headed(paper, rows, page.left + EDGE, page.top - 14.0, across) - 0.5 * LINE
        half = 0.5 * (base - page.bottom)
        upper = Region(page.left, page.bottom + half, page.width, half)
        replace(self.joint, caution="", tall=PART).draw(paper, upper)
        lower = Region(page.left, page.bottom, page.width, half)
        replace(self.shaft, tall=PART).draw(paper, lower)
        for at in (upper.top, upper.bottom):
            ends = np.array([[[page.left + EDGE, at], [page.right - EDGE, at]]])
            paper.stroke(ends, Pen(BLACK, 2.0))

    def _rows(self, paper: Paper, across: float) -> Iterator[tuple[str, float, bool]]:
        """Rows of the words with the height and weight of their letters."""
        yield self.rig, LINE, False
        for text, tall, bold in ((self.verdict, HEADLINE, True), *self._below()):
            for row in wrapped(paper, text, Letters(tall, bold), across):
                yield row, tall, bold

    def _below(self) -> Iterator[tuple[str, float, bool]]:
        return ((line, LINE, False) for line in self.lines)
