"""A stage that only writes down what it is told, so that live scenes are tested with no screen."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import Colour, Image, Letters, Paint, Pen
from viewer.draw.camera import Camera, Floats
from viewer.draw.stage import Picked, Plate, Stage


@dataclass(eq=False)
class Thing:
    """Everything of one name: what it is made of, where it is, how it is seen."""

    solids: list[tuple[Mesh, Paint, bool]] = field(default_factory=list)
    segments: list[tuple[Floats, Pen, bool]] = field(default_factory=list)
    texts: list[tuple[str, Floats]] = field(default_factory=list)
    X_CP: Floats = field(default_factory=lambda: np.eye(4))
    opacity: float = 1.0
    shown: bool = True


@dataclass(frozen=True, eq=False)
class Told:
    """One verb, the name it was about and the rest of what was said."""

    verb: str
    name: str = ""
    rest: dict[str, Any] = field(default_factory=dict)


class RecordingStage(Stage):
    """Keeps `things` as they stand, and `calls` in their order."""

    def __init__(self, size: tuple[int, int] = (800, 600)) -> None:
        super().__init__()
        self._size = size
        self.things: dict[str, Thing] = {}
        self.calls: list[Told] = []
        self.camera: Camera | None = None
        self.perspective = True
        self.under: Picked | None = None
        """What `pick` answers."""
        self.drawn = 0
        self.closed = False

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px."""
        return self._size

    def of(self, verb: str) -> list[Told]:
        """Calls of one verb."""
        return [call for call in self.calls if call.verb == verb]

    def said(self) -> list[str]:
        """All words that are to be seen now."""
        seen = [thing for thing in self.things.values() if thing.shown]
        return [text for thing in seen for text, _ in thing.texts]

    def seen(self) -> list[str]:
        """Names of what is to be seen now."""
        return [name for name, thing in self.things.items() if thing.shown and thing.opacity > 0.0]

    def backdrop(self, top: Colour, bottom: Colour) -> None:
        """Note the colours."""
        self.calls.append(Told("backdrop", "", {"top": top, "bottom": bottom}))

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Note a solid."""
        thing = self._at(name, X_CP, "solid")
        thing.solids.append((mesh, paint, on_top))

    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Note segments."""
        thing = self._at(name, X_CP, "lines")
        thing.segments.append((np.array(segments), pen, on_top))

    def words(
        self,
        name: str,
        text: str,
        at: Floats,
        letters: Letters,  # noqa: ARG002
        plate: Plate | None = None,  # noqa: ARG002
    ) -> None:
        """Note words."""
        thing = self.things.setdefault(name, Thing())
        thing.texts = [(text, np.array(at))]
        self.calls.append(Told("words", name, {"text": text}))

    def move(self, name: str, X_CP: Floats) -> None:
        """Note a new pose."""
        if name in self.things:
            self.things[name].X_CP = np.array(X_CP)
        self.calls.append(Told("move", name, {"X_CP": X_CP}))

    def fade(self, name: str, opacity: float) -> None:
        """Note an opacity."""
        if name in self.things:
            self.things[name].opacity = opacity
        self.calls.append(Told("fade", name, {"opacity": opacity}))

    def show(self, name: str, shown: bool) -> None:
        """Note whether it is seen."""
        if name in self.things:
            self.things[name].shown = shown
        self.calls.append(Told("show", name, {"shown": shown}))

    def remove(self, name: str) -> None:
        """Note that it is gone."""
        self.things.pop(name, None)
        self.calls.append(Told("remove", name))

    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Note from where it is seen."""
        self.camera, self.perspective = camera, perspective
        self.calls.append(Told("aim", "", {"camera": camera, "perspective": perspective}))

    def project(self, points: Floats) -> Floats:
        """Place points as a parallel view would."""
        if self.camera is None:
            return np.zeros((*np.shape(points)[:-1], 2))
        return self.camera.project(points, self.region)

    def pick(self, x: float, y: float) -> Picked | None:
        """Answer what the test has put into `under`."""
        self.calls.append(Told("pick", "", {"at": (x, y)}))
        return self.under

    def draw(self) -> None:
        """Count."""
        self.drawn += 1

    def image(self) -> Image:
        """Return an empty stage."""
        return np.full((self._size[1], self._size[0], 3), 255, dtype=np.uint8)

    def close(self) -> None:
        """Note the end."""
        self.things.clear()
        self.closed = True

    def _at(self, name: str, X_CP: Floats, verb: str) -> Thing:
        thing = self.things.setdefault(name, Thing())
        thing.X_CP = np.array(X_CP)
        self.calls.append(Told(verb, name))
        return thing
