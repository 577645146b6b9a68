"""The words in the close-up: the names of what meets, and the number of what is measured."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Floats, Region
from viewer.draw.stage import Page
from viewer.live.closeup.meeting import is_one
from viewer.live.closeup.metal import Cut, Dress, metal
from viewer.live.closeup.sheet import Told, free
from viewer.scene.closeup import border
from viewer.scene.labels import haloed, rectangle
from viewer.scene.section import clipped, within

Names = tuple[tuple[str, str], ...]
"""Of each that meets its surface, and whose it is."""


@dataclass(frozen=True, eq=False)
class Keep:
    """What no words may cover: lines, (n, 2, 2) px, that are measured along, and whole boxes."""

    lines: Floats
    boxes: tuple[Region, ...] = ()

    def off(self, box: Region) -> bool:
        """Whether a box covers nothing of it."""
        around = box.grown(_CLEAR)
        on_line = len(self.lines) and len(clipped(self.lines, *around.corners))
        return not on_line and not any(map(around.meets, self.boxes))


class Labels:
    """The words in the picture, which stay where they are as long as they can.

    Those that name what meets stand in two corners, across if they can, each on the side of its
    metal; the number stands beside what it measures. None covers what is kept: rather the letters
    get smaller, and where there is no room at all words are left away.
    """

    def __init__(self) -> None:
        self._order, self._lefts = (0, 1), (True, False)
        self._side = -1
        self._keep = Keep(np.empty((0, 2, 2)))
        self._taken: list[Region] = []
        self._lines: list[Floats] = []

    def name(
        self,
        page: Page,
        cut: Cut,
        pair: tuple[str, str],
        told: Told,
        place: Floats,
        keep: Keep,
    ) -> None:
        """Name the two that meet at a place (2,) px, each with a line to its metal."""
        room = free(page.region).grown(-8.0)
        metals = [cut.of(body, words[0]) for body, words in zip(pair, told.names, strict=True)]
        inside = [
            spots_in(cut, body, words[0], place, room)
            for body, words in zip(pair, told.names, strict=True)
        ]
        first, second = (each.mean(axis=0) if len(each) else place for each in inside)
        self._choose_corners(first, second)
        self._keep, self._taken, self._lines = keep, [], []
        shares = np.linspace(0.0, 1.0, 5)[:, None]
        rims = np.array([border(box) for box in keep.boxes]).reshape(-1, 2, 2)
        marks = np.concatenate([keep.lines, rims, place[None, None].repeat(2, axis=1)])
        spots = (marks[:, :1] + shares * (marks[:, 1:] - marks[:, :1])).reshape(-1, 2)
        share, names, boxes = self._placed(page, room, told, keep)
        dots = []
        for number, box in boxes.items():
            points = inside[number]
            for other in boxes.values():
                around = other.grown(DOT + _CLEAR).corners
                points = points[((points < around[0]) | (points > around[1])).any(axis=1)]
            if not len(points):
                continue
            anchor = _near(points, place, room.width, box, spots)
            line = np.stack([np.clip(anchor, *box.corners), anchor])[None]
            haloed(page, line, Pen(BLACK, 2.6), 2.0)
            haloed(page, line[:, [1, 1]], Pen(BLACK, 10.0), 2.5)
            dots.append(Region.around(anchor, DOT))
            self._lines.append(line)
        for number, box in boxes.items():
            _name_plate(page, box, names[number], metals[number][1], share)
        self._taken = list(boxes.values())
        self._keep = Keep(keep.lines, (*keep.boxes, *dots))

    def _placed(
        self, page: Page, room: Region, told: Told, keep: Keep
    ) -> tuple[float, Names, dict[int, Region]]:
        """Size of the letters, the names as far as there is room, and where they stand.

        They stand off what is kept, and both of them rather than one alone.
        """
        best: dict[int, Region] = {}
        brief = tuple((surface, "") for surface, _ in told.names)
        size, told_best = 1.0, told.names
        for share, names in [*product(_SIZES, [told.names]), *product(_SIZES[1:], [brief])]:
            there: list[list[tuple[float, Region | None]]] = [[(_AWAY, None)], [(_AWAY, None)]]
            for which, (number, is_top) in enumerate(zip(self._order, (True, False), strict=True)):
                left = self._lefts[number]
                for aside in (False, True):
                    for off in _HEIGHTS:
                        up = 1.0 - off if is_top else off
                        box = _name_box(page, room, names[number], up, left != aside, share)
                        if room.grown(1.0).holds(box) and keep.off(box):
                            there[which].append((off + _ASIDE * aside, box))
            pairs = sorted(product(*there), key=lambda pair: pair[0][0] + pair[1][0])
            for pair in pairs:
                found = {
                    number: box
                    for number, (_, box) in zip(self._order, pair, strict=True)
                    if box is not None
                }
                if len(found) < len(pair):
                    break
                one, other = found.values()
                if not one.grown(2.0 * _CLEAR).meets(other):
                    break
            if len(found) > len(best):
                best, size, told_best = found, share, names
            if len(best) == len(told.names):
                break
        return size, told_best, best

    def number(self, page: Page, lines: Floats, text: str, colour: Colour) -> None:
        """Write a number beside lines, (n, 2, 2) px, that are measured along, if there is room."""
        room = free(page.region).grown(-6.0)
        points = lines.reshape(-1, 2)
        low, high = points.min(axis=0), points.max(axis=0)
        for share in _SIZES:
            letters = Letters(22.0 * share, True, colour)
            half = 0.5 * np.array([page.extent(text, letters) + 16.0, letters.size * 1.5])
            middle, reach = 0.5 * (low + high), 0.5 * (high - low) + half + 10.0
            best, where, side = np.inf, middle, -1
            for number, way in enumerate(_WAYS):
                at = np.clip(middle + way * reach, room.corners[0] + half, room.corners[1] - half)
                box = Region.between(at - half, at + half)
                taken = any(map(box.grown(2.0 * _CLEAR).meets, self._taken))
                if taken or not room.holds(box) or not self._keep.off(box.grown(3.0)):
                    continue
                cost = 0.0 if number == self._side else 0.5
                cost += 6.0 * sum(bool(len(clipped(each, *box.corners))) for each in self._lines)
                cost += 4.0 * bool(len(clipped(lines, *box.corners))) + 0.4 * np.abs(way).sum()
                if cost < best:
                    best, where, side = cost, at, number
            if side < 0:
                continue
            self._side = side
            box = Region.between(where - half, where + half)
            rectangle(page, box.grown(3.0), colour)
            rectangle(page, box, WHITE)
            page.write(text, (box.left + 8.0, box.bottom + 0.32 * letters.size), letters)
            return

    def _choose_corners(self, first: Floats, second: Floats) -> None:
        right, up = second - first
        if abs(up) > _KEPT:
            self._order = (1, 0) if up > 0.0 else (0, 1)
        if abs(right) > _KEPT:
            self._lefts = (right > 0.0, right < 0.0)


DOT = 7.5
"""Radius of the dot in the metal that is named, with its rim, px."""

_CLEAR = 4.0
"""px left free between words and what they do not cover."""

_SIZES = (1.0, 0.8, 0.65)
"""Shares of the size of letters that are tried: as large as there is room for."""

_HEIGHTS, _ASIDE, _AWAY = (0.0, 0.25, 0.5, 0.75, 1.0), 0.4, 10.0
"""Shares of the height of the room that a name may be off its corner, and what it costs to be in
the corner aside, and to be left away, in the same."""

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
    page: Page, room: Region, words: tuple[str, str], up: float, is_left: bool, share: float
) -> Region:
    wide = max(
        page.extent(text, _sized(letters, share))
        for text, letters in zip(words, (_NAME, _WHOSE), strict=True)
    )
    width, height = wide + 52.0 * share, (54.0 if words[1] else _ONE_ROW) * share
    left = room.left if is_left else room.right - width
    return Region(left, room.bottom + up * (room.height - height), width, height)


def _name_plate(
    page: Page, box: Region, words: tuple[str, str], dress: Dress, share: float
) -> None:
    rectangle(page, box.grown(2.5), BLACK)
    rectangle(page, box, WHITE)
    edge = 8.0 * share
    swatch = Region(
        box.left + edge, box.bottom + 10.0 * share, 28.0 * share, box.height - 20.0 * share
    )
    metal(page, border(swatch), swatch, dress)
    left = swatch.right + edge
    base = box.top - 28.0 * share if words[1] else box.bottom + 12.0 * share
    page.write(words[0], (left, base), _sized(_NAME, share))
    if words[1]:
        page.write(words[1], (left, box.bottom + edge), _sized(_WHOSE, share))


def _sized(letters: Letters, share: float) -> Letters:
    return replace(letters, size=share * letters.size)


_ONE_ROW = 38.0
"""Height of a name that does not say whose it is, px."""

_NAME, _WHOSE = Letters(20.0, True), Letters(15.0)


def spots_in(cut: Cut, body: str, surface: str, place: Floats, room: Region) -> Floats:
    """Places (n, 2) px well in the metal of a body that has a surface, and in no other's.

    They are near a place (2,) px if there are any, else anywhere in the room.
    """
    outline, _ = cut.of(body, surface)
    others = [skin for key, (skin, _) in cut.bodies.items() if not is_one(key, body)]
    # What is bolted on or pressed in is drawn over the body that has it.
    others += [skin for skin, _ in cut.pieces.values() if skin is not outline]
    for far in (_FAR * room.width, np.inf):
        low, high = (np.clip(place + side * far, *room.corners) for side in (-1.0, 1.0))
        for step in (_STEP, 0.4 * _STEP):
            points = _inside(outline, others, low, high, step)
            if len(points):
                return points
    return np.empty((0, 2))


def _inside(
    outline: Floats, others: Sequence[Floats], low: Floats, high: Floats, step: float
) -> Floats:
    """Places (n, 2) px of a rectangle, a step inside an outline and outside of all others."""
    x, y = (np.arange(low[i] + step, high[i], step) for i in (0, 1))
    points = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    if not len(outline) or not len(points):
        return np.empty((0, 2))
    for aside in ([0.0, 0.0], [step, 0.0], [-step, 0.0], [0.0, step], [0.0, -step]):
        points = points[within(points + aside, outline)]
        for other in others:
            if len(other) and len(points):
                points = points[~within(points + aside, other)]
    return points


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
