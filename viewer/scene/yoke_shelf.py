"""Pictures of several yokes side by side, to choose from: no words, each as large as fits."""

from dataclasses import dataclass

import numpy as np

from viewer.draw.base import Canvas
from viewer.draw.camera import Region, framing
from viewer.scene.parts import PosedPart, SceneError
from viewer.scene.staging import UP, show
from viewer.scene.yoke_scene import IN_SPACE

COLUMNS = 4
"""Pictures in a row."""

EDGE = 300
"""px of the side of each picture."""


@dataclass(frozen=True, eq=False)
class YokeShelf:
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


def cell(number: int) -> tuple[int, int]:
    """Left and top edge, px from the upper left corner of the page, of a picture."""
    row, column = divmod(number, COLUMNS)
    return column * EDGE, row * EDGE


def draw_yoke_shelf(shelf: YokeShelf, canvas: Canvas) -> None:
    """Draw each yoke in its place."""
    _, height = shelf.size
    for number, parts in enumerate(shelf.yokes):
        left, top = cell(number)
        region = Region(float(left), float(height - top - EDGE), float(EDGE), float(EDGE))
        points = np.concatenate([part.in_chassis for part in parts])
        camera = framing(points, IN_SPACE, UP, region)
        canvas.view(f"yoke {number}", region, camera)
        show(canvas, parts, camera, 1.0)
