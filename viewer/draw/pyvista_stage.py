"""The stage that draws with VTK: in the interactor of a window, or off screen on a sheet.

A sheet is drawn larger than asked and then made smaller, which smooths every edge on every driver.
Layers from back to front: what is behind everything, then of each pane its things, what is on top
of them and their words, then the page's own strokes and lines.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cached_property
from itertools import count
from typing import Any

import numpy as np
import pyvista as pv
from PIL import Image as Picture
from vtkmodules.vtkRenderingCore import (
    vtkActor2D,
    vtkCellPicker,
    vtkPolyDataMapper2D,
    vtkRenderer,
    vtkTextActor,
)

from geometry.mesh import Mesh
from viewer.draw.base import WHITE, Colour, Image, Letters, Paint, Pen, Plate
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.pyvista_pane import Pane, place
from viewer.draw.ribbon import ribbon
from viewer.draw.stage import Picked, Stage
from viewer.draw.vtk_parts import (
    actor_of,
    grabbed,
    lettering,
    literal,
    painted,
    shaded,
    strokes,
    text_box,
    unshared,
)

DENSE = 0.7
"""What is less dense than this is looked through when something behind it is picked."""

QUICK, SLOW, PATIENCE = 0.02, 0.09, 3
"""s to draw, and how many times in a row. Edges are made smooth on a screen whose driver has shown
that it is quick, as one with a graphics card; that takes three times as long without one."""

WITHOUT_CARD = ("llvmpipe", "softpipe", "swiftshader", "software", "gdi generic", "basic render")
"""What drivers without a graphics card call themselves. Their work goes on after they say that it
is done, so that they seem quick."""

PLAIN_DPI = 72
"""Dots an inch at which VTK's letters are as large as they are asked to be."""

SAMPLES = 4
"""Samples of a pixel that make edges smooth; more than that only takes memory."""

FINER = 2
"""How many times larger than asked a sheet is drawn in each direction."""

_PAGE = 4
"""Layer of the page."""


class PyVistaStage(Stage):
    """A stage on a plotter.

    repaint : asks the widget that holds the plotter to paint itself soon; without one the stage
        draws at once, as off screen. The plotter belongs to whoever made it and is not closed.
    unit : px of the plotter for each px of the stage.
    sheet : whether it is paper: without the highlights that would hide shapes there, and with
        broader edges.
    """

    def __init__(
        self,
        plotter: Any,
        repaint: Callable[[], None] | None = None,
        unit: float = 1.0,
        sheet: bool = False,
    ) -> None:
        super().__init__()
        self._repaint, self._sheet = repaint, sheet
        self._unit = unit
        self._window: Any = plotter.render_window
        self._plotter: Any = plotter
        plotter.renderer.RemoveAllLights()
        plotter.renderer.camera_set = True
        self._open = Pane(self._window, plotter.renderer, 0, self.size, None)
        self._panes = {"": self._open}
        self._window.SetMultiSamples(SAMPLES if repaint is None else 0)
        self._quick, self._slow = 0, 0
        self._finest = False
        self._order = count()
        self._picker = vtkCellPicker()
        self._picker.SetTolerance(0.0)
        self._picker.PickFromListOn()

    @classmethod
    def of_paper(cls, size: tuple[int, int] = (1600, 1000), unit: float = 1.0) -> "PyVistaStage":
        """A white sheet of `size` real px, `unit` for each px of the stage; needs no display.

        Made in a process of its own (`viewer.draw.child`), since a missing or faulty driver ends
        the process it is in.
        """
        window = [FINER * side for side in size]
        plotter = pv.Plotter(off_screen=True, window_size=window, lighting="none")
        plotter.renderer.SetBackground(*WHITE)
        return cls(plotter, unit=FINER * unit, sheet=True)

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px of the stage; never nothing."""
        width, height = self._window.GetSize()
        return max(1, round(width / self._unit)), max(1, round(height / self._unit))

    # Panes

    def pane(self, name: str, region: Region, camera: Camera) -> None:
        """Open a pane in a region, seen in parallel."""
        if name not in self._panes:
            renderer = vtkRenderer()
            place(self._window, renderer, 1, self.size, region)
            self._panes[name] = Pane(self._window, renderer, 1, self.size, region)
        self._open = self._panes[name]
        self.aim(camera, perspective=False)

    def backdrop(self, top: Colour, bottom: Colour) -> None:
        """Colour what is behind everything."""
        self._open.renderer.SetGradientBackground(True)
        self._open.renderer.SetBackground(*bottom)
        self._open.renderer.SetBackground2(*top)

    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Look as `camera` says."""
        self._open.aim(camera, perspective)

    def project(self, points: Floats) -> Floats:
        """Where points are seen."""
        return self._open.project(points, self.size)

    def pick(self, x: float, y: float) -> Picked | None:
        """What is seen at a place; the skin of dense things first, then of faded ones."""
        solid: dict[Any, str] = {
            actor: name
            for name, thing in self._open.things.items()
            for actor, _, _ in thing.actors
            if thing.shown and actor.GetPickable()
        }
        for dense in (True, False):
            self._picker.InitializePickList()
            for actor in solid:
                if (actor.prop.opacity >= DENSE) == dense:
                    self._picker.AddPickList(actor)
            if self._picker.Pick(x, y, 0.0, self._open.renderer):
                name = solid.get(self._picker.GetActor())
                if name is not None:
                    return Picked(name, np.array(self._picker.GetPickPosition()))
        return None

    # Things

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up a solid with smooth round surfaces and sharp corners."""
        actor = actor_of(shaded(mesh))
        painted(actor.prop, paint, polished=not self._sheet)
        # Of what is seen through, only the skin toward the eye; an open mesh has no inside.
        actor.prop.SetBackfaceCulling(mesh.is_watertight and not self._sheet)
        self._open.put_up(name, actor, paint.opacity, X_CP, on_top)

    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up segments, a little in front of the surface they lie on."""
        if not len(segments):
            return
        actor = actor_of(strokes(segments))
        ahead = -6.0 * FINER if self._sheet else -2.0
        actor.mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0.0, ahead)
        actor.prop.SetColor(*map(float, pen.colour))
        actor.prop.line_width = pen.width * self.scale * self._unit
        actor.prop.lighting = False
        actor.PickableOff()
        self._open.put_up(name, actor, 1.0, X_CP, on_top)

    def words(
        self, name: str, text: str, at: Floats, letters: Letters, plate: Plate | None = None
    ) -> None:
        """Write words that face the eye."""
        kind = self._lettering(letters)
        framed = plate is not None and plate.frame is not None
        if plate is not None:
            kind.SetBackgroundColor(*plate.colour)
            kind.SetBackgroundOpacity(plate.opacity)
            if plate.frame is not None:
                kind.FrameOn()
                kind.SetFrameColor(*plate.frame)
                kind.SetFrameWidth(max(1, round(2.0 * self.scale)))
            text = "\n".join(f" {row} " for row in text.splitlines())
        self._open.write(name, text, at, kind, framed)

    def move(self, name: str, X_CP: Floats) -> None:
        """Give everything of that name a new pose."""
        for thing in self._open.named(name):
            thing.move(X_CP)

    def fade(self, name: str, opacity: float) -> None:
        """Make everything of that name more or less dense."""
        for thing in self._open.named(name):
            thing.fade(opacity)

    def show(self, name: str, shown: bool) -> None:
        """Hide everything of that name, or let it be seen again."""
        for thing in self._open.named(name):
            thing.show(shown)

    def remove(self, name: str) -> None:
        """Take away everything of that name."""
        self._open.remove(name)

    def actors(self, name: str) -> list[pv.Actor]:
        """Actors of a name in the open pane, for tests of their poses and looks."""
        return [actor for thing in self._open.named(name) for actor, _, _ in thing.actors]

    # The page over them

    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Draw segments on the page."""
        self.area(ribbon(segments, pen.width), pen.colour)

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles on the page."""
        if not len(triangles):
            return
        flat = triangles.reshape(-1, 2) * self._unit
        mapper = vtkPolyDataMapper2D()
        mapper.SetInputData(unshared(np.column_stack([flat, np.zeros(len(flat))])))
        actor = vtkActor2D()
        actor.SetMapper(mapper)
        actor.GetProperty().SetColor(*colour)
        self._on_page(actor)

    def write(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page."""
        actor = vtkTextActor()
        actor.SetInput(literal(text))
        actor.SetTextScaleModeToNone()
        actor.SetTextProperty(self._lettering(letters))
        actor.SetPosition(at[0] * self._unit, at[1] * self._unit)
        self._on_page(actor)

    def extent(self, text: str, letters: Letters) -> float:
        """Width in px that one line takes on the page."""
        box = text_box(self._lettering(letters), text, self._window.GetDPI())
        return float(box[1, 0] - box[0, 0]) / self._unit

    # What is seen

    def draw(self) -> None:
        """Let be seen what was told."""
        if self._repaint is None:
            self._render()
            return
        self._keep_pace()
        self._settle()
        self._repaint()

    def image(self) -> Image:
        """Draw, and return what is seen."""
        self._render()
        seen = grabbed(self._window)
        return np.asarray(Picture.fromarray(seen).reduce(FINER)) if self._sheet else seen

    @contextmanager
    def finest(self) -> Iterator[None]:
        """Draw edges as smooth as they can be, however long it takes, as for a picture."""
        before = self._window.GetMultiSamples()
        self._window.SetMultiSamples(SAMPLES)
        self._finest = True
        try:
            yield
        finally:
            self._finest = False
            self._window.SetMultiSamples(before)

    def close(self) -> None:
        """Take everything away; a sheet gives its window back."""
        self._picker.InitializePickList()
        for pane in self._panes.values():
            pane.close()
        self._repaint = None
        if self._sheet:
            self._plotter.close()

    def _keep_pace(self) -> None:
        """Look at how long the last drawing took."""
        if self._finest:
            return
        took = self._open.renderer.GetLastRenderTimeInSeconds()
        self._slow = self._slow + 1 if took > SLOW else 0
        self._quick = self._quick + 1 if 0.0 < took < QUICK else 0
        if self._slow >= PATIENCE:
            self._window.SetMultiSamples(0)
        elif self._quick >= PATIENCE and self._window.GetMultiSamples() == 0 and self._has_card:
            self._window.SetMultiSamples(SAMPLES)

    @cached_property
    def _has_card(self) -> bool:
        """Whether a graphics card draws; asked once something was drawn."""
        told = str(self._window.ReportCapabilities()).lower()
        lines = [line for line in told.splitlines() if "renderer string" in line]
        return not any(name in line for name in WITHOUT_CARD for line in lines)

    @cached_property
    def _page(self) -> Any:
        renderer = vtkRenderer()
        place(self._window, renderer, _PAGE, self.size, None)
        return renderer

    def _on_page(self, actor: vtkActor2D) -> None:
        actor.SetLayerNumber(next(self._order))
        self._page.AddViewProp(actor)

    def _lettering(self, letters: Letters) -> Any:
        # VTK sizes letters by the density of the screen, which the scale has in it already.
        return lettering(letters, self.scale * self._unit * PLAIN_DPI / self._window.GetDPI())

    def _render(self) -> None:
        self._settle()
        self._window.Render()

    def _settle(self) -> None:
        for pane in self._panes.values():
            pane.settle(self.size)
