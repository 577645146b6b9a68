"""A part of a page that is a canvas of its own, so that two pictures share one page."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import Canvas, Colour, Image, Letters, Paint, Pen
from viewer.draw.camera import Camera, Floats, Region


class PartCanvas(Canvas):
    """A region of another canvas; px count from the region's own lower left corner.

    Its views are called `prefix` and their own name on the whole page.
    """

    def __init__(self, whole: Canvas, region: Region, prefix: str) -> None:
        super().__init__((int(region.width), int(region.height)))
        self._whole, self._prefix = whole, prefix
        self._corner = np.array([region.left, region.bottom])

    def view(self, name: str, region: Region, camera: Camera) -> None:
        """Open a view inside the region."""
        left, bottom = self._corner + region.corners[0]
        place = replace(region, left=float(left), bottom=float(bottom))
        self._whole.view(f"{self._prefix} {name}", place, camera)

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Draw a solid in the open view."""
        self._whole.solid(name, mesh, paint, X_CP, on_top)

    def lines(self, name: str, segments: Floats, pen: Pen, X_CP: Floats) -> None:
        """Draw segments in the open view."""
        self._whole.lines(name, segments, pen, X_CP)

    def move(self, name: str, X_CP: Floats) -> None:
        """Pose everything of that name in the open view anew."""
        self._whole.move(name, X_CP)

    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Draw segments on the page."""
        self._whole.stroke(np.asarray(segments) + self._corner, pen)

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles on the page."""
        self._whole.area(np.asarray(triangles) + self._corner, colour)

    def words(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page."""
        x, y = self._corner + at
        self._whole.words(text, (float(x), float(y)), letters)

    def extent(self, text: str, letters: Letters) -> float:
        """Width in px of one line of words."""
        return self._whole.extent(text, letters)

    def image(self) -> Image:
        """Draw, and return the whole page."""
        return self._whole.image()

    def save(self, path: Path) -> None:
        """Draw, and write the whole page."""
        self._whole.save(path)

    def close(self) -> None:
        """Do nothing: what the whole page holds is given back with it."""
