"""Pictures of several yokes side by side, to choose from: no words, each as large as fits."""

from dataclasses import dataclass

from viewer.draw.camera import UP, Region, framing
from viewer.draw.stage import Stage
from viewer.scene.figure import Figure, points_of
from viewer.scene.parts import PosedPart, SceneError
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


def draw_yoke_shelf(shelf: YokeShelf, stage: Stage, page: Region) -> None:
    """Draw each yoke in its place."""
    for number, parts in enumerate(shelf.yokes):
        left, top = cell(number)
        region = Region(float(left), page.top - top - EDGE, float(EDGE), float(EDGE))
        camera = framing(points_of(parts), IN_SPACE, UP, region)
        Figure(stage, f"yoke {number}", region, camera).put(parts)
