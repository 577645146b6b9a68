"""A stage that only writes down what it is told, so that scenes are tested with no screen."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import Colour, Image, Letters, Paint, Pen, Plate
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.stage import Inset, Paper, Picked, Stage

BROAD = 0.56
"""Width of an average letter against the height of the type, from memory of common type faces."""


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
class Call:
    """One verb, the pane it went to ("" for the whole stage and for the page), what it was told."""

    verb: str
    pane: str = ""
    told: dict[str, Any] = field(default_factory=dict)


class RecordingStage(Stage, Paper):
    """Keeps the things of the open pane as they stand, and `calls` of all in their order.

    second : the inset, once it was opened.
    """

    second: "RecordingInset | None" = None

    def __init__(self, size: tuple[int, int] = (1600, 1000), unit: float = 1.0) -> None:
        super().__init__()
        self._size = round(size[0] / unit), round(size[1] / unit)
        self._pane = ""
        self._panes: dict[str, dict[str, Thing]] = {"": {}}
        self.calls: list[Call] = []
        self.regions: dict[str, Region] = {}
        self.cameras: dict[str, Camera] = {}
        self.perspective = True
        self.under: Picked | None = None
        """What `pick` answers."""
        self.drawn = 0
        self.is_grey = False
        self.closed = False

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px."""
        return self._size

    @property
    def things(self) -> dict[str, Thing]:
        """What stands in the open pane, by name."""
        return self._panes[self._pane]

    @property
    def camera(self) -> Camera | None:
        """From where the open pane looks."""
        return self.cameras.get(self._pane)

    def of(self, verb: str, pane: str | None = None) -> list[Call]:
        """Calls of one verb, of all panes or of one."""
        return [c for c in self.calls if c.verb == verb and pane in (None, c.pane)]

    def said(self) -> list[str]:
        """All words that are to be seen now: on the page in their order, then in space."""
        seen = [thing for thing in self.things.values() if thing.shown]
        written = [call.told["text"] for call in self.of("write")]
        return written + [text for thing in seen for text, _ in thing.texts]

    def seen(self) -> list[str]:
        """Names of what is to be seen now."""
        return [name for name, thing in self.things.items() if thing.shown and thing.opacity > 0.0]

    def pane(self, name: str, region: Region, camera: Camera) -> "RecordingStage":
        """Open a pane."""
        self._pane = name
        self._panes.setdefault(name, {})
        self.regions[name], self.cameras[name] = region, camera
        self._note("pane", region=region, camera=camera)
        return self

    def inset(self, region: Region | None) -> "RecordingInset":
        """Open the second picture, put it elsewhere, or fold it away."""
        self._note("inset", region=region)
        if self.second is None:
            self.second = RecordingInset()
        self.second.folded = region is None
        if region is None:
            return self.second
        size = region.width / self.scale, region.height / self.scale
        self.second._size = round(size[0]), round(size[1])
        return self.second

    def backdrop(self, top: Colour, bottom: Colour | None = None) -> None:
        """Note the colours."""
        self._note("backdrop", top=top, bottom=bottom)

    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Note from where it is seen."""
        self.cameras[self._pane], self.perspective = camera, perspective
        self._note("aim", camera=camera, perspective=perspective)

    def project(self, points: Floats) -> Floats:
        """Place points as a parallel view would."""
        if self.camera is None:
            return np.zeros((*np.shape(points)[:-1], 2))
        return self.camera.project(points, self.regions.get(self._pane, self.region))

    def pick(self, x: float, y: float) -> Picked | None:
        """Answer what the test has put into `under`."""
        self._note("pick", at=(x, y))
        return self.under

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Note a solid."""
        self._thing(name, X_CP).solids.append((mesh, paint, on_top))
        self._note("solid", name=name, mesh=mesh, paint=paint, X_CP=X_CP, on_top=on_top)

    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Note segments in space."""
        self._thing(name, X_CP).segments.append((np.array(segments), pen, on_top))
        self._note("lines", name=name, segments=segments, pen=pen, X_CP=X_CP)

    def words(
        self, name: str, text: str, at: Floats, letters: Letters, plate: Plate | None = None,
        clear: float = 0.0,
    ) -> None:  # fmt: skip
        """Note words in space."""
        self.things.setdefault(name, Thing()).texts = [(text, np.array(at))]
        self._note("words", name=name, text=text, letters=letters, plate=plate, clear=clear)

    def move(self, name: str, X_CP: Floats) -> None:
        """Note a new pose."""
        if name in self.things:
            self.things[name].X_CP = np.array(X_CP)
        self._note("move", name=name, X_CP=X_CP)

    def fade(self, name: str, opacity: float) -> None:
        """Note an opacity."""
        if name in self.things:
            self.things[name].opacity = opacity
        self._note("fade", name=name, opacity=opacity)

    def show(self, name: str, shown: bool) -> None:
        """Note whether it is seen."""
        if name in self.things:
            self.things[name].shown = shown
        self._note("show", name=name, shown=shown)

    def grey(self, on: bool) -> None:
        """Note whether all is grey."""
        self.is_grey = on

    def remove(self, name: str) -> None:
        """Note that it is gone."""
        self.things.pop(name, None)
        self._note("remove", name=name)

    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Note segments on the page."""
        self.calls.append(Call("stroke", "", {"segments": segments, "pen": pen}))

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Note filled triangles."""
        self.calls.append(Call("area", "", {"triangles": triangles, "colour": colour}))

    def write(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Note a line of words."""
        self.calls.append(Call("write", "", {"text": text, "at": at, "letters": letters}))

    def extent(self, text: str, letters: Letters) -> float:
        """Estimated width."""
        return BROAD * letters.size * len(text)

    def draw(self) -> None:
        """Count."""
        self.drawn += 1

    def image(self) -> Image:
        """Return an empty stage."""
        return np.full((self._size[1], self._size[0], 3), 255, dtype=np.uint8)

    def close(self) -> None:
        """Note the end."""
        self._panes = {"": {}}
        self._pane = ""
        self.closed = True

    def _thing(self, name: str, X_CP: Floats) -> Thing:
        thing = self.things.setdefault(name, Thing())
        thing.X_CP = np.array(X_CP)
        return thing

    def _note(self, verb: str, **told: Any) -> None:
        self.calls.append(Call(verb, self._pane, told))


class RecordingInset(RecordingStage, Inset):
    """The second picture: `calls` of its page are those since it was wiped.

    folded : whether nothing of it is seen.
    """

    folded = False

    def aim(self, camera: Camera, perspective: bool = False) -> None:
        """Note from where it is seen, in parallel."""
        super().aim(camera, perspective)

    def wipe(self) -> None:
        """Forget what was drawn on the page."""
        flat = ("stroke", "area", "write")
        self.calls = [call for call in self.calls if call.verb not in flat]
