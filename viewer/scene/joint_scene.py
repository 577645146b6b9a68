"""The picture of a joint in verbs for a canvas."""

from math import degrees

import numpy as np

from viewer.draw.base import BLACK, Canvas, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.shading import outline
from viewer.scene import closeup
from viewer.scene.joint import JointPicture, Spot, find_spots, look, samples
from viewer.scene.labels import Ground, Label, place
from viewer.scene.marks import (
    BLUE,
    RED,
    arc,
    dashes,
    gap_line,
    gap_ring,
    haloed,
    joined,
    short_length,
    touch_ring,
)
from viewer.scene.page import STRIP, bearings, bearings_boxes, frame
from viewer.scene.parts import MATERIALS, PosedPart
from viewer.scene.side import hidden
from viewer.scene.staging import covered, inside, show, upward


def draw_joint(picture: JointPicture, canvas: Canvas) -> None:
    """Draw the whole joint, a cut through the place that matters, and the words."""
    free, scale = frame(canvas, picture.headline, picture.lines, picture.caution)
    toward, spots = look(picture, find_spots(picture))
    aside = min(500.0 * scale, 0.8 * free.height) if picture.solids and spots else 0.0
    between = 26.0 * scale if aside else 0.0
    width = free.width - aside - between
    strip = Region(free.left, free.bottom, width, STRIP * scale)
    region = Region(free.left, strip.top, width, free.height - strip.height)
    camera = _stage(picture, canvas, region, toward, scale)
    ground = covered(picture.parts, camera, region, strip)
    for box in bearings_boxes(canvas, camera, strip, scale):
        ground.cover_box(box)
    _annotate(picture, canvas, region, camera, spots, ground, scale)
    bearings(canvas, camera, strip, scale)
    if aside:
        box = Region(free.right - aside, free.bottom, aside, free.height)
        closeup.draw(picture, canvas, box, region, camera, spots[0], scale)


def _stage(
    picture: JointPicture, canvas: Canvas, region: Region, toward: Floats, scale: float
) -> Camera:
    """Draw the bodies, framed so that the joint itself fills the view."""
    points = np.concatenate([part.in_chassis for part in picture.parts])
    near = np.linalg.norm(points - picture.centre, axis=1) <= 1.01 * picture.reach
    shown = np.concatenate([points[near], *_wedge(picture, driving=False)])
    camera = framing(shown, toward, upward(toward), region, margin=0.04)
    canvas.view("joint", region, camera)
    show(canvas, picture.parts, camera, scale)
    if picture.overlap is not None:
        canvas.solid("overlap", picture.overlap, MATERIALS["mark"], np.eye(4), on_top=True)
    return camera


def _annotate(
    picture: JointPicture,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    spots: list[Spot],
    ground: Ground,
    scale: float,
) -> None:
    """Bend, marks, names."""
    labels = _bend(picture, canvas, region, camera, ground, scale)
    boxes: list[Region] = []
    for spot in spots:
        ring = middle, radius, seen = _ring(picture, region, camera, spot, scale)
        box = Region.around(middle, radius)
        # By the half turn of a joint pieces come in pairs; pieces side by side need one ring.
        if any(box.meets(other) for other in boxes):
            continue
        boxes.append(box)
        ground.cover_box(box)
        _mark(picture, canvas, region, camera, spot, ring, scale)
        if spot is spots[0]:
            labels.insert(0, _verdict(picture, spot, middle, 1.15 * radius, seen, scale))
    place(canvas, ground, [*labels, *_names(picture, region, camera, scale)], scale)


def _ring(
    picture: JointPicture, region: Region, camera: Camera, spot: Spot, scale: float
) -> tuple[Floats, float, bool]:
    """Middle (2,) and radius, px, of the ring around a spot, and whether the spot can be seen."""
    places = samples(picture, spot)
    middle = camera.project(spot.at, region)
    extent = float(np.linalg.norm(camera.project(places, region) - middle, axis=1).max())
    radius = float(np.clip(1.25 * extent + 14.0 * scale, 34.0 * scale, 200.0 * scale))
    triangles = np.concatenate([p.in_chassis[p.mesh.faces] for p in picture.parts])
    shown = ~hidden(triangles, places, camera.toward, spot.skin)
    return middle, radius, bool(shown.mean() > 0.1)


def _mark(
    picture: JointPicture,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    spot: Spot,
    ring: tuple[Floats, float, bool],
    scale: float,
) -> None:
    """Draw the ring of a spot (middle and radius in px, seen or not), and what is in it."""
    if spot.bite is not None:
        rim = outline(spot.bite.mesh, camera.R_VC[2])
        canvas.stroke(camera.project(rim, region), Pen(BLACK, 2.5 * scale))
    if picture.overlaps:
        touch_ring(canvas, ring[0], ring[1], scale, ring[2])
        return
    gap_ring(canvas, ring[0], ring[1], scale, ring[2])
    if picture.points is not None:
        gap_line(canvas, camera.project(picture.points, region), scale)


def _verdict(
    picture: JointPicture, spot: Spot, at: Floats, clear: float, seen: bool, scale: float
) -> Label:
    """Words beside the mark: touch or gap, and what is there."""
    (a, b), (on_a, on_b) = picture.bodies, picture.surfaces
    colour = RED if picture.overlaps else BLUE
    big = Letters(31.0 * scale, bold=True, colour=colour)
    small = Letters(23.0 * scale)
    first = "METAL MEETS METAL" if picture.overlaps else f"GAP {short_length(spot.size)}"
    lines = [(first, big), (f"{a}: {on_a}", small), (f"{b}: {on_b}", small)]
    if not seen:
        lines.append(("behind the metal in front", small))
    return Label(tuple(lines), (float(at[0]), float(at[1])), clear, colour)


def _wedge(picture: JointPicture, driving: bool) -> tuple[Floats, Floats, Floats]:
    """The bend on one side of the joint: two axes, (2, 3) each, and the arc between, (n, 3)."""
    axes = picture.axes if driving else picture.axes[::-1]
    radius = 0.88 * picture.reach
    ways = axes[0], -axes[1]
    a, b = (picture.centre + np.outer([0.0, 1.1 * radius], way) for way in ways)
    return a, b, arc(picture.centre, *ways, radius)


def _bend(
    picture: JointPicture,
    canvas: Canvas,
    region: Region,
    camera: Camera,
    ground: Ground,
    scale: float,
) -> list[Label]:
    """The angle between the shafts: one axis, the other one drawn on past the centre, an arc."""
    a, b, points = (camera.project(p, region) for p in _wedge(picture, driving=False))
    for ends in (a, b):
        line = dashes(ends[0], ends[1], 26.0 * scale, 7.0 * scale, dot=True)
        haloed(canvas, line, Pen(BLACK, 1.6 * scale), 1.4 * scale)
        ground.cover_line(ends[0], ends[1], 0.5)
    haloed(canvas, joined(points), Pen(BLACK, 3.0 * scale), 2.0 * scale)
    ground.cover(points, 3.0)
    middle = points[len(points) // 2]
    words = ((f"bend {degrees(picture.bend):.1f}°", Letters(29.0 * scale, bold=True)),)
    return [Label(words, (float(middle[0]), float(middle[1])), 4.0 * scale)]


def _names(picture: JointPicture, region: Region, camera: Camera, scale: float) -> list[Label]:
    """The name of each yoke, pointing at its metal."""
    labels = []
    for solid in picture.solids[:2]:
        at = _on(solid, picture, region, camera)
        labels.append(Label(((solid.name, Letters(26.0 * scale, bold=True)),), at))
    return labels


def _on(
    solid: PosedPart, picture: JointPicture, region: Region, camera: Camera
) -> tuple[float, float]:
    """A place on the page, px, that shows this body and not another, far from the joint."""
    mesh = solid.mesh
    middles = solid.in_chassis[mesh.faces].mean(axis=1)
    away = np.linalg.norm(middles - picture.centre, axis=1)
    normals = mesh.area_vectors @ solid.X_CP[:3, :3].T
    size = np.linalg.norm(normals, axis=1)
    # A face square to the eye lies well within the outline of its body.
    facing = normals @ camera.R_VC[2] / np.maximum(size, 1e-9)
    wanted = np.abs(away / picture.reach - 0.5) - 0.5 * facing
    ears = [i for i, name in enumerate(mesh.label_names) if name.startswith("ear")]
    wanted += ~np.isin(mesh.labels, ears)
    triangles = np.concatenate([p.in_chassis[p.mesh.faces] for p in picture.solids])
    for i in np.argsort(wanted)[:200]:
        at = camera.project(middles[i], region)
        if (
            inside(at, region, 8.0)
            and not hidden(triangles, middles[i][None], camera.toward, 0.5)[0]
        ):
            return float(at[0]), float(at[1])
    at = camera.project(middles.mean(axis=0), region)
    return float(at[0]), float(at[1])
