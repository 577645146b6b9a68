"""Pictures and short clips to hand to a customer, with what they show written under them.

Frames come in one by one; writing a clip is done by whoever has time for it, in a thread of its
own as a rule, and can be stopped at any frame.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image as Pictures
from PIL import ImageDraw, ImageFont

from geometry.errors import BindpointError
from sim.findings import Verdict
from viewer.draw.base import Image
from viewer.draw.rows import broken
from viewer.draw.verdict_mark import MARKS, ON_LIGHT, rgb
from viewer.written.files import FileError, replace

FRAME_TIME = 100
"""ms a frame of a clip is shown: a multiple of the 10 ms that the format counts in."""

WIDEST = 640
"""px a clip is wide at most, so that it can be sent by phone."""

COLOURS = 128
"""Colours of a clip's frame, of at most 256."""

PAPER, INK, QUIET = (255, 255, 255), (25, 28, 31), (80, 84, 88)

Font = ImageFont.FreeTypeFont | ImageFont.ImageFont


_STOPPED = "stopped; nothing has been written"


class ClipStoppedError(BindpointError, RuntimeError):
    """Writing was stopped; nothing has been written."""


@dataclass(frozen=True)
class Caption:
    """What stands under a picture.

    Attributes
    ----------
    title : the rig, with the date.
    verdict : whose mark is shown large. word : the verdict on this pose in a word.
    whole, whole_word : the same of the whole travel.
    says : what holds in the pose, in a sentence.
    caution : what always has to be said.
    gap : the room there is in it, in a line; "" for none.
    note : what a clip says of its drive in this frame; None for a picture that is of none.
    """

    title: str
    verdict: Verdict
    word: str
    whole: Verdict
    whole_word: str
    says: str
    caution: str
    gap: str = ""
    note: str | None = None


def captioned(frame: Image, caption: Caption, width: int | None = None) -> Pictures.Image:
    """Put words under a frame, (height, width, 3), made `width` px wide if that is given."""
    picture = Pictures.fromarray(np.ascontiguousarray(frame))
    if width is not None and picture.width != width:
        height = max(1, round(picture.height * width / picture.width))
        picture = picture.resize((width, height), Pictures.Resampling.LANCZOS)
    size = max(11.0, min(picture.width / 34.0, 8.0 + picture.width / 70.0))
    band = _Band(picture.width, size)
    band.mark_and_word(caption.verdict, caption.word, "in this position", 1.5)
    band.mark_and_word(caption.whole, caption.whole_word, "over the whole travel", 1.15)
    band.text(caption.says, size, INK, rows=2)
    if caption.gap:
        band.text(caption.gap, size, INK, rows=1)
    if caption.note is not None:
        band.text(caption.note, size, INK, bold=True, rows=2)
    band.text(caption.title, 0.8 * size, INK, bold=True)
    band.text(caption.caution, 0.62 * size, QUIET)
    page = Pictures.new("RGB", (picture.width, picture.height + band.height), PAPER)
    page.paste(picture, (0, 0))
    page.paste(band.image, (0, picture.height))
    return page


def save_captioned(frame: Image, caption: Caption, path: Path) -> None:
    """Write a frame with its words as a PNG file. Raises FileError."""
    stream = BytesIO()
    captioned(frame, caption).save(stream, "PNG")
    replace(path, stream.getvalue(), "it")


def save_clip(
    frames: Iterable[tuple[Image, Caption]],
    path: Path,
    done: Callable[[int], None] = lambda _: None,
    stopped: Callable[[], bool] = lambda: False,
    frame_time: int = FRAME_TIME,
) -> int:
    """Write frames with their words as a GIF that goes round for ever; how many there were.

    done : hears after each frame how many are written. stopped : asked before each frame.
    frame_time : ms that each one is shown.

    Raises ClipStoppedError when stopped, FileError when there is no frame or no place to
    write; then the file is as it was before.
    """
    count = 0

    def made() -> Iterator[Pictures.Image]:
        nonlocal count
        size: tuple[int, int] | None = None
        colours: Pictures.Image | None = None
        for frame, caption in frames:
            if stopped():
                raise ClipStoppedError(_STOPPED)
            page = captioned(frame, caption, min(WIDEST, frame.shape[1]))
            # All frames have the size of the first: a sentence may need more rows than another.
            size = size or page.size
            page = page if page.size == size else _on_page(page, size)
            count += 1
            # One set of colours for all: what stands still is then stored once.
            colours = colours or _colours_of(page)
            yield page.quantize(palette=colours, dither=Pictures.Dither.NONE)
            done(count)

    pages = made()
    first = next(pages, None)
    if first is None and stopped():
        raise ClipStoppedError(_STOPPED)
    if first is None:
        raise FileError(f"{path}: no clip, since there are no frames")
    stream = BytesIO()
    first.save(
        stream, "GIF", save_all=True, append_images=pages, duration=frame_time, loop=0,
        optimize=False,
    )  # fmt: skip
    if stopped():
        raise ClipStoppedError(_STOPPED)
    replace(path, stream.getvalue(), "it")
    return count


class _Band:
    """Rows of words on paper, of one width."""

    def __init__(self, width: int, size: float) -> None:
        self._edge = round(0.6 * size)
        self._size = size
        self._image = Pictures.new("RGB", (width, round(26 * size)), PAPER)
        self._draw = ImageDraw.Draw(self._image)
        self._base = float(self._edge)

    @property
    def height(self) -> int:
        """What is used so far with the edge below, px."""
        return min(self._image.height, round(self._base) + self._edge)

    @property
    def image(self) -> Pictures.Image:
        """What is used."""
        return self._image.crop((0, 0, self._image.width, self.height))

    def mark_and_word(self, verdict: Verdict, word: str, of: str, factor: float) -> None:
        """The mark of a verdict with its word, so many times as large as the rest, and of what."""
        size = factor * self._size
        _paint_mark(self._draw, verdict, (float(self._edge), self._base), size)
        x, y = self._edge + size + 0.5 * self._size, self._base + 0.5 * size
        for words, colour in ((f"{word} ", ink_of(verdict)), (of, INK)):
            letters = font(size if words != of else 0.75 * size, True)
            self._draw.text((x, y), words, colour, letters, anchor="lm")
            x += self._draw.textlength(words, letters)
        self._base += 1.3 * size

    def text(
        self, words: str, size: float, colour: tuple[int, int, int], bold: bool = False,
        rows: int | None = None,
    ) -> None:  # fmt: skip
        """Break a sentence into rows and write them.

        `rows` are taken whatever it says, so that a clip stands still; a sentence that needs more
        is made smaller.
        """
        across = self._image.width - 2 * self._edge
        room = None if rows is None else 1.3 * size * rows
        below = 0.2 * size
        while True:
            letters = font(size, bold)
            lines = broken(words, partial(self._fits, letters, across))
            if room is None or 1.3 * size * len(lines) <= room + 0.5 or size < _SMALLEST:
                break
            size *= 0.93
        top = self._base
        for line in lines:
            self._draw.text((self._edge, self._base), line, colour, letters)
            self._base += 1.3 * size
        self._base = (self._base if room is None else max(top + room, self._base)) + below

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


def _colours_of(page: Pictures.Image) -> Pictures.Image:
    """A picture with the colours of a page, and of marks that may come later."""
    strong = [np.array(colour, dtype=float) for colour in (*map(ink_of, MARKS), *LIVELY)]
    shades = [colour + share * (255.0 - colour) for colour in strong for share in SHADES]
    width, height = page.size
    deep = max(1, height // 5)
    swatches = np.repeat(np.array(shades), -(-width // len(shades)), axis=0)[:width]
    whole = Pictures.new("RGB", (width, height + deep))
    whole.paste(page, (0, 0))
    band = np.broadcast_to(swatches, (deep, width, 3)).astype(np.uint8)
    whole.paste(Pictures.fromarray(np.ascontiguousarray(band)), (0, height))
    return whole.quantize(COLOURS, Pictures.Quantize.MEDIANCUT, dither=Pictures.Dither.NONE)


LIVELY = ((214, 26, 5), (255, 189, 51), (128, 40, 30))
"""Strong colours of the views: metal that would have to give, warnings, shaded metal."""

SHADES = (0.0, 0.35, 0.7)
"""Steps toward white that a strong colour needs at its edges."""


def _on_page(picture: Pictures.Image, size: tuple[int, int]) -> Pictures.Image:
    page = Pictures.new("RGB", size, PAPER)
    page.paste(picture, (0, 0))
    return page
