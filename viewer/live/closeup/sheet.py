"""What is drawn around the cut of the close-up: its title, the measured line, a scale bar."""

from dataclasses import dataclass

import numpy as np

from sim.findings import Verdict
from viewer.draw.base import WHITE, Colour, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.stage import Page
from viewer.draw.verdict_mark import BLUE, MARKS, RED
from viewer.live.looks import Look
from viewer.scene.closeup import STEPS, border
from viewer.scene.labels import haloed, rectangle
from viewer.scene.page import fitted
from viewer.words.captions import scale_caption

BAND, TALLER, STRIP = 96.0, 32.0, 40.0
"""Height of the title over the picture, how much more it takes where that is narrow, and of the
strip under it, px."""

LOW, LOW_BAND = 320.0, 68.0
"""Height of a picture, px, under which it is said in less: how the joint stands is left away; and
the height of the title there."""

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
    if _is_low(region):
        return LOW_BAND
    return BAND + TALLER * (region.width < NARROW)


def _is_low(region: Region) -> bool:
    return region.height < LOW and region.width >= NARROW


def frame_off(page: Page, look: Look) -> None:
    """A border around the page."""
    page.stroke(border(page.region.grown(-1.0)), Pen(look.ink, 2.0))


def title(page: Page, told: Told, look: Look) -> None:
    """Say on top what is seen, with the mark of its verdict."""
    region, high = page.region, _band(page.region)
    is_narrow, is_low = high > BAND, high < BAND
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
    if not is_low:
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
