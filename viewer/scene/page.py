"""A sheet, and what stands around its pictures: headline, lines, caution, the arrow forward.

Sizes of type and of all else on a sheet are given for a page of `PAGE`; a paper of paper draws its
px larger or smaller where the page is.
"""

from abc import ABC, abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import prism
from viewer.draw.base import BLACK, Colour, Letters, Paint, Pen
from viewer.draw.camera import FORWARD, Camera, Region
from viewer.draw.rows import broken
from viewer.draw.shading import sharp_edges
from viewer.draw.stage import Page, Paper
from viewer.scene.labels import LEADING
from viewer.words.captions import CAUTION, forward_caption, seen_from

GREY: Colour = (0.30, 0.30, 0.30)
PAGE = (1600, 1000)

EDGE = 34.0
"""Margin of the page, px."""

ARROW = 200.0
"""Width of what points forward, px."""

STRIP = 118.0
"""Height of the strip that says which way is forward, px."""


class Sheet(ABC):
    """What is drawn on a sheet of its own, as plain data; another process may draw it."""

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the page, px."""
        return PAGE

    @property
    def unit(self) -> float:
        """Real px for each px that sizes are given in."""
        return unit_of(self.size)

    @abstractmethod
    def draw(self, paper: Paper, page: Region) -> None:
        """Draw it on a page of a paper."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Picture(Sheet):
    """A sheet with words around what it shows.

    headline, lines, caution : written as they come.
    tall : px of the headline's letters.
    """

    headline: str
    lines: tuple[str, ...] = ()
    caution: str = CAUTION
    tall: float = 50.0

    def frame(self, paper: Paper, page: Region) -> Region:
        """Write headline, lines and caution on a page; returns what is left for pictures."""
        left, across = page.left + EDGE, page.width - 2.0 * EDGE
        head = (self.headline, self.tall, True), *((line, 29.0, False) for line in self.lines)
        base = headed(paper, head, left, page.top - 14.0, across)
        small = Letters(19.0, False, GREY)
        bottom = page.bottom + 16.0
        for row in reversed(balanced(paper, self.caution, small, across)):
            paper.write(row, (left, bottom), small)
            bottom += small.size * LEADING
        bottom += 14.0
        return Region(left, bottom, across, base - 22.0 - bottom)


def unit_of(size: tuple[int, int]) -> float:
    """Real px for each px of a page of that size, so that `PAGE` fits on it."""
    return min(have / meant for have, meant in zip(size, PAGE, strict=True))


def headed(
    paper: Page, lines: Iterable[tuple[str, float, bool]], left: float, top: float, across: float
) -> float:
    """Write lines, each with its height and weight, from the top down; the last one's base."""
    for text, size, bold in lines:
        letters = fitted(paper, text, Letters(size, bold), across)
        top -= letters.size * LEADING
        paper.write(text, (left, top), letters)
    return top


def bearings(paper: Paper, name: str, camera: Camera, strip: Region) -> list[Region]:
    """Say in a strip which way is forward and from where the figure `name` is seen; its boxes."""
    _forward(paper, f"{name} forward", camera, strip)
    text, letters = seen_from(camera.toward.tolist()), Letters(24.0)
    left = strip.left + ARROW + 30.0
    paper.write(text, (left, strip.bottom), letters)
    words = Region(left, strip.bottom, paper.extent(text, letters), letters.size * LEADING)
    return [Region(strip.left, strip.bottom, ARROW, strip.height), words]


def fitted(paper: Page, text: str, letters: Letters, width: float) -> Letters:
    """Return the letters, made smaller where the text would not fit."""
    needed = paper.extent(text, letters)
    if needed <= width:
        return letters
    return Letters(letters.size * width / needed, letters.bold, letters.colour, letters.align)


def wrapped(paper: Page, text: str, letters: Letters, width: float) -> list[str]:
    """Break a text into lines of at most that width, between words."""
    return broken(text, lambda row: paper.extent(row, letters) <= width)


def balanced(paper: Page, text: str, letters: Letters, width: float) -> list[str]:
    """Break a text into as few lines as it needs, of about one length."""
    rows = wrapped(paper, text, letters, width)
    for share in np.linspace(0.4, 1.0, 13):
        narrower = wrapped(paper, text, letters, share * width)
        if len(narrower) == len(rows):
            return narrower
    return rows


def _forward(paper: Paper, pane: str, camera: Camera, strip: Region) -> None:
    """A solid arrow that points forward in the vehicle, seen as the picture is, with the word."""
    toward = camera.R_VC[2]
    away = float(toward @ FORWARD)
    letters = Letters(26.0, bold=True)
    word_height = 1.25 * letters.size
    paper.write(forward_caption(away), (strip.left, strip.bottom), letters)
    region = Region(strip.left, strip.bottom + word_height, ARROW, strip.height - word_height)
    # The arrow is turned about itself to show its face.
    face = toward - away * FORWARD
    flat = float(np.linalg.norm(face))
    face = face / flat if flat > 1e-6 else np.array([0.0, 0.0, 1.0])
    X_CP = np.eye(4)
    X_CP[:3, 1], X_CP[:3, 2] = np.cross(face, FORWARD), face
    across, upward = np.abs(camera.R_VC[:2] @ FORWARD)
    tall, wide = upward + 0.6 * across, across + 0.6 * upward
    span = 1.1 * max(tall, wide * region.height / region.width)
    space = paper.pane(pane, region, Camera(np.zeros(3), toward, camera.up, span))
    mesh = arrow()
    space.solid("forward", mesh, Paint(BLACK, 0.0, glow=0.6), X_CP)
    space.lines("forward", sharp_edges(mesh), Pen(BLACK, 1.5), X_CP)


def arrow(long: float = 1.0, wide: float = 0.54, thick: float = 0.1) -> Mesh:
    """A flat arrow along x, its middle at the origin, lying in the plane z = 0."""
    half = np.array([[-0.5, -11 / 54], [0.06, -11 / 54], [0.06, -0.5], [0.5, 0.0]])
    rim = np.concatenate([half, half[-2::-1] * [1.0, -1.0]]) * [long, wide]
    return prism(rim, "z", -0.5 * thick, 0.5 * thick, "arrow").mesh()
