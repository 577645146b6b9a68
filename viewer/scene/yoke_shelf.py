"""Pictures of several yokes side by side, to choose from: no words, each as large as fits."""

from dataclasses import dataclass

import numpy as np

from geometry.imported.repair import FILLED
from geometry.yoke.base import Yoke
from viewer.draw.camera import UP, Region, framing
from viewer.draw.stage import Paper
from viewer.scene.figure import Figure, points_of
from viewer.scene.page import Sheet
from viewer.scene.parts import PosedPart, SceneError, body_parts
from viewer.scene.spot import part_of
from viewer.scene.yoke import IN_SPACE

COLUMNS = 4
"""Pictures in a row."""

EDGE = 300
"""px of the side of each picture."""


@dataclass(frozen=True, eq=False)
class YokeShelf(Sheet):
    """Yokes, each in its own frame, in the order they are shown: row by row from the top left.

    Raises SceneError without yokes, or for one without parts.
    """

    yokes: tuple[tuple[PosedPart, ...], ...]

    def __post_init__(self) -> None:
        if not self.yokes or not all(self.yokes):
            raise SceneError("a shelf of yokes needs yokes with parts; got none")

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the page, px."""
        rows = -(-len(self.yokes) // COLUMNS)
        return COLUMNS * EDGE, rows * EDGE

    @property
    def unit(self) -> float:
        """Its sizes are real px."""
        return 1.0

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw each yoke in its place."""
        for number, parts in enumerate(self.yokes):
            left, top = cell(number)
            region = Region(float(left), page.top - top - EDGE, float(EDGE), float(EDGE))
            camera = framing(points_of(parts), IN_SPACE, UP, region)
            Figure(paper, f"yoke {number}", region, camera).put(parts)


def cell(number: int) -> tuple[int, int]:
    """Left and top edge, px from the upper left corner of the page, of a picture."""
    row, column = divmod(number, COLUMNS)
    return column * EDGE, row * EDGE


def shown_parts(yoke: Yoke, without: frozenset[str] = frozenset()) -> tuple[PosedPart, ...]:
    """Pieces of a yoke to show where they are, what fills large holes as a piece of its own."""
    parts: list[PosedPart] = []
    pieces = body_parts("yoke", yoke, np.eye(4), "grey steel")
    for piece, part in zip(yoke.parts, pieces, strict=True):
        if piece in without:
            continue
        if FILLED not in part.mesh.label_names:
            parts.append(part)
            continue
        filled = part.mesh.on(FILLED)
        for name, look, some in (("yoke", part.material, ~filled), (FILLED, "mark", filled)):
            parts.append(PosedPart(name, look, part_of(part.mesh, some, "surface")))
    return tuple(parts)
