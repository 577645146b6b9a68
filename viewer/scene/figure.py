"""A figure of a sheet: bodies in a pane, marks where they are seen, words in free ground."""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.mesh import Mesh
from viewer.draw.base import BLACK, Colour, Letters, Paint, Pen
from viewer.draw.camera import UP, Camera, Floats, Region
from viewer.draw.shading import outline, sharp_edges
from viewer.draw.stage import Paper, Space
from viewer.scene.labels import Ground, Label, haloed, place
from viewer.scene.marks import axis_line, joined, wedge
from viewer.scene.parts import PosedPart
from viewer.scene.side import hidden

SMALL = 23.0
"""Height of words beside a mark, px."""

EDGE, RIM = Pen(BLACK, 1.3), Pen(BLACK, 2.4)
"""On paper: the corners of a body, and its outline."""


def upward(toward: Floats) -> Floats:
    """What points up on the page: up in the vehicle, or forward when seen from straight above."""
    steep = abs(toward[2]) > 0.95 * np.linalg.norm(toward)
    return np.array([1.0, 0.0, 0.0]) if steep else UP


def points_of(parts: Iterable[PosedPart]) -> Floats:
    """Vertices of all parts, (n, 3) mm in C."""
    return np.concatenate([part.in_chassis for part in parts])


def triangles_of(parts: Iterable[PosedPart]) -> Floats:
    """Triangles of all parts, (n, 3, 3) mm in C."""
    return np.concatenate([part.in_chassis[part.mesh.faces] for part in parts])


def put_up(
    space: Space, name: str, pieces: Sequence[tuple[Mesh, Paint]], X_CP: Floats, edge: Pen
) -> None:
    """Put up a body with its edges, in the window as on paper."""
    for mesh, paint in pieces:
        space.solid(name, mesh, paint, X_CP)
    for broader in sorted({paint.edge for _, paint in pieces}):
        edges = [sharp_edges(mesh) for mesh, paint in pieces if paint.edge == broader]
        space.lines(name, np.concatenate(edges), Pen(edge.colour, broader * edge.width), X_CP)


class Figure:
    """A pane of a sheet and what is drawn over it.

    Attributes
    ----------
    region, camera : where it lies on the page, and from where it looks.
    ground : what of the region, and of the page under it as far down as `foot`, is taken.
    labels : words that are still to be placed.
    """

    def __init__(
        self, paper: Paper, name: str, region: Region, camera: Camera, foot: float | None = None
    ) -> None:
        self.paper, self.region, self.camera = paper, region, camera
        low = region.bottom if foot is None else foot
        self.ground = Ground(Region(region.left, low, region.width, region.top - low))
        self.labels: list[Label] = []
        self.pane = paper.pane(name, region, camera)

    def put(self, parts: Sequence[PosedPart]) -> None:
        """Show bodies with their edges and outlines; every square that shows one is taken."""
        for part in parts:
            put_up(self.pane, part.name, [(part.mesh, part.paint)], part.X_CP, EDGE)
            rim = outline(part.mesh, part.X_CP[:3, :3].T @ self.camera.R_VC[2])
            self.pane.lines(part.name, rim, RIM, part.X_CP)
            self.ground.cover_triangles(self.at(part.in_chassis)[part.mesh.faces])

    def at(self, points: ArrayLike) -> Floats:
        """Where points (..., 3) mm in C are seen, (..., 2) px."""
        return self.camera.project(points, self.region)

    @property
    def px_per_mm(self) -> float:
        """The scale in the plane of the page."""
        return self.camera.px_per_mm(self.region)

    def sees(self, parts: Iterable[PosedPart], places: Floats, skin: float) -> NDArray[np.bool_]:
        """Whether places (n, 3) mm lie in sight, under no more than `skin` mm of some parts."""
        return ~hidden(triangles_of(parts), places, self.camera.toward, skin)

    def draw(self, segments: Floats, width: float, halo: float, colour: Colour = BLACK) -> None:
        """Draw segments (n, 2, 2) px on the page, on a halo."""
        haloed(self.paper, segments, Pen(colour, width), halo)

    def bend(self, centre: Floats, axes: Floats, radius: float) -> Floats:
        """Draw the angle between two shafts: one axis, the other drawn on past it, an arc.

        Returns the middle (2,) px of the arc.
        """
        *ways, points = (self.at(each) for each in wedge(centre, axes, radius))
        for ends in ways:
            self.draw(axis_line(*ends), 1.8, 1.6)
            self.ground.cover_line(ends[0], ends[1], 2.5)
        self.draw(joined(points), 3.5, 2.0)
        self.ground.cover(points, 3.0)
        return np.asarray(points[len(points) // 2])

    def say(
        self,
        at: Floats,
        lines: Sequence[tuple[str, Letters]],
        clear: float = 0.0,
        edge: Colour | None = None,
        first: bool = False,
    ) -> None:
        """Have some words placed near a place (2,) px; `first` before those said already."""
        label = Label(tuple(lines), (float(at[0]), float(at[1])), clear, edge)
        self.labels.insert(0 if first else len(self.labels), label)

    def tell(
        self,
        at: Floats,
        lines: Sequence[str],
        colour: Colour,
        size: float,
        clear: float = 0.0,
        first: bool = False,
    ) -> None:
        """The same in a frame of a colour, the first line so large, bold and of that colour."""
        letters = [Letters(size, bold=True, colour=colour), *[Letters(SMALL)] * len(lines)]
        self.say(at, list(zip(lines, letters, strict=False)), clear, colour, first)

    def place(self) -> None:
        """Write all words that were said where there is room for them."""
        place(self.paper, self.ground, self.labels)
        self.labels = []
