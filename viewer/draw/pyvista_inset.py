"""The inset of a stage on VTK: a pane beside the stage's own, cut open, with a page over it."""

from dataclasses import replace
from typing import Any

from vtkmodules.vtkRenderingCore import vtkRenderer

from viewer.draw.base import BLACK, WHITE, Colour, Letters
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.pyvista_page import VtkPage
from viewer.draw.pyvista_pane import Pane, lay, place, size_of
from viewer.draw.stage import Inset
from viewer.draw.vtk_parts import headlight, lamps

_COLOURED = 0.05
"""By how much red, green and blue of a colour differ that is no grey."""

_PAGE = 3
"""Layer of the page: over the words in space."""


class PyVistaInset(Pane, VtkPage, Inset):
    """A second picture in a part of a window.

    Being in the layer of the stage's own things, it clears its part of the window by itself.
    """

    is_cut_open = True

    def __init__(self, window: Any) -> None:
        renderer = vtkRenderer()
        place(window, renderer, 0, (1, 1), None)
        super().__init__(window, renderer)
        self._open_page()
        place(window, self._page, _PAGE, (1, 1), None)

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px of the page."""
        return max(1, round(self.part.width)), max(1, round(self.part.height))

    def lie(self, region: Region, unit: float) -> None:
        """Go to a part of the window, px of it, and draw with `unit` of them for each px."""
        (left, bottom), (right, top) = region.corners / unit
        self._unit = unit
        self.lie_in(Region(left, bottom, right - left, top - bottom))
        lay(self._page, size_of(self._window, 1.0), region)

    def fold(self, on: bool) -> None:
        """Draw nothing of it, or all of it again."""
        for renderer in (*self._layers, self._page):
            renderer.SetDraw(not on)

    def backdrop(self, colour: Colour) -> None:
        """Colour what is behind everything."""
        self._renderer.SetBackground(*colour)

    def aim(self, camera: Camera, perspective: bool = False) -> None:  # noqa: ARG002
        """Look as `camera` says, always in parallel."""
        super().aim(camera, perspective=False)

    def project(self, points: Floats) -> Floats:
        """Where points are seen, px of the page."""
        return self._seen.project(points, self.region)

    def settle(self) -> None:
        """Let nothing be seen that lies nearer to the eye than the focus."""
        super().settle()
        self._lay_flat()
        near, (_, far) = self._camera.GetDistance(), self._camera.GetClippingRange()
        self._camera.SetClippingRange(near, max(far, near + self._seen.span))

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles on the page, in grey where all is grey."""
        super().area(triangles, self._tone(colour))

    def write(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page, in ink where all is grey."""
        if self._is_grey and max(letters.colour) - min(letters.colour) > _COLOURED:
            letters = replace(letters, colour=BLACK if max(letters.colour) < 0.8 else WHITE)
        super().write(text, at, letters)

    def wipe(self) -> None:
        """Take away all that is on the page."""
        self._flat = []
        self._page.RemoveAllViewProps()

    def close(self) -> None:
        """Take everything away."""
        self.wipe()
        super().close()
        for renderer in (self._page, self._renderer):
            self._window.RemoveRenderer(renderer)

    @staticmethod
    def _light(renderer: Any) -> None:
        # Two lamps show the shapes behind the cut; each more would cost as much again.
        renderer.SetAutomaticLightCreation(False)
        for lamp in (headlight(), next(iter(lamps()))):
            renderer.AddLight(lamp)
