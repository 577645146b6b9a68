"""The stage that draws with VTK in the interactor of a window, as smoothly as its driver can."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cached_property
from typing import Any

import numpy as np
from vtkmodules.vtkRenderingCore import vtkCellPicker

from viewer.draw.base import Colour, Image
from viewer.draw.camera import Region
from viewer.draw.pyvista_inset import PyVistaInset
from viewer.draw.pyvista_pane import Pane
from viewer.draw.stage import Picked, Stage
from viewer.draw.vtk_parts import SAMPLES, grabbed

DENSE = 0.7
"""What is less dense than this is looked through when something behind it is picked."""

QUICK, SLOW, PATIENCE = 0.02, 0.09, 3
"""s to draw, and how many times in a row. Edges are made smooth on a screen whose driver has shown
that it is quick, as one with a graphics card; that takes three times as long without one."""

WITHOUT_CARD = ("llvmpipe", "softpipe", "swiftshader", "software", "gdi generic", "basic render")
"""What drivers without a graphics card call themselves. Their work goes on after they say that it
is done, so that they seem quick."""


class PyVistaStage(Pane, Stage):
    """A stage on a plotter.

    repaint : asks the widget that holds the plotter to paint itself soon; without one the stage
        draws at once, as off screen. The plotter belongs to whoever made it and is not closed.
    """

    def __init__(self, plotter: Any, repaint: Callable[[], None] | None = None) -> None:
        plotter.renderer.RemoveAllLights()
        plotter.renderer.camera_set = True
        super().__init__(plotter.render_window, plotter.renderer)
        self._repaint = repaint
        self._window.SetMultiSamples(SAMPLES if repaint is None else 0)
        self._quick, self._slow = 0, 0
        self._finest = False
        self._picker = vtkCellPicker()
        self._picker.SetTolerance(0.0)
        self._picker.PickFromListOn()
        self._inset: PyVistaInset | None = None

    def settle(self) -> None:
        """Make both pictures ready."""
        super().settle()
        if self._inset is not None:
            self._inset.settle()

    def keep_to(self, region: Region | None) -> None:
        """Show this space in a part of the window only."""
        super().keep_to(region)
        self.lie_in(region)

    def inset(self, region: Region | None) -> PyVistaInset:
        """Open the second picture, put it elsewhere, or fold it away."""
        if self._inset is None:
            self._inset = PyVistaInset(self._window)
            self._inset.grey(self._is_grey)
        self._inset.fold(region is None)
        if region is not None:
            self._inset.lie(region, self.scale)
        return self._inset

    def grey(self, on: bool) -> None:
        """Take the colour out of both pictures, or give it back."""
        super().grey(on)
        if self._inset is not None:
            self._inset.grey(on)

    def backdrop(self, top: Colour, bottom: Colour) -> None:
        """Colour what is behind everything."""
        self._renderer.SetGradientBackground(True)
        self._renderer.SetBackground(*bottom)
        self._renderer.SetBackground2(*top)

    def pick(self, x: float, y: float) -> Picked | None:
        """What is seen at a place; the skin of dense things first, then of faded ones."""
        solid: dict[Any, str] = {
            actor: name
            for name, thing in self.things.items()
            for actor, _, _ in thing.actors
            if thing.shown and actor.GetPickable()
        }
        for dense in (True, False):
            self._picker.InitializePickList()
            for actor in solid:
                if (actor.prop.opacity >= DENSE) == dense:
                    self._picker.AddPickList(actor)
            if self._picker.Pick(x, y, 0.0, self._renderer):
                name = solid.get(self._picker.GetActor())
                if name is not None:
                    return Picked(name, np.array(self._picker.GetPickPosition()))
        return None

    def draw(self) -> None:
        """Let be seen what was told."""
        if self._repaint is None:
            self.settle()
            self._window.Render()
            return
        self._keep_pace()
        self.settle()
        self._repaint()

    def image(self) -> Image:
        """Draw, and return what is seen."""
        self.settle()
        self._window.Render()
        return grabbed(self._window)

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
        """Take everything away."""
        self._picker.InitializePickList()
        if self._inset is not None:
            self._inset.close()
            self._inset = None
        super().close()
        self._repaint = None

    def _keep_pace(self) -> None:
        """Look at how long the last drawing took."""
        if self._finest:
            return
        took = self._renderer.GetLastRenderTimeInSeconds()
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
