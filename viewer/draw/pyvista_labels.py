"""Words of a pane on VTK: where each stands, and the thin lines from some to what they speak of."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from vtkmodules.vtkRenderingCore import vtkActor2D, vtkBillboardTextActor3D, vtkPolyDataMapper2D

from viewer.draw.base import WHITE, Colour, Letters, Plate
from viewer.draw.camera import Floats, Region
from viewer.draw.label_places import Label, Move, leader, places
from viewer.draw.ribbon import ribbon
from viewer.draw.vtk_parts import lettering, literal, text_box, unshared

SWUNG = 60.0
"""px. Words whose place has gone farther than this at once are in another view: where they stood
before does not matter there."""

HALO, LINE = 4.0, 1.8
"""Width, px, of a line to what words speak of, and of the paper under it."""


@dataclass(eq=False)
class Written:
    """Words of a thing.

    Attributes
    ----------
    actor : draws them.
    text, letters, plate, at, clear : what the stage was told of them.
    box : lower left and upper right corner, (2, 2) px, from where they are put.
    stood, seen_at : how far they were moved last, and from where, px.
    """

    actor: vtkBillboardTextActor3D
    text: str = ""
    letters: Letters = field(default_factory=lambda: Letters(1.0))
    plate: Plate | None = None
    at: Floats = field(default_factory=lambda: np.zeros(3))
    clear: float = 0.0
    box: Floats = field(default_factory=lambda: np.zeros((2, 2)))
    stood: Move | None = (0.0, 0.0)
    seen_at: Floats = field(default_factory=lambda: np.full(2, np.inf))
    _written: tuple[object, ...] = ()

    @property
    def ink(self) -> Colour:
        """Of their frame, and of the line that leads to what they speak of."""
        return (self.plate and self.plate.frame) or self.letters.colour

    @property
    def paper(self) -> Colour:
        """What is under them and their line."""
        return WHITE if self.plate is None else self.plate.colour

    @property
    def weighty(self) -> bool:
        """Whether they always have to be seen."""
        return self.plate is not None and self.plate.frame is not None

    def write(self, window: Any, scale: float) -> bool:
        """Write them `scale` times their size, unless that is what stands there; whether it was."""
        dpi = window.GetDPI()
        wanted = self.text, self.letters, self.plate, dpi, scale
        if wanted == self._written:
            return False
        self._written = wanted
        kind, text = lettering(self.letters, window, scale), self.text
        if self.plate is not None:
            kind.SetBackgroundColor(*self.plate.colour)
            kind.SetBackgroundOpacity(self.plate.opacity)
            kind.SetFrame(self.weighty)
            kind.SetFrameWidth(max(1, round(2.0 * scale)))
            text = "\n".join(f" {row} " for row in text.splitlines())
        self.box = text_box(kind, text, dpi)
        self.actor.SetTextProperty(kind)
        self.actor.SetInput(literal(text))
        return True

    def colour(self, tone: Callable[[Colour], Colour]) -> None:
        """Give them and their frame their colours. tone : what is shown of a colour."""
        kind = self.actor.GetTextProperty()
        kind.SetColor(*tone(self.letters.colour))
        kind.SetFrameColor(*tone(self.ink))


Placed = tuple[Written, Floats]
"""Words with the pose (4, 4) in C of what they belong to."""


def spread(
    written: Iterable[Placed], project: Callable[[Floats], Floats], aside: Floats, size: Floats
) -> list[tuple[Floats, Written]]:
    """Put words where none covers another; the lines, (2, 2) px, that lead from some of them.

    project : places points (..., 3) mm in C in the view, px. aside : direction (3,) in C that
        points right there. size : of the view, (2,) px.
    """
    words = list(written)
    if not words:
        return []
    poses = np.stack([X for _, X in words])
    own = np.stack([[*each.at, 1.0] for each, _ in words])
    puts = np.einsum("nij,nj->ni", poses, own)[:, :3]
    middles = poses[:, :3, 3]
    radii = np.array([each.clear for each, _ in words]) * np.linalg.norm(poses[:, :3, 0], axis=1)
    seen, about, rim = project(np.stack([puts, middles, middles + radii[:, None] * aside]))
    clear = np.linalg.norm(rim - about, axis=1)
    labels, before, shown, kept = [], [], [], []
    for (each, _), anchor, middle, radius in zip(words, seen, about, clear, strict=True):
        if not each.text:
            each.actor.SetVisibility(False)
            kept.append((float(middle[0]), float(middle[1]), float(radius)))
            continue
        shown.append(each)
        box = Region.between(*(anchor + each.box))
        speaks = middle if each.clear else None
        labels.append(Label(anchor, box, each.weighty, speaks, float(radius)))
        with np.errstate(invalid="ignore"):
            is_near = bool(np.hypot(*(anchor - each.seen_at)) < SWUNG)
        before.append(each.stood if is_near else (0.0, 0.0))
        each.seen_at = anchor
    lines = []
    found = places(labels, (round(size[0]), round(size[1])), before, kept)
    for label, move, each in zip(labels, found, shown, strict=True):
        each.stood = move
        each.actor.SetVisibility(move is not None)
        if move is None:
            continue
        each.actor.SetDisplayOffset(*map(round, move))
        line = leader(label, move) if each.clear else None
        if line is not None:
            lines.append((line, each))
    return lines


class Leaders:
    """Lines to what words speak of, in a layer of a window."""

    def __init__(self, renderer: Any) -> None:
        self._renderer = renderer
        self._actors: list[vtkActor2D] = []

    def draw(
        self,
        lines: Iterable[tuple[Floats, Written]],
        scale: float,
        tone: Callable[[Colour], Colour],
    ) -> None:
        """Show these lines and no others, pens being `scale` times as broad.

        tone : what is shown of a colour.
        """
        for actor in self._actors:
            self._renderer.RemoveViewProp(actor)
        self._actors = []
        for line, words in lines:
            for width, colour in ((HALO, words.paper), (LINE, tone(words.ink))):
                self._area(ribbon(line[None], width * scale), colour)

    def _area(self, triangles: Floats, colour: Colour) -> None:
        flat = triangles.reshape(-1, 2)
        mapper = vtkPolyDataMapper2D()
        mapper.SetInputData(unshared(np.column_stack([flat, np.zeros(len(flat))])))
        actor = vtkActor2D()
        actor.SetMapper(mapper)
        actor.GetProperty().SetColor(*colour)
        actor.PickableOff()
        self._renderer.AddViewProp(actor)
        self._actors.append(actor)
