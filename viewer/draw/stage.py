"""What a live view can do: a stage with things on it that are put up once and then moved.

A canvas draws one picture and is done. A stage stays: things have names, are moved, faded, hidden
and taken away, and the eye goes round them. A scene speaks to it in these verbs and knows of no
library. Lengths are mm in the chassis frame C; places on the stage are px of its own, counted from
its lower left corner.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import Colour, Image, Letters, Paint, Pen
from viewer.draw.camera import Camera, Floats, Region

VIEW_ANGLE = float(np.radians(24.0))
"""rad from the lower to the upper edge of a perspective view: that of a long lens, which makes near
and far parts of a joint about equally large."""


@dataclass(frozen=True, eq=False)
class Picked:
    """What lies under a place of the stage: its name and the point (3,) mm in C."""

    name: str
    point: Floats


@dataclass(frozen=True)
class Plate:
    """A plate behind words, so that they stand out from whatever is behind them."""

    colour: Colour
    opacity: float = 0.9
    frame: Colour | None = None


class Stage(ABC):
    """Things in space, and an eye that looks at them."""

    def __init__(self) -> None:
        self.scale = 1.0
        """Real px for each px of pens and letters: more on a dense screen or with large type."""

    @property
    @abstractmethod
    def size(self) -> tuple[int, int]:
        """Width and height, px of the stage."""

    @property
    def region(self) -> Region:
        """The whole stage."""
        return Region(0.0, 0.0, *map(float, self.size))

    @abstractmethod
    def backdrop(self, top: Colour, bottom: Colour) -> None:
        """Colour what is behind everything, from its upper to its lower edge."""

    @abstractmethod
    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up a solid; several of one name move together. `on_top` is never hidden by others."""

    @abstractmethod
    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up segments, (n, 2, 3) mm in the frame P."""

    @abstractmethod
    def words(
        self, name: str, text: str, at: Floats, letters: Letters, plate: Plate | None = None
    ) -> None:
        """Write words that face the eye and that nothing hides, at a place (3,) of the frame P.

        A name has one text; a new one takes the place of the old one and stays where it was moved.
        """

    @abstractmethod
    def move(self, name: str, X_CP: Floats) -> None:
        """Give everything of that name a new pose (4, 4), which may also stretch it."""

    @abstractmethod
    def fade(self, name: str, opacity: float) -> None:
        """Make everything of that name more or less dense: 1 as its paint says, 0 not there."""

    @abstractmethod
    def show(self, name: str, shown: bool) -> None:
        """Hide everything of that name, or let it be seen again."""

    @abstractmethod
    def remove(self, name: str) -> None:
        """Take away everything of that name; nothing happens where there is none."""

    @abstractmethod
    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Look as `camera` says; in perspective its span holds at the distance of its focus."""

    @abstractmethod
    def project(self, points: Floats) -> Floats:
        """Where points (..., 3) mm in C are seen, (..., 2) px."""

    @abstractmethod
    def pick(self, x: float, y: float) -> Picked | None:
        """What is seen at a place of the stage, px; what is dense goes before what is faded."""

    @abstractmethod
    def draw(self) -> None:
        """Let be seen what was told since the last time."""

    @abstractmethod
    def image(self) -> Image:
        """Draw, and return the stage as (height, width, 3), first row on top."""

    @abstractmethod
    def close(self) -> None:
        """Take everything away and let go of the library."""
