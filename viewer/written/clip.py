"""Short clips to hand to a customer, with what they show written under them.

Frames come in one by one; writing a clip is done by whoever has time for it, in a thread of its
own as a rule, and can be stopped at any frame.
"""

from collections.abc import Callable, Iterable, Iterator
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image as Pictures

from geometry.errors import BindpointError
from viewer.draw.base import Image
from viewer.draw.verdict_mark import MARKS
from viewer.written.caption import PAPER, Caption, captioned, ink_of, last_page
from viewer.written.files import FileError, replace

FRAME_TIME = 100
"""ms a frame of a clip is shown: a multiple of the 10 ms that the format counts in."""

WIDEST = 640
"""px a clip is wide at most, so that it can be sent by phone; half as much again where it shows two
pictures side by side."""

COLOURS = 128
"""Colours of a clip's frame, of at most 256."""

RESTS = 3000
"""ms that the last page stands, which says what the clip rests on."""

_STOPPED = "stopped; nothing has been written"


class ClipStoppedError(BindpointError, RuntimeError):
    """Writing was stopped; nothing has been written."""


def save_clip(
    frames: Iterable[tuple[Image, Caption]],
    path: Path,
    done: Callable[[int], None] = lambda _: None,
    stopped: Callable[[], bool] = lambda: False,
    frame_time: int = FRAME_TIME,
) -> int:
    """Write frames with their words as a GIF that goes round for ever; how many there were.

    Its last page says what it rests on, and is not counted.

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
        last: Caption | None = None
        for frame, caption in frames:
            if stopped():
                raise ClipStoppedError(_STOPPED)
            most = WIDEST * (1 + len(caption.sides)) // 2
            page = captioned(frame, caption, min(most, frame.shape[1]), notes=False)
            # All frames have the size of the first: a sentence may need more rows than another.
            size = size or page.size
            page = page if page.size == size else _on_page(page, size)
            count += 1
            # One set of colours for all: what stands still is then stored once.
            colours = colours or _colours_of(page)
            last = caption
            yield page.quantize(palette=colours, dither=Pictures.Dither.NONE)
            done(count)
        if size is not None and last is not None:
            page = last_page(last, size).quantize(palette=colours, dither=Pictures.Dither.NONE)
            yield from [page] * round(RESTS / frame_time)

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
