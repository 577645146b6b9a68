"""The slip on a sheet: what is missing of it at its true place and length, and what is left."""

from dataclasses import dataclass

import numpy as np

from viewer.draw.base import BLACK, WHITE, Letters, Pen
from viewer.draw.camera import Floats
from viewer.draw.verdict_mark import RED
from viewer.scene.figure import SMALL, Figure
from viewer.scene.labels import haloed
from viewer.scene.slip_place import SlipNow
from viewer.words.captions import slip_caption

PITCH = 11.0
"""From line to line of the hatching of what is missing, px."""


@dataclass(frozen=True, eq=False)
class SlipMark:
    """A slip of the shaft, to be annotated.

    now : where it is. X_C : (4, 4) pose in C of the half that its spline slides in.
    """

    now: SlipNow
    X_C: Floats

    def draw(self, figure: Figure) -> None:
        """Draw what is missing in red over everything, and say what is left or missing."""
        slip, short = self.now, False
        for stretch in (slip.missing, slip.driven_in):
            if stretch[1] > stretch[0]:
                short = True
                self._hatch(figure, stretch)
        if slip.apart[1] > slip.apart[0]:
            self._rims(figure, slip.apart)
        lines = slip_caption(slip.closes_left, slip.opens_left, slip.apart_by).split("\n")
        first, last = slip.telling
        at = figure.at(self._at(0.5 * (first + last)))
        clear = 0.5 * slip.place.outside * figure.px_per_mm + 6.0
        if short or min(slip.closes_left, slip.opens_left) <= 0.0:
            figure.tell(at, lines, RED, 30.0, clear)
        else:
            letters = Letters(SMALL)
            figure.say(at, [(line, letters) for line in lines], clear)

    def _at(self, x: float) -> Floats:
        return np.asarray(self.X_C[:3, 3] + x * self.X_C[:3, 0])

    def _sides(self, figure: Figure, stretch: tuple[float, float], half: float) -> Floats:
        """Corners (2, 2, 2) px of a stretch as thick as twice `half`, mm: side, then end."""
        ends = figure.at(np.stack([self._at(x) for x in stretch]))
        way = figure.at(self._at(stretch[0] + 1.0)) - ends[0]
        aside = np.array([-way[1], way[0]]) / max(float(np.hypot(*way)), 1e-9)
        return ends + np.array([1.0, -1.0])[:, None, None] * half * figure.px_per_mm * aside

    def _hatch(self, figure: Figure, stretch: tuple[float, float]) -> None:
        paper, (up, down) = figure.paper, self._sides(figure, stretch, 0.5 * self.now.place.spline)
        paper.area(np.array([[up[0], up[1], down[1]], [up[0], down[1], down[0]]]), RED)
        count = 1 + int(np.hypot(*(up[1] - up[0])) / PITCH)
        share = np.linspace(0.0, 1.0, count + 1)[:, None]
        above, below = (side[0] + share * (side[1] - side[0]) for side in (up, down))
        paper.stroke(np.stack([below[:-1], above[1:]], axis=1), Pen(WHITE, 2.4))
        rim = np.array([up, down, [up[0], down[0]], [up[1], down[1]]])
        haloed(paper, rim, Pen(BLACK, 2.5), 2.0)
        figure.ground.cover(np.concatenate([up, down]), 4.0)

    def _rims(self, figure: Figure, stretch: tuple[float, float]) -> None:
        up, down = self._sides(figure, stretch, 0.7 * self.now.place.spline)
        ends = np.stack([up, down], axis=1)
        haloed(figure.paper, ends, Pen(RED, 3.5), 2.0)
        middle = 0.5 * (up + down)
        haloed(figure.paper, middle[None], Pen(WHITE, 2.0), 1.0)
        figure.draw(middle[None], 3.0, 1.5, RED)
