"""The words in the close-up: the names of what meets, and the number of what is measured."""

import numpy as np

from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Floats, Region
from viewer.draw.stage import Page
from viewer.live.closeup.metal import Cut, Dress, metal
from viewer.live.closeup.sheet import Told, free
from viewer.scene.closeup import border
from viewer.scene.labels import haloed, rectangle
from viewer.scene.section import clipped, within


class Labels:
    """The words in the picture, which stay where they are as long as they can.

    Those that name what meets stand in two corners across, each on the side of its metal; the
    number stands beside what it measures.
    """

    def __init__(self) -> None:
        self._order, self._lefts = (0, 1), (True, False)
        self._side = -1
        self._taken: list[Region] = []
        self._lines: list[Floats] = []

    def name(
        self,
        page: Page,
        cut: Cut,
        pair: tuple[str, str],
        told: Told,
        place: Floats,
        marks: Floats,
    ) -> None:
        """Name the two that meet at a place (2,) px, each with a line to its metal.

        marks : (n, 2, 2) px, what these lines keep off.
        """
        shares = np.linspace(0.0, 1.0, 5)[:, None]
        spots = (marks[:, :1] + shares * (marks[:, 1:] - marks[:, :1])).reshape(-1, 2)
        room = free(page.region).grown(-8.0)
        metals = [cut.of(body, words[0]) for body, words in zip(pair, told.names, strict=True)]
        others = [cut.bodies[body][0] for body in pair[::-1]]
        inside = [
            _inside(each[0], other, place, room) for each, other in zip(metals, others, strict=True)
        ]
        first, second = (each.mean(axis=0) if len(each) else place for each in inside)
        self._choose_corners(first, second)
        self._taken, self._lines = [], []
        for number, is_top in zip(self._order, (True, False), strict=True):
            box = _name_box(page, room, told.names[number], is_top, self._lefts[number])
            anchor = _near(inside[number], place, room.width, box, spots)
            line = np.stack([np.clip(anchor, *box.corners), anchor])[None]
            haloed(page, line, Pen(BLACK, 2.6), 2.0)
            haloed(page, line[:, [1, 1]], Pen(BLACK, 10.0), 2.5)
            _name_plate(page, box, told.names[number], metals[number][1])
            self._taken.append(box)
            self._lines.append(line)

    def number(self, page: Page, lines: Floats, text: str, colour: Colour) -> None:
        """Write a number beside lines, (n, 2, 2) px, that are measured along."""
        letters = Letters(22.0, True, colour)
        half = 0.5 * np.array([page.extent(text, letters) + 16.0, letters.size * 1.5])
        room = free(page.region).grown(-6.0)
        points = lines.reshape(-1, 2)
        low, high = points.min(axis=0), points.max(axis=0)
        middle, reach = 0.5 * (low + high), 0.5 * (high - low) + half + 10.0
        best, where, side = np.inf, middle, 0
        for number, way in enumerate(_WAYS):
            at = np.clip(middle + way * reach, room.corners[0] + half, room.corners[1] - half)
            box = Region.between(at - half, at + half)
            cost = 0.0 if number == self._side else 0.5
            cost += 10.0 * sum(map(box.grown(4.0).meets, self._taken))
            cost += 6.0 * sum(bool(len(clipped(each, *box.corners))) for each in self._lines)
            cost += 4.0 * bool(len(clipped(lines, *box.corners))) + 0.4 * np.abs(way).sum()
            if cost < best:
                best, where, side = cost, at, number
        self._side = side
        box = Region.between(where - half, where + half)
        rectangle(page, box.grown(3.0), colour)
        rectangle(page, box, WHITE)
        page.write(text, (box.left + 8.0, box.bottom + 0.32 * letters.size), letters)

    def _choose_corners(self, first: Floats, second: Floats) -> None:
        right, up = second - first
        if abs(up) > _KEPT:
            self._order = (1, 0) if up > 0.0 else (0, 1)
        if abs(right) > _KEPT:
            self._lefts = (right > 0.0, right < 0.0)


_KEPT = 30.0
"""px by which one metal has to lie beyond the other for the names to change corners."""

_WAYS = np.concatenate(
    [
        far * np.array([[1, 0], [1, 1], [1, -1], [0, 1], [0, -1], [-1, 1], [-1, -1], [-1, 0]])
        for far in (1.0, 1.5)
    ]
)
"""Where beside a line its number may stand, in the least that keeps it clear of that."""


def _name_box(
    page: Page, room: Region, words: tuple[str, str], is_top: bool, is_left: bool
) -> Region:
    width = max(page.extent(words[0], _NAME), page.extent(words[1], _WHOSE)) + 52.0
    left = room.left if is_left else room.right - width
    return Region(left, room.top - 54.0 if is_top else room.bottom, width, 54.0)


def _name_plate(page: Page, box: Region, words: tuple[str, str], dress: Dress) -> None:
    rectangle(page, box.grown(2.5), BLACK)
    rectangle(page, box, WHITE)
    swatch = Region(box.left + 8.0, box.bottom + 10.0, 28.0, box.height - 20.0)
    metal(page, border(swatch), swatch, dress)
    left = swatch.right + 8.0
    page.write(words[0], (left, box.bottom + 26.0), _NAME)
    page.write(words[1], (left, box.bottom + 8.0), _WHOSE)


_NAME, _WHOSE = Letters(20.0, True), Letters(15.0)


def _inside(outline: Floats, other: Floats, place: Floats, room: Region) -> Floats:
    """Places (n, 2) px around one, well in what an outline goes around and not in another."""
    low, high = (np.clip(place + side * _FAR * room.width, *room.corners) for side in (-1.0, 1.0))
    x, y = (np.arange(low[i] + _STEP, high[i], _STEP) for i in (0, 1))
    points = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    if not len(outline) or not len(points):
        return np.empty((0, 2))
    points = points[within(points, outline)]
    if len(other):
        points = points[~within(points, other)]
    deep = np.ones(len(points), dtype=bool)
    for aside in ([_STEP, 0.0], [-_STEP, 0.0], [0.0, _STEP], [0.0, -_STEP]):
        deep[deep] = within(points[deep] + aside, outline)
    return points[deep] if deep.any() else points


_STEP = 10.0
"""px from one place to the next that is tried for the end of a line."""

_FAR = 0.3
"""Share of the width around what is shown in which such places are looked for."""


def _near(points: Floats, place: Floats, width: float, box: Region, marks: Floats) -> Floats:
    """One of some places in metal: near what is shown, its line from a box clear of marks."""
    if not len(points):
        return place
    cost = np.abs(np.linalg.norm(points - place, axis=1) - 0.15 * width)
    starts = np.clip(points, *box.corners)
    cost += 0.1 * np.linalg.norm(points - starts, axis=1)
    few = marks[:: max(1, len(marks) // _ENOUGH)]
    for share in np.linspace(0.0, 1.0, 9)[1:, None]:
        on_line = starts + share * (points - starts)
        off = np.linalg.norm(on_line[:, None] - few, axis=-1).min(axis=1)
        cost += 2.0 * np.maximum(_OFF - off, 0.0)
    return np.asarray(points[np.argmin(cost)])


_ENOUGH = 80
"""Points of the marks that are looked at."""

_OFF = 26.0
"""px that the line of a name keeps off the marks."""
