"""What a canvas can do: eleven verbs, enough for every picture of the program.

A scene says what is to be seen in these verbs and knows of no library. A canvas has a page,
measured in px from its lower left corner, and views: regions of the page that look into space.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.mesh import Mesh
from viewer.draw.camera import Camera, Floats, Region

Colour = tuple[float, float, float]
"""Red, green, blue, each 0 to 1."""

Image = NDArray[np.uint8]

BLACK: Colour = (0.0, 0.0, 0.0)
WHITE: Colour = (1.0, 1.0, 1.0)


@dataclass(frozen=True)
class Paint:
    """How a solid looks: its colour, how it shines (0 dull to 1 polished), how dense it is."""

    colour: Colour
    shine: float = 0.5
    opacity: float = 1.0
    glow: float = 0.0
    """Share of its light that does not depend on the lamps: 1 shows the bare colour."""


@dataclass(frozen=True)
class Pen:
    """Colour and width (px) of a line."""

    colour: Colour = BLACK
    width: float = 2.0


@dataclass(frozen=True)
class Letters:
    """How words are written: height of the type in px, weight, colour, where they hang."""

    size: float
    bold: bool = False
    colour: Colour = BLACK
    align: Literal["left", "centre", "right"] = "left"


class Canvas(ABC):
    """A page with views into space; everything lies in the chassis frame C."""

    def __init__(self, size: tuple[int, int]) -> None:
        self.size = size

    @property
    def page(self) -> Region:
        """The whole page."""
        return Region(0.0, 0.0, *map(float, self.size))

    @abstractmethod
    def view(self, name: str, region: Region, camera: Camera) -> None:
        """Open a view; what is drawn in space from now on appears in it."""

    @abstractmethod
    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Draw a solid in the open view, posed by X_CP, (4, 4); `on_top` is never hidden."""

    @abstractmethod
    def lines(self, name: str, segments: Floats, pen: Pen, X_CP: Floats) -> None:
        """Draw segments, (n, 2, 3) mm, in the open view, where nothing hides them."""

    @abstractmethod
    def move(self, name: str, X_CP: Floats) -> None:
        """Give everything of that name in the open view a new pose, (4, 4)."""

    @abstractmethod
    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Draw segments, (n, 2, 2) px, on the page, over the views and over what came before."""

    @abstractmethod
    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles, (n, 3, 2) px, on the page."""

    @abstractmethod
    def words(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page; `at` is the left, middle or right end of its base line."""

    @abstractmethod
    def extent(self, text: str, letters: Letters) -> float:
        """Width in px that one line of words takes."""

    @abstractmethod
    def image(self) -> Image:
        """Draw, and return the page as (height, width, 3), first row on top."""

    @abstractmethod
    def save(self, path: Path) -> None:
        """Draw, and write the page as a PNG file."""

    @abstractmethod
    def close(self) -> None:
        """Give back what the canvas holds; it cannot be drawn on afterwards."""
