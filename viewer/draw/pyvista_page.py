"""A page on VTK: flat triangles and lines of words in a layer over everything."""

from itertools import count
from typing import Any

import numpy as np
from vtkmodules.util.numpy_support import numpy_to_vtk
from vtkmodules.vtkRenderingCore import vtkActor2D, vtkPolyDataMapper2D, vtkRenderer, vtkTextActor

from viewer.draw.base import Colour, Letters, Pen
from viewer.draw.camera import Floats
from viewer.draw.ribbon import ribbon
from viewer.draw.stage import Page
from viewer.draw.vtk_parts import lettering, literal, text_box, unshared


class VtkPage(Page):
    """A page in a renderer of a window.

    Whoever inherits opens it, and gives `_window`, `_page`, and `_unit`, px of the window for each
    px of the page.
    """

    _window: Any
    _unit: float
    _page: vtkRenderer

    def _open_page(self) -> None:
        self._page, self._order = vtkRenderer(), count()
        self._flat: list[tuple[Floats, Colour]] = []

    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Draw segments on the page."""
        self.area(ribbon(segments, pen.width), pen.colour)

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles on the page."""
        if len(triangles):
            self._flat.append((triangles.reshape(-1, 2) * self._unit, colour))

    def write(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page."""
        self._lay_flat()
        actor = vtkTextActor()
        actor.SetInput(literal(text))
        actor.SetTextScaleModeToNone()
        actor.SetTextProperty(lettering(letters, self._window, self._unit))
        actor.SetPosition(at[0] * self._unit, at[1] * self._unit)
        self._on_page(actor)

    def extent(self, text: str, letters: Letters) -> float:
        """Width in px that one line takes on the page."""
        kind = lettering(letters, self._window, self._unit)
        box = text_box(kind, text, self._window.GetDPI())
        return float(box[1, 0] - box[0, 0]) / self._unit

    def _lay_flat(self) -> None:
        """Show what was filled since the last time, all in one: each actor has its price."""
        if not self._flat:
            return
        flat = np.concatenate([corners for corners, _ in self._flat])
        colours = np.array([colour for _, colour in self._flat])
        shades = np.repeat(np.round(255.0 * colours), [len(each) for each, _ in self._flat], axis=0)
        self._flat = []
        data = unshared(np.column_stack([flat, np.zeros(len(flat))]))
        data.GetPointData().SetScalars(numpy_to_vtk(shades.astype(np.uint8), deep=True))  # type: ignore[no-untyped-call]
        mapper = vtkPolyDataMapper2D()
        mapper.SetInputData(data)
        actor = vtkActor2D()
        actor.SetMapper(mapper)
        self._on_page(actor)

    def _on_page(self, actor: vtkActor2D) -> None:
        actor.SetLayerNumber(next(self._order))
        self._page.AddViewProp(actor)
