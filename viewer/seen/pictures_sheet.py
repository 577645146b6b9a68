"""The sheet with the picture of every word of an inspection, row by row, with or without words."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from viewer.draw.base import BLACK, Letters, Pen
from viewer.draw.camera import Floats, Region
from viewer.draw.stage import Paper
from viewer.scene.figure import Figure
from viewer.scene.page import Sheet, fitted
from viewer.seen.pictures import COLUMNS, TILE, WORDS, called
from viewer.seen.pictures_marks import PAGE
from viewer.seen.pictures_places import Place
from viewer.seen.pictures_table import DRAWINGS, Drawing

LABEL = 34
"""Height of the words under a picture, px."""

LETTERS = Letters(18.0, align="middle")
"""Of those words."""

HEAD, TITLE, MEANS = 84, Letters(30.0, bold=True), Letters(20.0)
"""Height of what stands over a sheet with words, px, and its two lines."""

ABOUT = (
    "What is seen on a joint that broke or wore out",
    "Each picture shows what a word means, on generic parts and far larger than life. None of it "
    "is a finding: look at your own parts, all four caps, before they are washed.",
)
"""Those two lines."""


@dataclass(frozen=True, eq=False)
class Pictures(Sheet):
    """Drawings side by side; with words each has its own below it, the sheet two lines above."""

    drawings: tuple[Drawing, ...]
    labels: tuple[str, ...] = ()
    columns: int = COLUMNS

    @property
    def step(self) -> tuple[int, int]:
        """From a picture to the next one on the right, and to the one below, px."""
        return TILE[0], TILE[1] + (LABEL if self.labels else 0)

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the sheet, px."""
        wide, tall = self.step
        rows = -(-len(self.drawings) // self.columns)
        return self.columns * wide, rows * tall + self.head

    @property
    def head(self) -> int:
        """Height of what stands over the pictures, px."""
        return HEAD if self.labels else 0

    @property
    def unit(self) -> float:
        """Its sizes are real px."""
        return 1.0

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw every picture in its place."""
        wide, tall = self.step
        if self.labels:
            for text, letters, down in zip(ABOUT, (TITLE, MEANS), (36.0, 68.0), strict=True):
                fits = fitted(paper, text, letters, page.width - 24.0)
                paper.write(text, (page.left + 12.0, page.top - down), fits)
        for number, drawing in enumerate(self.drawings):
            row, column = divmod(number, self.columns)
            top = page.top - self.head - row * tall
            region = Region(page.left + column * wide, top - TILE[1], *map(float, TILE))
            _draw(paper, f"picture {number}", drawing, region)
            if self.labels:
                at = region.middle[0], region.bottom - 0.72 * LABEL
                text = self.labels[number]
                paper.write(text, at, fitted(paper, text, LETTERS, 0.97 * TILE[0]))
                paper.stroke(_frame(region), Pen(BLACK, 0.8))


def whole_sheet(labelled: bool = False) -> Pictures:
    """The sheet of every word: as it is shipped, or with the words beneath, to print."""
    drawings = tuple(DRAWINGS[key][word] for key, word in WORDS)
    if not labelled:
        return Pictures(drawings)
    return Pictures(drawings, tuple(f"{called(key)}: {word}" for key, word in WORDS), 8)


def _draw(paper: Paper, name: str, drawing: Drawing, region: Region) -> None:
    view = drawing.view()
    figure = Figure(paper, name, region, view.camera)
    figure.put(view.parts)

    def on_page(uv: Floats) -> Floats:
        return np.asarray([region.left, region.bottom] + uv * [region.width, region.height])

    for mark in drawing.marks:
        if mark.place == PAGE:
            mark.draw(paper, on_page)
        else:
            mark.draw(paper, partial(_seen, figure, view.places[mark.place]))


def _seen(figure: Figure, place: Place, uv: Floats) -> Floats:
    return figure.at(place(uv))


def _frame(region: Region) -> Floats:
    rim = region.rim
    return np.stack([rim, np.roll(rim, -1, axis=0)], axis=1)
