"""The stage that draws with VTK, on a pyvista plotter that is handed in.

Everything of one name shares one matrix, so that moving it is one copy of sixteen numbers whatever
it is made of. What is never hidden lies in a layer of its own over the rest.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from math import tan
from typing import Any

import numpy as np
import pyvista as pv
from vtkmodules.vtkCommonMath import vtkMatrix4x4
from vtkmodules.vtkRenderingCore import vtkBillboardTextActor3D, vtkCellPicker, vtkRenderer

from geometry.mesh import Mesh
from viewer.draw.base import Colour, Image, Letters, Paint, Pen
from viewer.draw.camera import Camera, Floats
from viewer.draw.label_places import Label, places
from viewer.draw.stage import VIEW_ANGLE, Picked, Plate, Stage
from viewer.draw.vtk_parts import (
    actor_of,
    grabbed,
    headlight,
    lamps,
    lettering,
    literal,
    painted,
    shaded,
    strokes,
    text_box,
)

DENSE = 0.7
"""What is less dense than this is looked through when something behind it is picked."""


NEAREST = 0.15
"""Share of the way to the focus in which nothing is seen. Depths are told apart the worse the
nearer to the eye they begin, and edges then show through the metal in front of them."""


QUICK, SLOW, PATIENCE = 0.02, 0.09, 3
"""s to draw, and how many times in a row. Edges are made smooth on a screen whose driver has shown
that it is quick, as one with a graphics card; that takes three times as long without one."""

WITHOUT_CARD = ("llvmpipe", "softpipe", "swiftshader", "software", "gdi generic", "basic render")
"""What drivers without a graphics card call themselves. Their work goes on after they say that it
is done, so that they seem quick."""

PLAIN_DPI = 72
"""Dots an inch at which VTK's letters are as large as they are asked to be."""

SAMPLES = 4
"""Samples of a pixel that make edges smooth."""


@dataclass(eq=False)
class _Thing:
    """Everything of one name."""

    matrix: vtkMatrix4x4
    actors: list[pv.Actor] = field(default_factory=list)
    dense: list[float] = field(default_factory=list)
    words: vtkBillboardTextActor3D | None = None
    words_at: Floats = field(default_factory=lambda: np.zeros(3))
    words_box: Floats = field(default_factory=lambda: np.zeros((2, 2)))
    weighty: bool = False
    on_top: set[int] = field(default_factory=set)
    opacity: float = 1.0
    shown: bool = True


class PyVistaStage(Stage):
    """A stage on a plotter.

    repaint : asks the widget that holds the plotter to paint itself soon; without one the stage
        draws at once, as off screen. The plotter belongs to whoever made it and is not closed.
    """

    def __init__(self, plotter: Any, repaint: Callable[[], None] | None = None) -> None:
        super().__init__()
        self._repaint = repaint
        self._window: Any = plotter.render_window
        self._renderer: Any = plotter.renderer
        self._renderer.RemoveAllLights()
        self._renderer.camera_set = True
        self._camera: Any = self._renderer.GetActiveCamera()
        self._camera.SetViewAngle(float(np.degrees(VIEW_ANGLE)))
        self._top, self._words = self._layer(1), self._layer(2)
        for renderer in (self._renderer, self._top):
            renderer.SetAutomaticLightCreation(False)
            for lamp in lamps():
                renderer.AddLight(lamp)
        # Words are lit too: one lamp at the eye shows them in their own colour.
        self._words.AddLight(headlight())
        self._window.SetMultiSamples(SAMPLES if repaint is None else 0)
        self._quick, self._slow = 0, 0
        self._finest = False
        self._things: dict[str, _Thing] = {}
        self._names: dict[int, str] = {}
        self._picker = vtkCellPicker()
        self._picker.SetTolerance(0.0)
        self._picker.PickFromListOn()

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px of the stage; never nothing."""
        width, height = self._window.GetSize()
        return max(1, int(width)), max(1, int(height))

    def backdrop(self, top: Colour, bottom: Colour) -> None:
        """Colour what is behind everything."""
        self._renderer.SetGradientBackground(True)
        self._renderer.SetBackground(*bottom)
        self._renderer.SetBackground2(*top)

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up a solid with smooth round surfaces and sharp corners."""
        actor = actor_of(shaded(mesh))
        painted(actor.prop, paint, polished=True)
        # Of what is seen through, only the skin toward the eye; an open mesh has no inside.
        actor.prop.SetBackfaceCulling(mesh.is_watertight)
        self._put_up(name, actor, paint.opacity, X_CP, on_top)

    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up segments, a little in front of the surface they lie on."""
        if not len(segments):
            return
        actor = actor_of(strokes(segments))
        actor.mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0.0, -2.0)
        actor.prop.SetColor(*map(float, pen.colour))
        actor.prop.line_width = pen.width * self.scale
        actor.prop.lighting = False
        actor.PickableOff()
        self._put_up(name, actor, 1.0, X_CP, on_top)

    def words(
        self, name: str, text: str, at: Floats, letters: Letters, plate: Plate | None = None
    ) -> None:
        """Write words that face the eye."""
        thing = self._thing(name)
        dots = self._window.GetDPI()
        # VTK sizes letters by the density of the screen, which the scale has in it already.
        kind = lettering(letters, self.scale * PLAIN_DPI / dots)
        if plate is not None:
            kind.SetBackgroundColor(*plate.colour)
            kind.SetBackgroundOpacity(plate.opacity)
            if plate.frame is not None:
                kind.FrameOn()
                kind.SetFrameColor(*plate.frame)
                kind.SetFrameWidth(max(1, round(2.0 * self.scale)))
            text = "\n".join(f" {row} " for row in text.splitlines())
        if thing.words is None:
            actor = vtkBillboardTextActor3D()
            actor.PickableOff()
            actor.SetVisibility(thing.shown)
            self._words.AddActor(actor)
            thing.words = actor
        thing.words_box = text_box(kind, text, dots)
        thing.weighty = plate is not None and plate.frame is not None
        thing.words.SetTextProperty(kind)
        thing.words.SetInput(literal(text))
        thing.words_at = np.array(at, dtype=np.float64)
        self._place_words(thing)

    def move(self, name: str, X_CP: Floats) -> None:
        """Give everything of that name a new pose."""
        thing = self._things.get(name)
        if thing is None:
            return
        thing.matrix.DeepCopy(np.asarray(X_CP, dtype=np.float64).ravel().tolist())
        self._place_words(thing)

    def fade(self, name: str, opacity: float) -> None:
        """Make everything of that name more or less dense."""
        thing = self._things.get(name)
        if thing is None:
            return
        thing.opacity = opacity
        for actor, dense in zip(thing.actors, thing.dense, strict=True):
            actor.prop.opacity = dense * opacity

    def show(self, name: str, shown: bool) -> None:
        """Hide everything of that name, or let it be seen again."""
        thing = self._things.get(name)
        if thing is None:
            return
        thing.shown = shown
        for actor in thing.actors:
            actor.SetVisibility(shown)
        if thing.words is not None:  # may be away for want of room: see `_spread_labels`
            thing.words.SetVisibility(shown)

    def remove(self, name: str) -> None:
        """Take away everything of that name."""
        thing = self._things.pop(name, None)
        if thing is None:
            return
        for actor in thing.actors:
            self._names.pop(id(actor), None)
            self._renderer_of(thing, actor).RemoveActor(actor)
        if thing.words is not None:
            self._words.RemoveActor(thing.words)

    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Look as `camera` says."""
        away = 0.5 * camera.span / tan(0.5 * VIEW_ANGLE)
        if not perspective:
            away = 10.0 * camera.span
        self._camera.SetFocalPoint(*camera.focus)
        self._camera.SetPosition(*(camera.focus + camera.R_VC[2] * away))
        self._camera.SetViewUp(*camera.R_VC[1])
        self._camera.SetParallelProjection(not perspective)
        self._camera.SetParallelScale(0.5 * camera.span)

    def project(self, points: Floats) -> Floats:
        """Where points are seen."""
        width, height = self.size
        matrix = self._camera.GetCompositeProjectionTransformMatrix(width / height, -1.0, 1.0)
        P = np.array([[matrix.GetElement(i, j) for j in range(4)] for i in range(4)])
        flat = np.asarray(points, dtype=np.float64).reshape(-1, 3)
        seen = np.column_stack([flat, np.ones(len(flat))]) @ P.T
        place = 0.5 * (seen[:, :2] / seen[:, 3:] + 1.0) * [width, height]
        return np.asarray(place.reshape(*np.shape(points)[:-1], 2))

    def pick(self, x: float, y: float) -> Picked | None:
        """What is seen at a place; the skin of dense things first, then of faded ones."""
        solid = [
            (thing, i)
            for thing in self._things.values()
            if thing.shown
            for i in range(len(thing.actors))
            if thing.actors[i].GetPickable()
        ]
        dense = [pair for pair in solid if pair[0].actors[pair[1]].prop.opacity >= DENSE]
        faded = [pair for pair in solid if pair not in dense]
        for some in (dense, faded):
            self._picker.InitializePickList()
            for thing, i in some:
                self._picker.AddPickList(thing.actors[i])
            if self._picker.Pick(x, y, 0.0, self._renderer):
                name = self._names.get(id(self._picker.GetActor()))
                if name is not None:
                    return Picked(name, np.array(self._picker.GetPickPosition()))
        return None

    def draw(self) -> None:
        """Let be seen what was told."""
        if self._repaint is not None:
            self._keep_pace()
            self._settle()
            self._repaint()
        else:
            self._render()

    def image(self) -> Image:
        """Draw, and return what is seen."""
        self._render()
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
        for name in list(self._things):
            self.remove(name)
        self._picker.InitializePickList()
        for renderer in (self._top, self._words):
            self._window.RemoveRenderer(renderer)
            renderer.SetActiveCamera(None)
            renderer.RemoveAllLights()
        self._renderer.RemoveAllLights()
        self._repaint = None

    def actors(self, name: str) -> list[pv.Actor]:
        """Actors of a name, for tests of their poses and looks."""
        return list(self._things[name].actors) if name in self._things else []

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

    def _layer(self, number: int) -> Any:
        """A layer over the rest, seen by the same eye."""
        renderer = vtkRenderer()
        renderer.SetActiveCamera(self._camera)
        renderer.SetAutomaticLightCreation(False)
        renderer.InteractiveOff()
        self._window.SetNumberOfLayers(number + 1)
        renderer.SetLayer(number)
        self._window.AddRenderer(renderer)
        return renderer

    def _render(self) -> None:
        self._settle()
        self._window.Render()

    def _settle(self) -> None:
        """Put the near and far end of what is seen where everything lies between them."""
        layers = self._renderer, self._top, self._words
        boxes = [renderer.ComputeVisiblePropBounds() for renderer in layers]
        real = np.array([box for box in boxes if box[0] <= box[1]]).reshape(-1, 3, 2)
        if len(real):
            low, high = real[..., 0].min(axis=0), real[..., 1].max(axis=0)
            self._renderer.ResetCameraClippingRange(*np.stack([low, high], axis=-1).ravel())
        self._spread_labels()
        near, far = self._camera.GetClippingRange()
        least = NEAREST * self._camera.GetDistance()
        if near < least and not self._camera.GetParallelProjection():
            self._camera.SetClippingRange(least, max(far, 2.0 * least))

    def _spread_labels(self) -> None:
        """Put words where none covers another and none is cut off."""
        written = [(thing, thing.words) for thing in self._things.values() if thing.shown]
        worded = [(thing, words) for thing, words in written if words is not None]
        if not worded:
            return
        anchors = self.project(np.array([words.GetPosition() for _, words in worded]))
        labels = [
            Label(anchor, anchor + thing.words_box[0], anchor + thing.words_box[1], thing.weighty)
            for anchor, (thing, _) in zip(anchors, worded, strict=True)
        ]
        for move, (_, words) in zip(places(labels, self.size), worded, strict=True):
            words.SetVisibility(move is not None)
            if move is not None:
                words.SetDisplayOffset(*map(round, move))

    def _thing(self, name: str) -> _Thing:
        return self._things.setdefault(name, _Thing(vtkMatrix4x4()))

    @staticmethod
    def _place_words(thing: _Thing) -> None:
        if thing.words is not None:
            place = thing.matrix.MultiplyPoint([*thing.words_at.tolist(), 1.0])
            thing.words.SetPosition(*place[:3])

    def _put_up(self, name: str, actor: pv.Actor, dense: float, X_CP: Floats, on_top: bool) -> None:
        thing = self._thing(name)
        actor.SetUserMatrix(thing.matrix)
        actor.prop.opacity = dense * thing.opacity
        actor.SetVisibility(thing.shown)
        thing.actors.append(actor)
        thing.dense.append(dense)
        self._names[id(actor)] = name
        if on_top:
            thing.on_top.add(id(actor))
        self._renderer_of(thing, actor).AddActor(actor)
        self.move(name, X_CP)

    def _renderer_of(self, thing: _Thing, actor: pv.Actor) -> Any:
        return self._top if id(actor) in thing.on_top else self._renderer
