"""Words under a picture: what it shows, what holds in it, what that rests on, with a caution."""

from dataclasses import dataclass
from functools import cache, partial
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image as Pictures
from PIL import ImageDraw, ImageFont

from sim.findings import Verdict
from viewer.draw.base import Image
from viewer.draw.rows import broken
from viewer.draw.verdict_mark import MARKS, ON_LIGHT, rgb
from viewer.written.files import replace

PAPER, INK, QUIET = (255, 255, 255), (25, 28, 31), (80, 84, 88)

ROWS = 2
"""Rows that are kept for a sentence on a pose, and one more where two stand side by side."""

Font = ImageFont.FreeTypeFont | ImageFont.ImageFont


@dataclass(frozen=True)
class Side:
    """What stands under one of the pictures of a page, or under the only one.

    Attributes
    ----------
    verdict : whose mark is shown large. word : the verdict on this pose in a word.
    whole, whole_word : the same of the whole travel.
    says : what holds in the pose, in a sentence.
    name : which of two it is; "" for the only one.
    """

    verdict: Verdict
    word: str
    whole: Verdict
    whole_word: str
    says: str
    name: str = ""


@dataclass(frozen=True)
class Caption:
    """What stands under a page of one picture, or of two side by side.

    Attributes
    ----------
    title : the rig, with the date.
    sides : of each picture, from the left.
    notes : what else has to be said, a line or two each: what was measured, what was assumed.
    caution : what always has to be said.
    gap : the room there is in the pose, in a line; "" for none.
    note : what a clip says of its drive in this frame; None for a picture that is of none.
    told : titles with what is said under each, where it is of no pose.
    """

    title: str
    sides: tuple[Side, ...]
    notes: tuple[str, ...]
    caution: str
    gap: str = ""
    note: str | None = None
    told: tuple[tuple[str, str], ...] = ()


def side_by_side(left: Image, right: Image) -> Image:
    """Two pictures, (height, width, 3) each, as one, the lower of them on the same ground."""
    high = max(len(left), len(right))
    gap = np.full((high, max(2, high // 150), 3), PAPER, dtype=np.uint8)
    return np.concatenate([_as_high(left, high), gap, _as_high(right, high)], axis=1)


def _as_high(picture: Image, high: int) -> Image:
    room = np.full((high - len(picture), *picture.shape[1:]), PAPER, dtype=np.uint8)
    return np.concatenate([picture, room])


def captioned(
    frame: Image, caption: Caption, width: int | None = None, notes: bool = True
) -> Pictures.Image:
    """Put words under a frame, (height, width, 3), made `width` px wide if that is given.

    notes : whether what it rests on stands there too; a clip has it on its last page.
    """
    picture = Pictures.fromarray(np.ascontiguousarray(frame))
    if width is not None and picture.width != width:
        height = max(1, round(picture.height * width / picture.width))
        picture = picture.resize((width, height), Pictures.Resampling.LANCZOS)
    count = max(1, len(caption.sides))
    wide = picture.width / count
    size = max(11.0, min(wide / 34.0, 8.0 + wide / 70.0))
    band = _Band(picture.width, size)
    tops, top = [], band.base
    for number, side in enumerate(caption.sides):
        band.within(number * wide, wide, top)
        if side.name:
            band.text(side.name, 1.1 * size, INK, bold=True)
        band.mark_and_word(side.verdict, side.word, "in this position", 1.5)
        band.mark_and_word(side.whole, side.whole_word, "over the whole travel", 1.15)
        band.text(side.says, size, INK, rows=ROWS + count - 1)
        tops.append(band.base)
    band.within(0.0, picture.width, max(tops, default=top))
    for title, words in caption.told:
        band.text(title, 1.1 * size, INK, bold=True)
        for line in words.split("\n"):
            band.text(line, size, INK)
    if caption.gap:
        band.text(caption.gap, size, INK, rows=1)
    if caption.note is not None:
        band.text(caption.note, size, INK, bold=True, rows=2)
    band.text(caption.title, 0.8 * size, INK, bold=True)
    for note in caption.notes if notes else ():
        band.text(note, 0.72 * size, INK)
    band.text(caption.caution, 0.62 * size, QUIET)
    page = Pictures.new("RGB", (picture.width, picture.height + band.height), PAPER)
    page.paste(picture, (0, 0))
    page.paste(band.image, (0, picture.height))
    return page


def last_page(caption: Caption, size: tuple[int, int]) -> Pictures.Image:
    """What a clip rests on, on a page of that size, px: the rig, what was measured and assumed."""
    width, height = size
    letters = max(_SMALLEST, min(width / 34.0, height / 20.0))
    while True:
        band = _Band(width, letters)
        band.text(caption.title, 1.1 * letters, INK, bold=True)
        for note in caption.notes:
            band.base += 0.5 * letters
            band.text(note, letters, INK)
        band.base += letters
        band.text(caption.caution, 0.9 * letters, QUIET)
        if band.height <= height or letters <= _SMALLEST:
            break
        letters *= 0.93
    page = Pictures.new("RGB", size, PAPER)
    page.paste(band.image, (0, max(0, (height - band.height) // 2)))
    return page


def save_captioned(frame: Image, caption: Caption, path: Path) -> None:
    """Write a frame with its words as a PNG file. Raises FileError."""
    stream = BytesIO()
    captioned(frame, caption).save(stream, "PNG")
    replace(path, stream.getvalue(), "it")


class _Band:
    """Rows of words on paper.

    base : where the next row begins, px.
    """

    def __init__(self, width: int, size: float) -> None:
        self._edge = round(0.6 * size)
        self._size = size
        self._image = Pictures.new("RGB", (width, round(60 * size)), PAPER)
        self._draw = ImageDraw.Draw(self._image)
        self.within(0.0, width, float(self._edge))

    def within(self, left: float, width: float, base: float) -> None:
        """Go on with rows that begin there and are so wide, px."""
        self._left, self._across, self.base = left + self._edge, width - 2.0 * self._edge, base

    @property
    def height(self) -> int:
        """What is used so far with the edge below, px."""
        return min(self._image.height, round(self.base) + self._edge)

    @property
    def image(self) -> Pictures.Image:
        """What is used."""
        return self._image.crop((0, 0, self._image.width, self.height))

    def mark_and_word(self, verdict: Verdict, word: str, of: str, factor: float) -> None:
        """The mark of a verdict with its word, so many times as large as the rest, and of what."""
        size = factor * self._size
        _paint_mark(self._draw, verdict, (self._left, self.base), size)
        x, y = self._left + size + 0.5 * self._size, self.base + 0.5 * size
        for words, colour in ((f"{word} ", ink_of(verdict)), (of, INK)):
            letters = font(size if words != of else 0.75 * size, True)
            self._draw.text((x, y), words, colour, letters, anchor="lm")
            x += self._draw.textlength(words, letters)
        self.base += 1.3 * size

    def text(
        self, words: str, size: float, colour: tuple[int, int, int], bold: bool = False,
        rows: int | None = None,
    ) -> None:  # fmt: skip
        """Break a sentence into rows and write them.

        `rows` are taken whatever it says, so that a clip stands still; a sentence that needs more
        is made smaller, and ends in dots where it could not be read then.
        """
        room = None if rows is None else 1.3 * size * rows
        below = 0.2 * size
        while True:
            letters = font(size, bold)
            lines = broken(words, partial(self._fits, letters, self._across))
            if room is None or 1.3 * size * len(lines) <= room + 0.5 or size < _SMALLEST:
                break
            size *= 0.93
        if room is not None and 1.3 * size * len(lines) > room + 0.5:
            most = max(1, int((room + 0.5) / (1.3 * size)))
            lines = [*lines[: most - 1], f"{lines[most - 1].rpartition(' ')[0]} ..."]
        top = self.base
        for line in lines:
            self._draw.text((self._left, self.base), line, colour, letters)
            self.base += 1.3 * size
        self.base = (self.base if room is None else top + room) + below

    def _fits(self, letters: Font, across: float, line: str) -> bool:
        return self._draw.textlength(line, letters) <= across


_SMALLEST = 7.0
"""px. Smaller letters cannot be read."""


@cache
def font(size: float, bold: bool = False) -> Font:
    """A typeface that knows most letters there are, or the one that is always there."""
    found = find_spec("matplotlib")
    if found is not None and found.origin is not None:
        name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
        file = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf" / name
        if file.is_file():
            return ImageFont.truetype(str(file), size)
    return ImageFont.load_default(size)


def ink_of(verdict: Verdict) -> tuple[int, int, int]:
    """Colour of a verdict, 0 to 255."""
    red, green, blue = (round(255.0 * share) for share in rgb(ON_LIGHT[verdict]))
    return red, green, blue


def _paint_mark(
    draw: ImageDraw.ImageDraw, verdict: Verdict, at: tuple[float, float], side: float
) -> None:
    """The mark of a verdict as everywhere in the program, in a square."""
    mark = MARKS[verdict]
    draw.polygon([(x, y) for x, y in at + side * mark.body], ink_of(verdict))
    for start, end in at + side * mark.cuts:
        draw.line((*start, *end), PAPER, max(1, round(mark.width * side)))
