"""What is written and drawn over the close-up: its title, the measure, names, a scale bar."""

from dataclasses import dataclass

import numpy as np

from sim.findings import Verdict
from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.stage import Page
from viewer.draw.verdict_mark import BLUE, MARKS, RED
from viewer.live.closeup.metal import Cut, Dress, metal
from viewer.live.looks import Look
from viewer.scene.closeup import STEPS, border
from viewer.scene.labels import haloed, rectangle
from viewer.scene.page import fitted
from viewer.scene.section import clipped, within
from viewer.words.captions import scale_caption

BAND, TALLER, STRIP = 96.0, 32.0, 40.0
"""Height of the title over the picture, how much more it takes where that is narrow, and of the
strip under it, px."""

NARROW = 420.0
"""Width, px, under which what is said takes two lines."""

PAD = 10.0
"""From an edge to what stands beside it, px."""

HEAD, TAIL = 15.0, 44.0
"""Length of the head of an arrow and of its shaft, px."""


@dataclass(frozen=True)
class Told:
    """The words of a close-up.

    title : which joint. says : what is there. size : its number. more : how the joint stands.
    verdict : of this turn; None where none is given. seen : from where. names : of the two that
    meet, the surface and the body that has it.
    """

    title: str
    says: str
    size: str = ""
    more: str = ""
    verdict: Verdict | None = None
    seen: str = ""
    names: tuple[tuple[str, str], ...] = ()


def free(region: Region) -> Region:
    """The part of a page between title and strip."""
    return Region(region.left, STRIP, region.width, max(1.0, region.height - _band(region) - STRIP))


def _band(region: Region) -> float:
    return BAND + TALLER * (region.width < NARROW)


def frame_off(page: Page, look: Look) -> None:
    """A border around the page."""
    page.stroke(border(page.region.grown(-1.0)), Pen(look.ink, 2.0))


def title(page: Page, told: Told, look: Look) -> None:
    """Say on top what is seen, with the mark of its verdict."""
    region, high = page.region, _band(page.region)
    is_narrow = high > BAND
    band = Region(0.0, region.height - high, region.width, high)
    rectangle(page, band, look.paper)
    page.stroke(np.array([[band.corners[0], [band.right, band.bottom]]]), Pen(look.ink, 2.0))
    colour = look.ink if told.verdict is None else look.verdicts[told.verdict]
    left = PAD
    if told.verdict is not None:
        size = 30.0 if is_narrow else 34.0
        box = Region(PAD, band.bottom + high - 67.0, size, size)
        _icon(page, box, told.verdict, colour, look.paper)
        left = box.right + PAD
    title, big, small = Letters(17.0, True, look.ink), Letters(27.0, True, colour), 15.0
    comma = "," if told.verdict == "touches" and told.size else ""
    one = f"{told.says}{comma} {told.size}".strip()
    rows = [(told.title, title, PAD if is_narrow else left, high - 26.0)]
    if is_narrow:
        rows += [(told.says, big, left, high - 62.0), (told.size, big, PAD, high - 94.0)]
    else:
        rows += [(one, big, left, high - 60.0)]
    rows += [(told.more, Letters(small, False, look.ink), PAD if is_narrow else left, 11.0)]
    for text, letters, start, base in rows:
        if text:
            across = region.width - start - 2.0 * PAD
            page.write(text, (start, band.bottom + base), fitted(page, text, letters, across))


def foot(page: Page, told: Told, look: Look, px_per_mm: float) -> None:
    """Say below how large it is, and from where it is seen."""
    strip = Region(0.0, 0.0, page.region.width, STRIP)
    rectangle(page, strip, look.paper)
    page.stroke(np.array([[[0.0, strip.top], [strip.right, strip.top]]]), Pen(look.ink, 1.0))
    size = max((each for each in STEPS if each * px_per_mm <= 0.4 * strip.width), default=STEPS[0])
    start = np.array([PAD + 2.0, 8.0])
    end, tick = start + np.array([size * px_per_mm, 0.0]), np.array([0.0, 5.0])
    bar = np.array([[start, end], [start - tick, start + tick], [end - tick, end + tick]])
    page.stroke(bar, Pen(look.ink, 3.0))
    letters = Letters(15.0, True, look.ink)
    text = scale_caption(size)
    page.write(text, (start[0] + 4.0, 16.0), letters)
    left = max(float(end[0]), start[0] + page.extent(text, letters)) + 2.0 * PAD
    letters = Letters(15.0, False, look.ink, "right")
    if page.extent(told.seen, letters) <= strip.width - left - PAD:
        page.write(told.seen, (strip.width - PAD, 12.0), letters)


def measure(page: Page, ends: Floats, overlaps: bool) -> Floats:
    """The line that is measured, (2, 2) px, with an arrow at either end; its lines, (n, 2, 2)."""
    along = ends[1] - ends[0]
    length = float(np.linalg.norm(along))
    along = along / length if length > 1e-6 else np.array([0.0, 1.0])
    aside = np.array([-along[1], along[0]])
    colour = RED if overlaps else BLUE
    inside = length > 2.0 * HEAD + 20.0 and not overlaps
    ways = (along, -along) if inside else (-along, along)
    shafts, heads = [ends] if inside or not overlaps else [], []
    for tip, way in zip(ends, ways, strict=True):
        shafts.append(np.stack([tip + 0.8 * HEAD * way, tip + (HEAD if inside else TAIL) * way]))
        base = tip + HEAD * way
        heads.append(np.stack([tip, base + 0.42 * HEAD * aside, base - 0.42 * HEAD * aside]))
    bars = [np.stack([end - 0.7 * HEAD * aside, end + 0.7 * HEAD * aside]) for end in ends]
    lines = np.array([*shafts, *([] if overlaps else bars)])
    rims = np.concatenate([np.stack([each, np.roll(each, -1, axis=0)], axis=1) for each in heads])
    page.stroke(rims, Pen(WHITE, 6.0))
    haloed(page, lines, Pen(colour, 4.0), 2.5)
    page.area(np.array(heads), colour)
    return np.concatenate([lines, rims])


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


def _icon(page: Page, box: Region, verdict: Verdict, colour: Colour, ground: Colour) -> None:
    """The mark of a verdict, whose numbers count downward."""
    mark = MARKS[verdict]

    def at(points: Floats) -> Floats:
        return np.array([box.left, box.top]) + points * [box.width, -box.height]

    rim = at(mark.body)
    middle = np.broadcast_to(rim.mean(axis=0), rim.shape)
    page.area(np.stack([middle, rim, np.roll(rim, -1, axis=0)], axis=1), colour)
    if len(mark.cuts):
        page.stroke(at(mark.cuts), Pen(ground, mark.width * box.width))


def on_page(camera: Camera, points: Floats, page: Page) -> Floats:
    """Where points (..., 3) mm in C are on the page, (..., 2) px."""
    return camera.project(points, page.region)
