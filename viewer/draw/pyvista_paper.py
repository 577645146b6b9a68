"""Paper that draws with VTK, off screen.

It is drawn larger than asked and then made smaller, which smooths every edge on every driver.
Layers from back to front: what is behind everything, then of each pane its things, what is on top
of them and their words, then the page's own strokes and lines.
"""

from typing import Any

import numpy as np
import pyvista as pv
from PIL import Image as Picture
from vtkmodules.vtkRenderingCore import vtkRenderer

from viewer.draw.base import WHITE, Image
from viewer.draw.camera import Camera, Region
from viewer.draw.pyvista_page import VtkPage
from viewer.draw.pyvista_pane import Pane, place, size_of
from viewer.draw.stage import Paper
from viewer.draw.vtk_parts import SAMPLES, grabbed

FINER = 2
"""How many times larger than asked a sheet is drawn in each direction."""

_PAGE = 4
"""Layer of the page."""


class PyVistaPaper(VtkPage, Paper):
    """A white sheet of `size` real px, `unit` for each px of the paper; needs no display.

    Made in a process of its own (`viewer.written.child`), since a missing or faulty driver ends
    the process it is in.
    """

    def __init__(self, size: tuple[int, int] = (1600, 1000), unit: float = 1.0) -> None:
        window = [FINER * side for side in size]
        plotter: Any = pv.Plotter(off_screen=True, window_size=window, lighting="none")
        plotter.renderer.SetBackground(*WHITE)
        self._plotter, self._window = plotter, plotter.render_window
        self._unit = FINER * unit
        self._window.SetMultiSamples(SAMPLES)
        self._panes: dict[str, Pane] = {}
        self._open_page()
        place(self._window, self._page, _PAGE, self.size, None)

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px of the paper."""
        return size_of(self._window, self._unit)

    def pane(self, name: str, region: Region, camera: Camera) -> Pane:
        """Open a pane in a region, seen in parallel."""
        if name not in self._panes:
            renderer = vtkRenderer()
            place(self._window, renderer, 1, self.size, region)
            self._panes[name] = Pane(self._window, renderer, 1, region, self._unit, sheet=True)
        self._panes[name].aim(camera, perspective=False)
        return self._panes[name]

    def image(self) -> Image:
        """Draw, and return what is seen."""
        for pane in self._panes.values():
            pane.settle()
        self._lay_flat()
        self._window.Render()
        return np.asarray(Picture.fromarray(grabbed(self._window)).reduce(FINER))

    def close(self) -> None:
        """Take everything away and give the window back."""
        for pane in self._panes.values():
            pane.close()
        self._plotter.close()
