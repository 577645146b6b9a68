"""A canvas that only writes down what it is told, so that scenes are tested with no screen."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import Canvas, Colour, Image, Letters, Paint, Pen
from viewer.draw.camera import Camera, Floats, Region

BROAD = 0.56
"""Width of an average letter against the height of the type, from memory of common type faces."""


@dataclass(frozen=True, eq=False)
class Call:
    """One verb, the view it went to ("" for the page), and what it was told."""

    verb: str
    view: str = ""
    told: dict[str, Any] = field(default_factory=dict)


class RecordingCanvas(Canvas):
    """Keeps `calls` in their order."""

    def __init__(self, size: tuple[int, int] = (1600, 1000)) -> None:
        super().__init__(size)
        self.calls: list[Call] = []
        self.regions: dict[str, Region] = {}
        self.cameras: dict[str, Camera] = {}
        self._open = ""

    def said(self) -> list[str]:
        """All words on the page, in their order."""
        return [call.told["text"] for call in self.calls if call.verb == "words"]

    def of(self, verb: str, view: str | None = None) -> list[Call]:
        """Calls of one verb, of all views or of one."""
        return [c for c in self.calls if c.verb == verb and view in (None, c.view)]

    def view(self, name: str, region: Region, camera: Camera) -> None:
        """Open a view."""
        self._open = name
        self.regions[name], self.cameras[name] = region, camera
        self.calls.append(Call("view", name, {"region": region, "camera": camera}))

    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Note a solid."""
        told = {"name": name, "mesh": mesh, "paint": paint, "X_CP": X_CP, "on_top": on_top}
        self.calls.append(Call("solid", self._open, told))

    def lines(self, name: str, segments: Floats, pen: Pen, X_CP: Floats) -> None:
        """Note segments in space."""
        told = {"name": name, "segments": segments, "pen": pen, "X_CP": X_CP}
        self.calls.append(Call("lines", self._open, told))

    def move(self, name: str, X_CP: Floats) -> None:
        """Note a new pose."""
        self.calls.append(Call("move", self._open, {"name": name, "X_CP": X_CP}))

    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Note segments on the page."""
        self.calls.append(Call("stroke", "", {"segments": segments, "pen": pen}))

    def area(self, triangles: Floats, colour: Colour) -> None:
        """Note filled triangles."""
        self.calls.append(Call("area", "", {"triangles": triangles, "colour": colour}))

    def words(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Note a line of words."""
        self.calls.append(Call("words", "", {"text": text, "at": at, "letters": letters}))

    def extent(self, text: str, letters: Letters) -> float:
        """Estimated width."""
        return BROAD * letters.size * len(text)

    def image(self) -> Image:
        """Return an empty page."""
        return np.full((self.size[1], self.size[0], 3), 255, dtype=np.uint8)

    def save(self, path: Path) -> None:
        """Note that it was to be saved; nothing is written."""
        self.calls.append(Call("save", "", {"path": path}))

    def close(self) -> None:
        """Note the end."""
        self.calls.append(Call("close"))
