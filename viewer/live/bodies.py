"""The parts of a rig on a stage: put up once, then moved, faded and pointed out."""

from collections.abc import Iterator

import numpy as np

from viewer.draw.base import Pen
from viewer.draw.shading import sharp_edges
from viewer.draw.stage import Stage
from viewer.live.looks import EDGE, SIZE, Look
from viewer.scene.figure import put_up
from viewer.scene.mount import Frames
from viewer.scene.part import Facts, Part, same_pieces

FAINT = 0.15
"""How dense a part is at most where it is looked through."""

CHOSEN = "chosen part"
"""What the stage calls the edges of the part that is pointed out."""


class Bodies:
    """Parts by name, each where the frames of the last pose put it."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self.parts: dict[str, Part] = {}
        self._opacity: dict[str, float] = {}
        self._fresh: set[str] = set()
        self.chosen = ""
        """The part that is pointed out; "" for none."""
        self.through = ""
        """The part that is looked through."""

    def begin(self) -> None:
        """Other parts come; those that do not come again go when all are there."""
        self._fresh = set()

    def forget(self) -> None:
        """Let everything be seen as it is by itself."""
        self._opacity = {}

    def put_up(self, part: Part, frames: Frames, look: Look) -> None:
        """Show a part; where one of that name is made of the same, it only goes where it is."""
        old, name = self.parts.get(part.name), part.name
        self.parts[name] = part
        self._fresh.add(name)
        alike = old is not None and same_pieces(old, part)
        if alike:
            self._stage.move(name, part.mount.pose(frames))
        else:
            self._stage.remove(name)
            put_up(self._stage, name, part.meshes, part.mount.pose(frames), EDGE)
        if part.caption:
            letters = look.letters(SIZE)
            self._stage.words(name, part.title, part.middle, letters, look.plate)
        if not alike:
            self._dress(part)

    def all_there(self) -> None:
        """Take down what did not come again."""
        for name in [name for name in self.parts if name not in self._fresh]:
            self._take_down(name)

    def move(self, frames: Frames) -> None:
        """Go to another pose; what has no place in it goes."""
        for name, part in list(self.parts.items()):
            try:
                self._stage.move(name, part.mount.pose(frames))
            except KeyError:  # of another kind of shaft
                self._take_down(name)
        if self.chosen in self.parts:
            self._stage.move(CHOSEN, self.parts[self.chosen].mount.pose(frames))

    def facts(self, name: str) -> Facts | None:
        """What is known of a part; None for what is no part."""
        part = self.parts.get(name)
        return None if part is None else part.facts

    def listed(self) -> Iterator[tuple[Part, float]]:
        """Every part as a menu lists it, and how dense it is; 0 is hidden."""
        for name, part in self.parts.items():
            if not part.of:
                yield part, self._opacity.get(name, part.opacity)

    def fade(self, name: str, opacity: float) -> None:
        """Make a part, in all its lengths, more or less dense; 0 hides it."""
        self._opacity[name] = opacity
        for part in self.parts.values():
            if part.whole == name:
                self._dress(part)

    def look_through(self, name: str) -> None:
        """Look through a part, or through none with ""."""
        before, self.through = self.through, name
        for each in {before, name} & set(self.parts):
            self._dress(self.parts[each])

    def choose(self, name: str, frames: Frames, look: Look) -> None:
        """Point out one part by the colour of its edges; "" for none."""
        self._stage.remove(CHOSEN)
        part = self.parts.get(name)
        self.chosen = name if part is not None else ""
        if part is not None:
            edges = np.concatenate([sharp_edges(mesh) for mesh, _ in part.meshes])
            self._stage.lines(CHOSEN, edges, Pen(look.accent, 3.0), part.mount.pose(frames))

    def _dress(self, part: Part) -> None:
        dense = self._opacity.get(part.whole, part.opacity)
        if part.name == self.through:
            dense = min(dense, FAINT)
        self._stage.show(part.name, dense > 0.0)
        self._stage.fade(part.name, dense)

    def _take_down(self, name: str) -> None:
        self._stage.remove(name)
        del self.parts[name]
