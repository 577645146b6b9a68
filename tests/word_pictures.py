"""Draws the pictures of an inspection's words: `python -m tests.word_pictures`.

Writes the sheet that is shipped, and the one with the words beneath for the docs. Needs off-screen
OpenGL.
"""

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

import models
from viewer.seen.pictures_sheet import whole_sheet
from viewer.written.picture import save_picture

SHIPPED = Path(models.__file__).parent / "pictures" / "words.png"
PRINTED = Path(__file__).parents[1] / "docs" / "pictures" / "words.png"
GREYS, COLOURS = 88, 40
"""Of the palette: steel, and what is painted on it, which would else be lost among the steel."""


def with_few_colours(image: Image.Image) -> Image.Image:
    """The same in few colours, so that it takes little room."""
    pixels = np.asarray(image).reshape(-1, 3)
    vivid = np.ptp(pixels.astype(np.int16), axis=1) > 40
    palette = np.concatenate(
        [_palette(pixels[some], count) for some, count in ((~vivid, GREYS), (vivid, COLOURS))]
    )
    holder = Image.new("P", (1, 1))
    holder.putpalette(palette.tobytes())
    return image.quantize(palette=holder, dither=Image.Dither.NONE)


def _palette(pixels: NDArray[np.uint8], count: int) -> NDArray[np.uint8]:
    few = Image.fromarray(pixels[None]).quantize(count, method=Image.Quantize.MEDIANCUT, kmeans=1)
    return np.array(few.getpalette()[: 3 * count], dtype=np.uint8)


def drawn(labelled: bool, place: Path) -> Image.Image:
    """The sheet, drawn anew by way of a file."""
    save_picture(whole_sheet(labelled), place)
    with Image.open(io.BytesIO(place.read_bytes())) as image:
        return image.convert("RGB")


def main() -> None:
    for labelled, place in ((False, SHIPPED), (True, PRINTED)):
        place.parent.mkdir(exist_ok=True)
        with_few_colours(drawn(labelled, place)).save(place, optimize=True)


if __name__ == "__main__":
    main()
