"""What lives around the shaft on a sheet: bodies, their names, and the smallest gap to them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from sim.around.surroundings import SurroundingGap
from viewer.draw.base import Letters
from viewer.draw.camera import Floats, Region
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene.figure import Figure, points_of
from viewer.scene.marks import gap_line, gap_ring, touch_ring
from viewer.scene.parts import PosedPart
from viewer.words.captions import nearest_caption

RING = 34.0
"""Radius of the ring around a gap that is too short on the page to be seen as a line, px."""

SHORT = 16.0
"""Such a gap, px."""


@dataclass(frozen=True, eq=False)
class Nearby:
    """What lives around the shaft: things near it, what holds the axle, the gap to be marked."""

    things: tuple[PosedPart, ...] = ()
    suspension: tuple[PosedPart, ...] = ()
    gap: SurroundingGap | None = None

    @property
    def parts(self) -> tuple[PosedPart, ...]:
        """All of it that is drawn."""
        return *self.things, *self.suspension

    @property
    def for_export(self) -> tuple[PosedPart, ...]:
        """The same bodies, each with a name of its own that no part of the shaft has."""
        kinds = (("surroundings", self.things), ("suspension", self.suspension))
        return tuple(
            replace(part, name=f"{kind} {i + 1} {part.name}")
            for kind, parts in kinds
            for i, part in enumerate(parts)
        )

    @property
    def is_beside(self) -> bool:
        """Whether the gap runs so much sideways that it cannot be seen from the left."""
        if self.gap is None:
            return False
        across = self.gap.points[1] - self.gap.points[0]
        return bool(abs(across[1]) > 0.8 * np.linalg.norm(across) > 0.0)

    def seen(self, shaft: Floats, around: float) -> Iterator[Floats]:
        """Points (n, 3) mm that have to be seen: all, but of things what is near the shaft."""
        low, high = shaft.min(axis=0) - around, shaft.max(axis=0) + around
        yield from (part.in_chassis for part in self.suspension)
        yield from (np.clip(part.in_chassis, low, high) for part in self.things)
        if self.gap is not None:
            yield self.gap.points

    def mark(self, figure: Figure) -> None:
        """Mark the gap, and name each thing where it can be seen."""
        for part in self.things:
            shown = _shown(figure, figure.at(part.in_chassis))
            if shown is not None:  # words stay off things, which they would hide at once
                figure.ground.cover_box(shown, 5.0)
        if self.gap is not None:
            _mark_gap(figure, self.gap)
        for name in dict.fromkeys(part.name for part in self.things):
            points = points_of(part for part in self.things if part.name == name)
            shown = _shown(figure, figure.at(points))
            if shown is not None:
                figure.say(shown.middle, [(name, Letters(26.0, bold=True))])


def _mark_gap(figure: Figure, gap: SurroundingGap) -> None:
    """Draw the line between the two nearest points, or a ring where they touch; its label."""
    ends = figure.at(gap.points)
    middle = ends.mean(axis=0)
    apart = float(np.linalg.norm(ends[1] - ends[0]))
    clear = 0.5 * apart + 4.0
    if gap.touches:
        touch_ring(figure.paper, middle, RING)
        clear = 1.5 * RING
    else:
        if apart < SHORT:
            gap_ring(figure.paper, middle, RING)
            clear = 1.1 * RING
        gap_line(figure.paper, ends)
    figure.ground.cover_box(Region.around(middle, max(clear, 0.5 * apart)), 6.0)
    colour = RED if gap.touches else BLUE
    figure.tell(middle, nearest_caption(gap), colour, 33.0, clear, first=True)


def _shown(figure: Figure, points: Floats) -> Region | None:
    """Box of what a figure shows of a body with these corners, (n, 2) px; None of nothing."""
    low = np.maximum(points.min(axis=0), figure.region.corners[0])
    high = np.minimum(points.max(axis=0), figure.region.corners[1])
    return Region.between(low, high) if (high > low).all() else None
