"""The picture of a relief: what comes off in red and hatched, a cut through the wall left."""

from dataclasses import dataclass
from math import radians

import numpy as np
from numpy.typing import NDArray

from viewer.draw.base import BLACK, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.shading import outline, sharp_edges
from viewer.draw.stage import Paper
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene.closeup import CloseUp
from viewer.scene.figure import Figure, points_of, upward
from viewer.scene.ground_yoke import GroundYoke
from viewer.scene.marks import gap_ring
from viewer.scene.page import PAGE, Picture, headed
from viewer.scene.parts import SceneError
from viewer.scene.section import hatched
from viewer.scene.side import telling_side
from viewer.scene.spot import Spot
from viewer.words.captions import depth_caption, ground_caption, wall_caption

PITCH = 9.0
"""Distance of the hatching's lines on what comes off, px."""

ANGLE = radians(45.0)
"""Their direction on the page."""

RING = 22.0
"""Radius of the ring around the thinnest wall, px."""

SKIN = 0.8
"""mm of metal under which a place still counts as seen."""


@dataclass(frozen=True, eq=False)
class ReliefPicture(Picture):
    """What has to be ground for more bend, every yoke in its own yoke frame.

    least_wall : mm, the thinnest wall allowed where the yoke was thick enough to begin with.

    Raises SceneError where nothing is ground.
    """

    yokes: tuple[GroundYoke, ...]
    least_wall: float

    def __post_init__(self) -> None:
        if not self.yokes:
            raise SceneError("nothing is ground, so there is no picture; expected a yoke or two")

    @property
    def size(self) -> tuple[int, int]:
        """More height for two yokes."""
        return PAGE[0], PAGE[1] + 600 * (len(self.yokes) - 1)

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw every ground yoke with what comes off it, and beside it a cut through its wall."""
        free = self.frame(paper, page)
        tall = free.height / len(self.yokes)
        for i, yoke in enumerate(self.yokes):
            row = Region(free.left, free.top - (i + 1) * tall, free.width, tall - 14.0)
            self._yoke(yoke, paper, row, f"yoke {i + 1}")

    def _yoke(self, yoke: GroundYoke, paper: Paper, row: Region, pane: str) -> None:
        aside = min(500.0, 0.75 * row.height)
        width = row.width - aside - 26.0
        head = (yoke.name, 30.0, True), (ground_caption(yoke.cut.surfaces), 24.0, False)
        base = headed(paper, head, row.left, row.top, width)
        region = Region(row.left, row.bottom, width, base - 8.0 - row.bottom)
        toward = _side(yoke)
        bodies = (*yoke.parts, yoke.chips)
        camera = framing(points_of(bodies), toward, upward(toward), region, margin=0.1)
        figure = Figure(paper, pane, region, camera)
        figure.put(bodies)
        name, mesh = yoke.chips.name, yoke.chips.mesh
        lines = hatched(mesh, slanted(camera), PITCH / figure.px_per_mm)
        figure.pane.lines(name, lines, Pen(BLACK, 2.2), np.eye(4))
        for edges in (sharp_edges(mesh), outline(mesh, camera.R_VC[2])):
            figure.pane.lines(name, edges, Pen(BLACK, 3.4), np.eye(4))
        wall = _wall(yoke, figure)
        _deepest(yoke, figure, wall)
        spot = Spot.between(yoke.deepest[[0, 0]], yoke.cut.depth)
        if wall is not None:
            self._wall_left(yoke, figure, wall[0])
            spot = Spot.between(wall, yoke.cut.wall)
        figure.place()
        box = Region(row.right - aside, row.bottom, aside, row.height)
        CloseUp((yoke.parts[0], yoke.chips), spot, wall).draw(figure, box)

    def _wall_left(self, yoke: GroundYoke, figure: Figure, place: Floats) -> None:
        """Ring the wall, and say how thick it is."""
        at, seen = figure.at(place), bool(_seen(yoke, place[None], figure)[0])
        gap_ring(figure.paper, at, RING, seen)
        figure.ground.cover_box(Region.around(at, RING), 6.0)
        lines = wall_caption(yoke.cut.wall, yoke.cut.limit, self.least_wall, seen)
        figure.tell(at, lines, BLUE, 29.0, 1.15 * RING)


def slanted(camera: Camera) -> Floats:
    """Rotation (3, 3) to planes that hold the direction of sight, slanted on the page."""
    right, up, toward = camera.R_VC
    normal = np.cos(ANGLE) * up - np.sin(ANGLE) * right
    return np.stack([np.cross(normal, toward), toward, normal])


def _side(yoke: GroundYoke) -> Floats:
    """Direction toward the eye that shows most of what comes off."""
    vertices = yoke.chips.mesh.vertices
    places = vertices[:: max(1, len(vertices) // 40)]
    axes = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0]])
    return telling_side(yoke.parts, axes, places, skin=SKIN)[0]


def _seen(yoke: GroundYoke, places: Floats, figure: Figure) -> NDArray[np.bool_]:
    """Whether places lie in sight; metal that is to be ground away does not hide them."""
    return figure.sees(yoke.parts, places, SKIN)


def _wall(yoke: GroundYoke, figure: Figure) -> Floats | None:
    """The wall to show, (2, 3): the one that is seen, and of those the nearest to the eye."""
    if not len(yoke.walls):
        return None
    places = yoke.walls[:, 0]
    worth = figure.camera.depth(places) + 1e4 * _seen(yoke, places, figure)
    return np.asarray(yoke.walls[int(np.argmax(worth))])


def _deepest(yoke: GroundYoke, figure: Figure, wall: Floats | None) -> None:
    """Words at the deepest place, of those that are alike the one in sight off the wall's ring."""
    places = yoke.deepest
    worth = 1e4 * _seen(yoke, places, figure) + 0.1 * figure.camera.depth(places)
    if wall is not None:
        worth += np.linalg.norm(places - wall[0], axis=1)
    lines = depth_caption(yoke.cut.depth, len(places))
    figure.tell(figure.at(places[int(np.argmax(worth))]), lines, RED, 29.0)
