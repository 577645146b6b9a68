"""What can be drawn on: a space with things that an eye looks at, a window's stage, and paper.

Things have names, are moved, faded, hidden and taken away, and the eye goes round them. A window
shows one space, and a second one in an inset, with a page over it; paper has several, each in a
pane that looks from its own side, and a page over them. A scene speaks in these verbs and knows of
no library. Lengths are mm in the chassis frame C; places are px of the stage, the inset or the
paper, counted from its lower left corner.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass

from geometry.mesh import Mesh
from viewer.draw.base import Colour, Image, Letters, Paint, Pen, Plate
from viewer.draw.camera import Camera, Floats, Region


@dataclass(frozen=True, eq=False)
class Picked:
    """What lies under a place of the stage: its name and the point (3,) mm in C."""

    name: str
    point: Floats


class Space(ABC):
    """Things, and an eye that looks at them."""

    @abstractmethod
    def aim(self, camera: Camera, perspective: bool = True) -> None:
        """Look as `camera` says; in perspective its span holds at the distance of its focus."""

    @abstractmethod
    def project(self, points: Floats) -> Floats:
        """Where points (..., 3) mm in C are seen, (..., 2) px."""

    @abstractmethod
    def solid(
        self, name: str, mesh: Mesh, paint: Paint, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up a solid; several of one name move together. `on_top` is never hidden by others."""

    @abstractmethod
    def lines(
        self, name: str, segments: Floats, pen: Pen, X_CP: Floats, on_top: bool = False
    ) -> None:
        """Put up segments, (n, 2, 3) mm in the frame P, in front of the surface they lie on."""

    @abstractmethod
    def words(
        self, name: str, text: str, at: Floats, letters: Letters, plate: Plate | None = None,
        clear: float = 0.0,
    ) -> None:  # fmt: skip
        """Write words that face the eye and that nothing hides, at a place (3,) of the frame P.

        A name has one text; a new one takes the place of the old one and stays where it was moved.
        No words cover the ball of radius `clear` around the origin of P, which these speak of; a
        line leads there where they stand off. Without a text the ball is kept clear all the same.
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
    def grey(self, on: bool) -> None:
        """Take the colour out of everything there is and comes, or give it back."""

    @abstractmethod
    def remove(self, name: str) -> None:
        """Take away everything of that name; nothing happens where there is none."""


class Page(ABC):
    """What is drawn flat on a rectangle, px from its lower left corner, over all that is in it."""

    @property
    @abstractmethod
    def size(self) -> tuple[int, int]:
        """Width and height, px."""

    @property
    def region(self) -> Region:
        """All of it."""
        return Region(0.0, 0.0, *map(float, self.size))

    @abstractmethod
    def stroke(self, segments: Floats, pen: Pen) -> None:
        """Draw segments, (n, 2, 2) px, on the page, over the panes and over what came before."""

    @abstractmethod
    def area(self, triangles: Floats, colour: Colour) -> None:
        """Fill triangles, (n, 3, 2) px, on the page."""

    @abstractmethod
    def write(self, text: str, at: tuple[float, float], letters: Letters) -> None:
        """Write one line on the page; `at` is the left, middle or right end of its base line."""

    @abstractmethod
    def extent(self, text: str, letters: Letters) -> float:
        """Width in px that one line takes on the page."""


class Inset(Space, Page):
    """A second picture in a part of a stage, with a page over it.

    It is seen in parallel, and cut open: what lies nearer to the eye than the focus is not there.
    Its px are those of pens and letters, whatever the density of the screen.
    """

    @abstractmethod
    def backdrop(self, colour: Colour) -> None:
        """Colour what is behind everything."""

    @abstractmethod
    def wipe(self) -> None:
        """Take away all that is on the page."""


class Stage(Space):
    """A space that fills a window, but for an inset that may be folded away."""

    def __init__(self) -> None:
        self.scale = 1.0
        """Real px for each px of pens and letters: more on a dense screen or with large type."""
        self._kept_to: Region | None = None

    @property
    @abstractmethod
    def size(self) -> tuple[int, int]:
        """Width and height of the window, px of the stage."""

    @property
    def region(self) -> Region:
        """The part of the window that shows this space."""
        return self._kept_to or Region(0.0, 0.0, *map(float, self.size))

    def keep_to(self, region: Region | None) -> None:
        """Show this space in a part of the window only; None for all of it."""
        self._kept_to = region

    @abstractmethod
    def inset(self, region: Region | None) -> Inset:
        """Open the second picture in a part of the window, or put it there where it is open.

        None folds it away: nothing of it is seen until it is put somewhere.
        """

    @abstractmethod
    def backdrop(self, top: Colour, bottom: Colour) -> None:
        """Colour what is behind everything, from its upper to its lower edge."""

    @abstractmethod
    def pick(self, x: float, y: float) -> Picked | None:
        """What is seen at a place of the stage, px; what is dense goes before what is faded."""

    @abstractmethod
    def draw(self) -> None:
        """Let be seen what was told since the last time."""

    @abstractmethod
    def close(self) -> None:
        """Take everything away and let go of the library."""


class Paper(Page):
    """Panes and a page over them."""

    @abstractmethod
    def pane(self, name: str, region: Region, camera: Camera) -> Space:
        """Open a pane in a region, seen in parallel."""

    @abstractmethod
    def image(self) -> Image:
        """Draw, and return the stage as (height, width, 3), first row on top."""

    @abstractmethod
    def close(self) -> None:
        """Take everything away and let go of the library."""
