"""The picture of a relief in verbs: what comes off in red and hatched, a cut through the wall."""

from math import radians

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import BLACK, Canvas, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.shading import outline, sharp_edges
from viewer.scene import closeup
from viewer.scene.joint import JointPicture, Spot
from viewer.scene.labels import LEADING, Label, place
from viewer.scene.marks import BLUE, RED, gap_ring, short_length
from viewer.scene.page import fitted, frame
from viewer.scene.relief import GroundYoke, ReliefPicture
from viewer.scene.section import cut
from viewer.scene.side import hidden, telling_side
from viewer.scene.staging import covered, show, upward

PAGE_OF = {1: (1600, 1000), 2: (1600, 1600)}
"""Size of the page, px, for one yoke and for two."""

PITCH = 9.0
"""Distance of the hatching's lines on what comes off, px."""

ANGLE = radians(45.0)
"""Their direction on the page."""

RING = 22.0
"""Radius of the ring around the thinnest wall, px."""


def draw_relief(picture: ReliefPicture, canvas: Canvas) -> None:
    """Draw every ground yoke with what comes off it, and beside it a cut through its wall."""
    free, scale = frame(canvas, picture.headline, picture.lines, picture.caution)
    tall = free.height / len(picture.yokes)
    for i, yoke in enumerate(picture.yokes):
        row = Region(free.left, free.top - (i + 1) * tall, free.width, tall - 14.0 * scale)
        _yoke(picture, yoke, canvas, row, f"yoke {i + 1}", scale)


def _yoke(
    picture: ReliefPicture, yoke: GroundYoke, canvas: Canvas, row: Region, view: str, scale: float
) -> None:
    aside = min(500.0 * scale, 0.75 * row.height)
    width = row.width - aside - 26.0 * scale
    base = row.top
    words = f"grind the {_listed(yoke.surfaces)}"
    for text, size, bold in ((yoke.name, 30.0, True), (words, 24.0, False)):
        letters = fitted(canvas, text, Letters(size * scale, bold), width)
        base -= letters.size * LEADING
        canvas.words(text, (row.left, base), letters)
    region = Region(row.left, row.bottom, width, base - 8.0 * scale - row.bottom)
    toward = _side(yoke)
    bodies = (*yoke.parts, yoke.chips)
    points = np.concatenate([part.in_chassis for part in bodies])
    camera = framing(points, toward, upward(toward), region, margin=0.1)
    canvas.view(view, region, camera)
    show(canvas, bodies, camera, scale)
    pitch = PITCH * scale / camera.px_per_mm(region)
    lines = hatched(yoke.chips.mesh, camera, pitch)
    canvas.lines(yoke.chips.name, lines, Pen(BLACK, 2.2 * scale), np.eye(4))
    for edges in (sharp_edges(yoke.chips.mesh), outline(yoke.chips.mesh, camera.R_VC[2])):
        canvas.lines(yoke.chips.name, edges, Pen(BLACK, 3.4 * scale), np.eye(4))
    ground = covered(bodies, camera, region, Region(region.left, region.bottom, region.width, 0.0))
    wall = _wall(yoke, camera)
    labels = [_deepest(yoke, camera, region, wall, scale)]
    if wall is not None:
        at, seen = camera.project(wall[0], region), _seen(yoke, wall[:1], camera)[0]
        gap_ring(canvas, at, RING * scale, scale, bool(seen))
        ground.cover_box(Region.around(at, RING * scale), 6.0)
        labels.append(_words(picture, yoke, at, bool(seen), scale))
    place(canvas, ground, labels, scale)
    box = Region(row.right - aside, row.bottom, aside, row.height)
    cut_through, spot = _section(yoke, wall)
    closeup.draw(cut_through, canvas, box, region, camera, spot, scale)


def hatched(mesh: Mesh, camera: Camera, pitch: float) -> Floats:
    """Lines, (n, 2, 3) mm, on a mesh that look straight and evenly spaced to the camera.

    They are cuts by planes that hold the direction of sight, `pitch` mm apart.
    """
    right, up, toward = camera.R_VC
    normal = np.cos(ANGLE) * up - np.sin(ANGLE) * right
    R = np.stack([np.cross(normal, toward), toward, normal])
    along = mesh.vertices @ normal
    first, last = np.ceil(along.min() / pitch), np.floor(along.max() / pitch)
    pieces = [np.empty((0, 2, 3))]
    X_VP = np.eye(4)
    X_VP[:3, :3] = R
    for number in np.arange(first, last + 1.0):
        X_VP[2, 3] = -number * pitch
        flat = cut(mesh, X_VP)
        deep = np.concatenate([flat, np.full((*flat.shape[:2], 1), number * pitch)], axis=2)
        pieces.append(deep @ R)
    return np.concatenate(pieces)


def _side(yoke: GroundYoke) -> Floats:
    """Direction toward the eye that shows most of what comes off."""
    vertices = yoke.chips.mesh.vertices
    places = vertices[:: max(1, len(vertices) // 40)]
    axes = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0]])
    toward, _ = telling_side(yoke.parts, axes, places, skin=0.8)
    return toward


def _seen(yoke: GroundYoke, places: Floats, camera: Camera) -> np.ndarray:
    """Whether places lie in sight; metal that is to be ground away does not hide them."""
    triangles = np.concatenate([p.in_chassis[p.mesh.faces] for p in yoke.parts])
    return ~hidden(triangles, places, camera.toward, 0.8)


def _best(yoke: GroundYoke, places: Floats, camera: Camera) -> int:
    """Number of the place that is seen, and of those the nearest to the eye."""
    seen = _seen(yoke, places, camera)
    return int(np.argmax(camera.depth(places) + 1e4 * seen))


def _wall(yoke: GroundYoke, camera: Camera) -> Floats | None:
    """The wall to show, (2, 3): on the ground surface and behind; None without one."""
    if not len(yoke.walls):
        return None
    return np.asarray(yoke.walls[_best(yoke, yoke.walls[:, 0], camera)])


def _deepest(
    yoke: GroundYoke, camera: Camera, region: Region, wall: Floats | None, scale: float
) -> Label:
    """Words at the deepest place, of those that are alike the one in sight off the wall's ring."""
    places = yoke.deepest
    worth = 1e4 * _seen(yoke, places, camera) + 0.1 * camera.depth(places)
    if wall is not None:
        worth += np.linalg.norm(places - wall[0], axis=1)
    at = camera.project(places[int(np.argmax(worth))], region)
    words = [
        (f"GRIND AWAY {short_length(yoke.depth)}", Letters(29.0 * scale, bold=True, colour=RED)),
        ("here, at the deepest", Letters(23.0 * scale)),
    ]
    if len(places) > 1:
        words.append((f"alike at {len(places)} places", Letters(23.0 * scale)))
    return Label(tuple(words), (float(at[0]), float(at[1])), 0.0, RED)


def _listed(names: tuple[str, ...]) -> str:
    """Names with commas and an "and"."""
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))


def _words(picture: ReliefPicture, yoke: GroundYoke, at: Floats, seen: bool, scale: float) -> Label:
    small = Letters(23.0 * scale)
    words = [
        (f"WALL LEFT {short_length(yoke.wall)}", Letters(29.0 * scale, bold=True, colour=BLUE)),
        (f"{short_length(yoke.limit)} has to stay here", small),
    ]
    if yoke.limit < picture.least_wall:
        words.append((f"thin to begin with, so under {short_length(picture.least_wall)}", small))
    if not seen:
        words.append(("behind the metal in front", small))
    return Label(tuple(words), (float(at[0]), float(at[1])), 1.15 * RING * scale, BLUE)


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
