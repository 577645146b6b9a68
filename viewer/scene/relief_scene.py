"""The picture of a relief in verbs: what comes off in red and hatched, a cut through the wall."""

from math import radians

import numpy as np

from viewer.draw.base import BLACK, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.shading import outline, sharp_edges
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene import closeup
from viewer.scene.figure import Figure, points_of, triangles_of, upward
from viewer.scene.joint import JointPicture, Spot
from viewer.scene.labels import LEADING
from viewer.scene.marks import gap_ring, short_length
from viewer.scene.page import fitted, frame
from viewer.scene.relief import GroundYoke, ReliefPicture
from viewer.scene.section import hatched
from viewer.scene.side import hidden, telling_side

PAGE_OF = {1: (1600, 1000), 2: (1600, 1600)}
"""Size of the page, px, for one yoke and for two."""

PITCH = 9.0
"""Distance of the hatching's lines on what comes off, px."""

ANGLE = radians(45.0)
"""Their direction on the page."""

RING = 22.0
"""Radius of the ring around the thinnest wall, px."""


def draw_relief(picture: ReliefPicture, stage: Stage, page: Region) -> None:
    """Draw every ground yoke with what comes off it, and beside it a cut through its wall."""
    free = frame(stage, page, picture.headline, picture.lines, picture.caution)
    tall = free.height / len(picture.yokes)
    for i, yoke in enumerate(picture.yokes):
        row = Region(free.left, free.top - (i + 1) * tall, free.width, tall - 14.0)
        _yoke(picture, yoke, stage, row, f"yoke {i + 1}")


def _yoke(picture: ReliefPicture, yoke: GroundYoke, stage: Stage, row: Region, pane: str) -> None:
    aside = min(500.0, 0.75 * row.height)
    width = row.width - aside - 26.0
    base = row.top
    words = f"grind the {_listed(yoke.surfaces)}"
    for text, size, bold in ((yoke.name, 30.0, True), (words, 24.0, False)):
        letters = fitted(stage, text, Letters(size, bold), width)
        base -= letters.size * LEADING
        stage.write(text, (row.left, base), letters)
    region = Region(row.left, row.bottom, width, base - 8.0 - row.bottom)
    toward = _side(yoke)
    bodies = (*yoke.parts, yoke.chips)
    camera = framing(points_of(bodies), toward, upward(toward), region, margin=0.1)
    figure = Figure(stage, pane, region, camera)
    figure.put(bodies)
    name, mesh = yoke.chips.name, yoke.chips.mesh
    lines = hatched(mesh, slanted(camera), PITCH / figure.px_per_mm)
    stage.lines(name, lines, Pen(BLACK, 2.2), np.eye(4))
    for edges in (sharp_edges(mesh), outline(mesh, camera.R_VC[2])):
        stage.lines(name, edges, Pen(BLACK, 3.4), np.eye(4))
    wall = _wall(yoke, camera)
    _deepest(yoke, figure, wall)
    if wall is not None:
        at, seen = figure.at(wall[0]), bool(_seen(yoke, wall[:1], camera)[0])
        gap_ring(stage, at, RING, seen)
        figure.ground.cover_box(Region.around(at, RING), 6.0)
        _wall_left(picture, yoke, figure, at, seen)
    figure.place()
    box = Region(row.right - aside, row.bottom, aside, row.height)
    cut_through, spot = _section(yoke, wall)
    closeup.draw(cut_through, figure, box, spot)


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
    toward, _ = telling_side(yoke.parts, axes, places, skin=0.8)
    return toward


def _seen(yoke: GroundYoke, places: Floats, camera: Camera) -> np.ndarray:
    """Whether places lie in sight; metal that is to be ground away does not hide them."""
    return ~hidden(triangles_of(yoke.parts), places, camera.toward, 0.8)


def _best(yoke: GroundYoke, places: Floats, camera: Camera) -> int:
    """Number of the place that is seen, and of those the nearest to the eye."""
    seen = _seen(yoke, places, camera)
    return int(np.argmax(camera.depth(places) + 1e4 * seen))


def _wall(yoke: GroundYoke, camera: Camera) -> Floats | None:
    """The wall to show, (2, 3): on the ground surface and behind; None without one."""
    if not len(yoke.walls):
        return None
    return np.asarray(yoke.walls[_best(yoke, yoke.walls[:, 0], camera)])


def _deepest(yoke: GroundYoke, figure: Figure, wall: Floats | None) -> None:
    """Words at the deepest place, of those that are alike the one in sight off the wall's ring."""
    places, camera = yoke.deepest, figure.camera
    worth = 1e4 * _seen(yoke, places, camera) + 0.1 * camera.depth(places)
    if wall is not None:
        worth += np.linalg.norm(places - wall[0], axis=1)
    words = [
        (f"GRIND AWAY {short_length(yoke.depth)}", Letters(29.0, bold=True, colour=RED)),
        ("here, at the deepest", Letters(23.0)),
    ]
    if len(places) > 1:
        words.append((f"alike at {len(places)} places", Letters(23.0)))
    figure.say(figure.at(places[int(np.argmax(worth))]), words, edge=RED)


def _listed(names: tuple[str, ...]) -> str:
    """Names with commas and an "and"."""
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))


def _wall_left(
    picture: ReliefPicture, yoke: GroundYoke, figure: Figure, at: Floats, seen: bool
) -> None:
    small = Letters(23.0)
    words = [
        (f"WALL LEFT {short_length(yoke.wall)}", Letters(29.0, bold=True, colour=BLUE)),
        (f"{short_length(yoke.limit)} has to stay here", small),
    ]
    if yoke.limit < picture.least_wall:
        words.append((f"thin to begin with, so under {short_length(picture.least_wall)}", small))
    if not seen:
        words.append(("behind the metal in front", small))
    figure.say(at, words, 1.15 * RING, BLUE)


def _section(yoke: GroundYoke, wall: Floats | None) -> tuple[JointPicture, Spot]:
    """What is cut, and where: across the wall, or else at the deepest place."""
    at = yoke.deepest[0] if wall is None else wall.mean(axis=0)
    size = yoke.depth if wall is None else yoke.wall
    across = None
    if wall is not None and np.linalg.norm(wall[1] - wall[0]) > 1e-6:
        across = (wall[1] - wall[0]) / np.linalg.norm(wall[1] - wall[0])
    solids = (yoke.body, yoke.chips)
    axes = np.array([[1.0, 0.0, 0.0], [-1.0, 0.0, 0.0]])
    cut_through = JointPicture(
        parts=solids,
        solids=solids,
        centre=np.zeros(3),
        axes=axes,
        bend=0.0,
        points=wall,
        gap_mm=size,
        overlaps=False,
        overlap=None,
        bodies=(yoke.name, yoke.name),
        surfaces=("ground", "behind"),
        headline="",
    )
    return cut_through, Spot(np.asarray(at), across, size)
