"""The sheet of a check: the tightest joint above, the whole shaft below."""

from dataclasses import dataclass, replace

import numpy as np

from viewer.draw.base import BLACK, Pen
from viewer.draw.camera import Region
from viewer.draw.stage import Paper
from viewer.scene.joint import JointPicture
from viewer.scene.page import EDGE, PAGE, Sheet
from viewer.scene.shaft import ShaftPicture


@dataclass(frozen=True, eq=False)
class CheckPicture(Sheet):
    """A joint, and the shaft it is part of; the caution of the sheet is that of the shaft."""

    joint: JointPicture
    shaft: ShaftPicture

    @property
    def size(self) -> tuple[int, int]:
        """8 x 10 in at 200 dots an inch, so that both halves are of full size."""
        return PAGE[0], 2 * PAGE[1]

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw both pictures, one above the other, with one caution at the foot."""
        half = 0.5 * page.height
        upper = Region(page.left, half, page.width, half)
        replace(self.joint, caution="").draw(paper, upper)
        self.shaft.draw(paper, Region(page.left, page.bottom, page.width, half))
        ends = np.array([[[page.left + EDGE, half], [page.right - EDGE, half]]])
        paper.stroke(ends, Pen(BLACK, 2.0))
