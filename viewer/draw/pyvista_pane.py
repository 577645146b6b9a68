"""A space on VTK: what stands in it, the eye that looks at it, and where words find room.

Everything of one name shares one matrix, so that moving it is one copy of sixteen numbers whatever
it is made of. What is never hidden lies in a layer of its own over the rest, words in another.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
import pyvista as pv
from vtkmodules.vtkCommonMath import vtkMatrix4x4
from vtkmodules.vtkRenderingCore import vtkBillboardTextActor3D, vtkRenderer

from geometry.mesh import Mesh
from viewer.draw.base import Colour, Letters, Paint, Pen, Plate, grey_of
from viewer.draw.camera import LEFT, UP, VIEW_ANGLE, Camera, Floats, Region
from viewer.draw.pyvista_labels import Leaders, Written, spread
from viewer.draw.stage import Space
from viewer.draw.vtk_parts import (
    actor_of,
    headlight,
    lamps,
    painted,
    shaded,
    strokes,
)

NEAREST = 0.15
"""Share of the way to the focus in which nothing is seen. Depths are told apart the worse the
nearer to the eye they begin, and edges then show through the metal in front of them."""


@dataclass(eq=False)
class Thing:
    """Everything of one name: its actors, each with how dense it is by itself and who draws it.

    colours : of each actor, where colours are shown.
    """

    matrix: vtkMatrix4x4 = field(default_factory=vtkMatrix4x4)
    actors: list[tuple[pv.Actor, float, Any]] = field(default_factory=list)
    colours: list[Colour] = field(default_factory=list)
    words: Written | None = None
    opacity: float = 1.0
    shown: bool = True

    def move(self, X_CP: Floats) -> None:
        """Give everything a new pose, and take the words along."""
        self.matrix.DeepCopy(np.asarray(X_CP, dtype=np.float64).ravel().tolist())
        self.place_words()

    def place_words(self) -> None:
        """Take the words along with the rest."""
        if self.words is not None:
            place = self.matrix.MultiplyPoint([*self.words.at.tolist(), 1.0])
            self.words.actor.SetPosition(*place[:3])

    @property
    def pose(self) -> Floats:
        """Where everything is, (4, 4) in C."""
        return np.array(self.matrix.GetData()).reshape(4, 4)

    def fade(self, opacity: float) -> None:
        """Make everything more or less dense."""
        self.opacity = opacity
        for actor, dense, _ in self.actors:
            actor.prop.opacity = dense * opacity

    def show(self, shown: bool) -> None:
        """Hide everything, or let it be seen again."""
        self.shown = shown
        for actor, _, _ in self.actors:
            actor.SetVisibility(shown)
        if self.words is not None:  # may be away for want of room: see `_spread_labels`
            self.words.actor.SetVisibility(shown)


class Pane(Space):
    """Things in one renderer of a window and in the layers over it, all seen by one eye.

    region : what it takes of the window, px of the stage; None for all of it, always.
    unit : px of the window for each px of the stage.
    sheet : whether it is paper: without the highlights that would hide shapes there, and with
        broader edges.
    """

    is_cut_open = False
    """Whether one may see the inside of a closed body."""

    def __init__(
        self,
        window: Any,
        renderer: Any,
        layer: int = 0,
        region: Region | None = None,
        unit: float = 1.0,
        sheet: bool = False,
    ) -> None:
        super().__init__()
        self._window, self._renderer, self._layer = window, renderer, layer
        self._region, self._unit, self._sheet = region, unit, sheet
        self.scale = 1.0
        self._camera: Any = renderer.GetActiveCamera()
        self._camera.SetViewAngle(float(np.degrees(VIEW_ANGLE)))
        self._seen, self._perspective = Camera(np.zeros(3), LEFT, UP, 1.0), True
        self._light(renderer)
        self._top = self._over(1)
        self._light(self._top)
        self._leaders = Leaders(self._top)
        self._is_grey = False
        self.things: dict[str, Thing] = {}

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px of the stage; never nothing."""
        return size_of(self._window, self._unit)

    @property
    def part(self) -> Region:
        """What it takes of the window, px of the stage."""
        return self._region or Region(0.0, 0.0, *map(float, size_of(self._window, self._unit)))

    def lie_in(self, region: Region | None) -> None:
        """Take another part of the window, px of the stage; None for all of it."""
        self._region = region
        for renderer in self._layers:
            lay(renderer, size_of(self._window, self._unit), self.part)

    @cached_property
    def _words(self) -> Any:
        """The layer of the words, which are lit too: a lamp shows them in their own colour."""
        renderer = self._over(2)
        renderer.AddLight(headlight())
        return renderer

    @property
    def _layers(self) -> list[Any]:
        words = [self._words] if "_words" in self.__dict__ else []
        return [self._renderer, self._top, *words]

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up a solid with smooth round surfaces and sharp corners."""
        actor = actor_of(shaded(mesh))
        painted(actor.prop, paint, polished=not self._sheet)
        # Of what is seen through, only the skin toward the eye; an open mesh has no inside.
        actor.prop.SetBackfaceCulling(mesh.is_watertight and not (self._sheet or self.is_cut_open))
        self._put_up(name, actor, paint.colour, paint.opacity, X_CP, on_top)

    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up segments, a little in front of the surface they lie on."""
        if not len(segments):
            return
        actor = actor_of(strokes(segments))
        ahead = -12.0 if self._sheet else -2.0
        actor.mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0.0, ahead)
        actor.prop.line_width = pen.width * self.scale * self._unit
        actor.prop.lighting = False
        actor.PickableOff()
        self._put_up(name, actor, pen.colour, 1.0, X_CP, on_top)

    def words(
        self, name: str, text: str, at: Floats, letters: Letters, plate: Plate | None = None,
        clear: float = 0.0,
    ) -> None:  # fmt: skip
        """Write words that face the eye."""
        thing = self.thing(name)
        words = thing.words
        if words is None:
            words = thing.words = Written(vtkBillboardTextActor3D())
            words.actor.PickableOff()
            words.actor.SetVisibility(thing.shown)
            self._words.AddActor(words.actor)
        words.text, words.letters, words.plate, words.clear = text, letters, plate, clear
        words.at = np.array(at, dtype=np.float64)
        words.write(self._window, self.scale * self._unit)
        words.colour(self._tone)
        thing.place_words()

    def move(self, name: str, X_CP: Floats) -> None:
        """Give everything of that name a new pose."""
        for thing in self.named(name):
            thing.move(X_CP)

    def fade(self, name: str, opacity: float) -> None:
        """Make everything of that name more or less dense."""
        for thing in self.named(name):
            thing.fade(opacity)

    def show(self, name: str, shown: bool) -> None:
        """Hide everything of that name, or let it be seen again."""
        for thing in self.named(name):
            thing.show(shown)

    def actors(self, name: str) -> list[pv.Actor]:
        """Actors of a name, for tests of their poses and looks."""
        return [actor for thing in self.named(name) for actor, _, _ in thing.actors]

    def thing(self, name: str) -> Thing:
        """Everything of a name; a new one where there is none."""
        return self.things.setdefault(name, Thing())

    def named(self, name: str) -> list[Thing]:
        """The thing of a name, if there is one."""
        return [self.things[name]] if name in self.things else []

    def grey(self, on: bool) -> None:
        """Take the colour out of everything, or give it back."""
        if on is self._is_grey:
            return
        self._is_grey = on
        for thing in self.things.values():
            for (actor, _, _), colour in zip(thing.actors, thing.colours, strict=True):
                actor.prop.SetColor(*self._tone(colour))
            if thing.words is not None:
                thing.words.colour(self._tone)

    def _tone(self, colour: Colour) -> Colour:
        red, green, blue = grey_of(colour) if self._is_grey else colour
        return float(red), float(green), float(blue)

    def remove(self, name: str) -> None:
        """Take away everything of that name."""
        for thing in self.named(name):
            for actor, _, renderer in thing.actors:
                renderer.RemoveActor(actor)
            if thing.words is not None:
                self._words.RemoveActor(thing.words.actor)
        self.things.pop(name, None)

    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Look as `camera` says; without perspective from so far that all lies before the eye."""
        self._seen, self._perspective = camera, perspective
        away = camera.away if perspective else 10.0 * camera.span
        self._camera.SetFocalPoint(*camera.focus)
        self._camera.SetPosition(*(camera.focus + camera.R_VC[2] * away))
        self._camera.SetViewUp(*camera.R_VC[1])
        self._camera.SetParallelProjection(not perspective)
        self._camera.SetParallelScale(0.5 * camera.span)

    def project(self, points: Floats) -> Floats:
        """Where points are seen."""
        return self._seen.project(points, self.part, self._perspective)

    def settle(self) -> None:
        """Put the near and far end of what is seen where everything lies between them."""
        boxes = [renderer.ComputeVisiblePropBounds() for renderer in self._layers]
        real = np.array([box for box in boxes if box[0] <= box[1]]).reshape(-1, 3, 2)
        if len(real):
            low, high = real[..., 0].min(axis=0), real[..., 1].max(axis=0)
            self._renderer.ResetCameraClippingRange(*np.stack([low, high], axis=-1).ravel())
        self._spread_labels()
        near, far = self._camera.GetClippingRange()
        least = NEAREST * self._camera.GetDistance()
        if near < least and not self._camera.GetParallelProjection():
            self._camera.SetClippingRange(least, max(far, 2.0 * least))

    def close(self) -> None:
        """Take everything away."""
        for name in list(self.things):
            self.remove(name)
        self._leaders.draw((), 1.0, self._tone)
        for renderer in self._layers[1:]:
            self._window.RemoveRenderer(renderer)
            renderer.SetActiveCamera(None)
            renderer.RemoveAllLights()
        self._renderer.RemoveAllLights()

    def _put_up(
        self, name: str, actor: pv.Actor, colour: Colour, dense: float, X_CP: Floats, on_top: bool
    ) -> None:
        """Show an actor under a name, of a colour, so dense where the whole thing is."""
        thing, renderer = self.thing(name), self._top if on_top else self._renderer
        actor.SetUserMatrix(thing.matrix)
        actor.prop.opacity = dense * thing.opacity
        actor.SetVisibility(thing.shown)
        actor.prop.SetColor(*self._tone(colour))
        thing.actors.append((actor, dense, renderer))
        thing.colours.append(colour)
        renderer.AddActor(actor)
        thing.move(X_CP)

    def _spread_labels(self) -> None:
        """Put words where none covers another and none is cut off."""
        shown = (thing for thing in self.things.values() if thing.shown)
        written = [(thing.words, thing.pose) for thing in shown if thing.words is not None]
        for words, _ in written:  # the window may have come to another screen
            if words.write(self._window, self.scale * self._unit):
                words.colour(self._tone)
        low, high = self.part.corners

        def project(points: Floats) -> Floats:
            return np.asarray(self._seen.project(points, self.part, self._perspective) - low)

        lines = spread(written, project, self._seen.R_VC[0], high - low)
        self._leaders.draw(lines, self.scale * self._unit, self._tone)

    def _over(self, above: int) -> Any:
        """A layer over the things, seen by the same eye."""
        renderer = vtkRenderer()
        renderer.SetActiveCamera(self._camera)
        renderer.SetAutomaticLightCreation(False)
        place(self._window, renderer, self._layer + above, self.size, self._region)
        return renderer

    @staticmethod
    def _light(renderer: Any) -> None:
        renderer.SetAutomaticLightCreation(False)
        for lamp in lamps():
            renderer.AddLight(lamp)


def size_of(window: Any, unit: float) -> tuple[int, int]:
    """Width and height of a window, in px of `unit` px of its own; never nothing."""
    width, height = window.GetSize()
    return max(1, round(width / unit)), max(1, round(height / unit))


def place(
    window: Any, renderer: Any, layer: int, size: tuple[int, int], region: Region | None
) -> None:
    """Put a renderer into a layer of a window, where a region of a stage of that size lies."""
    if region is not None:
        lay(renderer, size, region)
    renderer.InteractiveOff()
    window.SetNumberOfLayers(max(layer + 1, window.GetNumberOfLayers()))
    renderer.SetLayer(layer)
    window.AddRenderer(renderer)


def lay(renderer: Any, size: tuple[int, int], region: Region) -> None:
    """Have a renderer draw in a region of a stage of that size."""
    (left, bottom), (right, top) = np.clip(region.corners / np.array(size), 0.0, 1.0)
    renderer.SetViewport(left, bottom, right, top)
