"""Where words go: near what they speak of, over nothing that matters, not over each other."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Floats, Region
from viewer.draw.stage import Page

CELL = 8.0
"""px. The page is looked at in squares of this size."""

LEADING = 1.28
"""Height of a line of words against the height of its type."""


_CROSSING = 12.0
"""What a leader line costs that runs over marks and words all along, against covering metal."""

_MATTERS = 3.0
"""Weight of ground from which on it is a mark or words and not just metal."""

_TRIED = 800
"""Places tried for their leader lines."""


@dataclass(frozen=True)
class Label:
    """A few lines of words that speak of a place on the page.

    lines : words with their letters.
    anchor : (x, y) px, where the leader line ends.
    clear : px around the anchor that the leader line stays out of.
    edge : colour of the frame; None for words without one.
    """

    lines: tuple[tuple[str, Letters], ...]
    anchor: tuple[float, float]
    clear: float = 0.0
    edge: Colour | None = None


class Ground:
    """Which squares of a region are taken."""

    def __init__(self, region: Region) -> None:
        self.region = region
        shape = (int(region.height // CELL), int(region.width // CELL))
        self.taken: NDArray[np.float64] = np.zeros(shape)

    def cover(self, points: Floats, weight: float = 1.0) -> None:
        """Take the squares that points, (n, 2) px, lie in."""
        cell = np.floor((points - self.region.corners[0]) / CELL).astype(np.int64)
        rows, columns = self.taken.shape
        inside = (
            (cell[:, 0] >= 0) & (cell[:, 0] < columns) & (cell[:, 1] >= 0) & (cell[:, 1] < rows)
        )
        at = cell[inside, 1], cell[inside, 0]
        self.taken[at] = np.maximum(self.taken[at], weight)

    def cover_box(self, box: Region, weight: float = 4.0) -> None:
        """Take all squares of a box."""
        x = np.arange(box.left, box.right + CELL, 0.5 * CELL)
        y = np.arange(box.bottom, box.top + CELL, 0.5 * CELL)
        self.cover(np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2), weight)

    def cover_line(self, start: Floats, end: Floats, weight: float = 1.5) -> None:
        """Take the squares along a line."""
        share = np.linspace(0.0, 1.0, 200)[:, None]
        self.cover(start + share * (end - start), weight)

    def cover_triangles(self, corners: Floats) -> None:
        """Take the squares that show something of triangles, (n, 3, 2) px."""
        size = np.ptp(corners, axis=1).max(axis=1)
        coarse = 0.0
        for steps, fine in ((1, 1.0), (8, 8.0), (32, 32.0), (128, 128.0), (256, np.inf)):
            some = corners[(size > coarse * CELL) & (size <= fine * CELL)]
            step = np.linspace(0.0, 1.0, steps + 1)
            share = np.stack(np.meshgrid(step, step), axis=-1).reshape(-1, 2)
            share = share[share.sum(axis=1) <= 1.0]
            for few in np.array_split(some, 1 + len(some) * len(share) // 1_000_000):
                places = few[:, :1] + share @ (few[:, 1:] - few[:, :1])
                self.cover(places.reshape(-1, 2))
            coarse = fine

    def best(
        self, width: float, height: float, anchor: Floats, clear: float, near: float = 1.0
    ) -> Region:
        """Box of that size that covers least and lies near the anchor, at least `clear` off.

        near : how much nearness counts against covering little.
        """
        total = np.pad(self.taken, ((1, 0), (1, 0))).cumsum(0).cumsum(1)
        rows, columns = (int(np.ceil(side / CELL)) for side in (height, width))
        if rows > self.taken.shape[0] or columns > self.taken.shape[1]:
            return Region(self.region.left, self.region.bottom, width, height)
        sums = (
            total[rows:, columns:]
            - total[:-rows, columns:]
            - total[rows:, :-columns]
            + total[:-rows, :-columns]
        )
        y, x = np.mgrid[0 : sums.shape[0], 0 : sums.shape[1]] * CELL
        low = np.stack([x, y], axis=-1) + self.region.corners[0]
        nearest = np.clip(anchor, low, low + np.array([width, height]))
        away = np.linalg.norm(nearest - anchor, axis=-1)
        cost = 30.0 * sums / (rows * columns) + 5.0 * sums / CELL + near * away / 40.0
        cost += 100.0 * (away < clear)
        good = np.flatnonzero(cost.ravel() <= cost.min() + _CROSSING)
        good = good[:: max(1, len(good) // _TRIED)]
        starts = nearest.reshape(-1, 2)[good]
        total_cost = cost.ravel()[good] + _CROSSING * self._crossed(starts, anchor, clear)
        left, bottom = low.reshape(-1, 2)[good[int(np.argmin(total_cost))]]
        return Region(float(left), float(bottom), width, height)

    def _crossed(self, starts: Floats, anchor: Floats, clear: float) -> Floats:
        """Share of each leader line from `starts`, (n, 2), that runs over what matters, (n,)."""
        share = np.linspace(0.0, 1.0, 40)[:, None]
        points = starts[:, None] + share * (anchor - starts)[:, None]
        cell = np.floor((points - self.region.corners[0]) / CELL).astype(np.int64)
        rows, columns = self.taken.shape
        row, column = np.clip(cell[..., 1], 0, rows - 1), np.clip(cell[..., 0], 0, columns - 1)
        over = self.taken[row, column] >= _MATTERS
        # What the label itself speaks of lies at the end of its line.
        over &= np.linalg.norm(points - anchor, axis=-1) > clear + 2.0 * CELL
        return np.asarray(over.mean(axis=1))


def place(paper: Page, ground: Ground, labels: Sequence[Label]) -> list[Region]:
    """Write labels with their leader lines, each taking its place on the ground; boxes used."""
    boxes = []
    for label in labels:
        width = max(paper.extent(text, letters) for text, letters in label.lines) + 2.0 * _PAD
        height = sum(letters.size * LEADING for _, letters in label.lines) + 1.2 * _PAD
        anchor = np.array(label.anchor)
        box = ground.best(width, height, anchor, label.clear + 14.0, 1.0 if label.edge else 2.5)
        boxes.append(box)
        ground.cover_box(box.grown(6.0))
        _leader(paper, ground, box, label)
        if label.edge:
            rectangle(paper, box.grown(3.5), label.edge)
        rectangle(paper, box, WHITE)
        base = box.top - 0.6 * _PAD
        for text, letters in label.lines:
            base -= letters.size * LEADING
            paper.write(text, (box.left + _PAD, base), letters)
    return boxes


_PAD = 9.0
"""px between the words of a label and the edge of its box."""


def _leader(paper: Page, ground: Ground, box: Region, label: Label) -> None:
    anchor = np.array(label.anchor)
    start = np.clip(anchor, *box.corners)
    along = anchor - start
    length = float(np.linalg.norm(along))
    if length <= label.clear + (0.0 if label.edge else 16.0):
        return
    end = anchor - along * (label.clear / length)
    bold = 4.0 if label.edge else 2.5
    haloed(paper, np.stack([start, end])[None], Pen(label.edge or BLACK, bold), 2.0)
    if not label.clear:
        haloed(paper, np.stack([end, end])[None], Pen(BLACK, 9.0), 2.0)
    ground.cover_line(start, end)


def haloed(paper: Page, segments: Floats, pen: Pen, halo: float) -> None:
    """Draw segments on the page with `halo` px of white on both sides.

    So they stand out from light and dark metal alike, in colour and in black and white.
    """
    paper.stroke(segments, Pen(WHITE, pen.width + 2.0 * halo))
    paper.stroke(segments, pen)


def rectangle(paper: Page, box: Region, colour: Colour) -> None:
    """Fill a rectangle."""
    paper.area(box.rim[[[0, 1, 2], [0, 2, 3]]], colour)
