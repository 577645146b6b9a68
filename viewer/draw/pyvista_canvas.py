"""The canvas that draws, off screen, with VTK.

Poses go to VTK as `user_matrix`. The page is drawn larger than asked and then made smaller, which
smooths every edge on every driver. Layers from back to front: paper, views, what is on top in
them, the page's own strokes and words.
"""

from itertools import count
from pathlib import Path
from typing import Any

import numpy as np
import pyvista as pv
from PIL import Image as Picture
from vtkmodules.vtkRenderingCore import (
    vtkActor2D,
    vtkPolyDataMapper2D,
    vtkTextActor,
    vtkTextRenderer,
)

from geometry.mesh import Mesh
from viewer.draw.base import WHITE, Canvas, Colour, Image, Letters, Paint, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.ribbon import ribbon
from viewer.draw.vtk_parts import (
    actor_of,
    grabbed,
    lamps,
    lettering,
    literal,
    painted,
    shaded,
    strokes,
)
from viewer.draw.vtk_parts import triangles as unshared

FINER = 2
"""How many times larger than asked the page is drawn in each direction."""

DOTS_PER_INCH = 160
"""Written into the file: a page of 1600 px prints 10 in wide."""

_VIEWS, _TOP, _PAGE = 1, 2, 3
"""Layers of the window, from back to front; the paper is 0."""


class PyVistaCanvas(Canvas):
    """A page drawn off screen; needs OpenGL, but no display.

    Made in a process of its own (`viewer.written.child`), since a missing or faulty driver ends the
    process it is in.
    """

    def __init__(self, size: tuple[int, int] = (1600, 1000)) -> None:
        super().__init__(size)
        width, height = (FINER * side for side in size)
        self.plotter = pv.Plotter(off_screen=True, window_size=[width, height], lighting="none")
        self.plotter.renderer.SetBackground(*WHITE)
        window: Any = self.plotter.render_window
        self._window = window
        self._window.SetNumberOfLayers(_PAGE + 1)
        self._window.SetMultiSamples(4)  # more than that only takes memory
        self._renderers: list[pv.Renderer] = []  # one that nobody holds empties itself
        self._page = self._renderer(self.page, _PAGE)
        self._open: tuple[pv.Renderer, pv.Renderer] | None = None
        self._actors: dict[tuple[int, str], list[pv.Actor]] = {}
        self._order = count()
        self._result: Picture.Image | None = None

    def view(self, name: str, region: Region, camera: Camera) -> None:  # noqa: ARG002
        """Open a view with its lamps and, over it, a layer that is never hidden."""
        pair = self._renderer(region, _VIEWS), self._renderer(region, _TOP)
        for renderer in pair:
            _aim(renderer, camera)
            for lamp in lamps():
                renderer.AddLight(lamp)
        self._open = pair

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Draw a solid with smooth round surfaces and sharp corners."""
        actor = self._actor(name, shaded(mesh), X_CP, on_top)
        painted(actor.prop, paint)

    def lines(self, name: str, segments: Floats, pen: Pen, X_CP: Floats) -> None:
        """Draw segments in space, a little in front of the surface they lie on."""
        if not len(segments):
            return
        actor = self._actor(name, strokes(segments), X_CP, on_top=False)
        actor.mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0.0, -6.0 * FINER)
        actor.prop.SetColor(*map(float, pen.colour))
        actor.prop.line_width = pen.width * FINER
        actor.prop.lighting = False

    def move(self, name: str, X_CP: Floats) -> None:
        """Pose everything of that name in the open view anew."""
        for renderer in self._opened():
            for actor in self._actors.get((id(renderer), name), []):
                actor.user_matrix = X_CP
        self._result = None

    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Draw segments on the page."""
        self.area(ribbon(segments, pen.width), pen.colour)

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles on the page."""
        if not len(triangles):
            return
        flat = triangles.reshape(-1, 2) * FINER
        mapper = vtkPolyDataMapper2D()
        mapper.SetInputData(unshared(np.column_stack([flat, np.zeros(len(flat))])))
        actor = vtkActor2D()
        actor.SetMapper(mapper)
        actor.GetProperty().SetColor(*colour)
        self._on_page(actor)

    def words(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page."""
        actor = vtkTextActor()
        actor.SetInput(literal(text))
        actor.SetTextScaleModeToNone()
        actor.SetTextProperty(lettering(letters, FINER))
        actor.SetPosition(at[0] * FINER, at[1] * FINER)
        self._on_page(actor)

    def extent(self, text: str, letters: Letters) -> float:
        """Width in px that one line of words takes."""
        box = [0, 0, 0, 0]
        vtkTextRenderer.GetInstance().GetBoundingBox(
            lettering(letters, FINER), literal(text), box, self._window.GetDPI()
        )
        return float(box[1] - box[0]) / FINER

    def image(self) -> Image:
        """Draw the page large and make it small."""
        return np.asarray(self._drawn())

    def save(self, path: Path) -> None:
        """Draw the page and write it as PNG. Raises OSError where the file cannot be written."""
        self._drawn().save(path, format="PNG", dpi=(DOTS_PER_INCH, DOTS_PER_INCH))

    def close(self) -> None:
        """Give the window back."""
        self._actors.clear()
        self.plotter.close()

    def actors(self, name: str) -> list[pv.Actor]:
        """Actors of a name in all views, for tests of their poses."""
        return [a for (_, called), some in self._actors.items() if called == name for a in some]

    def _drawn(self) -> Picture.Image:
        """Draw once, however often the result is asked for."""
        if self._result is None:
            for renderer in self._renderers:
                renderer.ResetCameraClippingRange()
            self._window.Render()
            self._result = Picture.fromarray(grabbed(self._window)).reduce(FINER)
        return self._result

    def _renderer(self, region: Region, layer: int) -> pv.Renderer:
        renderer = pv.Renderer(self.plotter, border=False)
        width, height = self.size
        renderer.SetViewport(
            region.left / width, region.bottom / height, region.right / width, region.top / height
        )
        renderer.SetLayer(layer)
        renderer.SetInteractive(False)
        self._window.AddRenderer(renderer)
        self._renderers.append(renderer)
        return renderer

    def _opened(self) -> tuple[pv.Renderer, pv.Renderer]:
        if self._open is None:
            raise ValueError("nothing to draw in; expected an open view (Canvas.view) first")
        return self._open

    def _actor(self, name: str, data: pv.PolyData, X_CP: Floats, on_top: bool) -> pv.Actor:
        renderer = self._opened()[on_top]
        actor = actor_of(data)
        actor.user_matrix = X_CP
        renderer.AddActor(actor)
        self._result = None
        self._actors.setdefault((id(renderer), name), []).append(actor)
        return actor

    def _on_page(self, actor: vtkActor2D) -> None:
        actor.SetLayerNumber(next(self._order))
        self._page.AddViewProp(actor)
        self._result = None


def _aim(renderer: pv.Renderer, camera: Camera) -> None:
    """Put VTK's camera far enough away that everything is in front of it."""
    eye = camera.focus + camera.R_VC[2] * 10.0 * camera.span
    renderer.camera.SetFocalPoint(*camera.focus)
    renderer.camera.SetPosition(*eye)
    renderer.camera.SetViewUp(*camera.R_VC[1])
    renderer.camera.SetParallelProjection(True)
    renderer.camera.SetParallelScale(0.5 * camera.span)
    renderer.camera_set = True
