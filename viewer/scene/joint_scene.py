"""The picture of a joint in verbs for a stage."""

from math import degrees

import numpy as np

from viewer.draw.base import BLACK, Letters, Pen
from viewer.draw.camera import Floats, Region, framing
from viewer.draw.shading import outline
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene import closeup
from viewer.scene.figure import Figure, inside, points_of, triangles_of, upward
from viewer.scene.joint import JointPicture, Spot, find_spots, look, samples
from viewer.scene.marks import arc, dashes, gap_line, gap_ring, joined, short_length, touch_ring
from viewer.scene.page import STRIP, bearings, frame
from viewer.scene.parts import MATERIALS, PosedPart
from viewer.scene.side import hidden


def draw_joint(picture: JointPicture, stage: Stage, page: Region) -> None:
    """Draw the whole joint, a cut through the place that matters, and the words, on a page."""
    free = frame(stage, page, picture.headline, picture.lines, picture.caution)
    toward, spots = look(picture, find_spots(picture))
    aside = min(500.0, 0.8 * free.height) if picture.solids and spots else 0.0
    width = free.width - aside - (26.0 if aside else 0.0)
    strip = Region(free.left, free.bottom, width, STRIP)
    region = Region(free.left, strip.top, width, free.height - STRIP)
    figure = _bodies(picture, stage, region, toward, strip.bottom)
    for box in bearings(stage, "joint", figure.camera, strip):
        figure.ground.cover_box(box)
    _annotate(picture, figure, spots)
    if aside:
        box = Region(free.right - aside, free.bottom, aside, free.height)
        closeup.draw(picture, figure, box, spots[0])


def _bodies(
    picture: JointPicture, stage: Stage, region: Region, toward: Floats, foot: float
) -> Figure:
    """Draw the bodies, framed so that the joint itself fills the view."""
    points = points_of(picture.parts)
    near = np.linalg.norm(points - picture.centre, axis=1) <= 1.01 * picture.reach
    shown = np.concatenate([points[near], *_wedge(picture)])
    camera = framing(shown, toward, upward(toward), region, margin=0.04)
    figure = Figure(stage, "joint", region, camera, foot)
    figure.put(picture.parts)
    if picture.overlap is not None:
        stage.solid("overlap", picture.overlap, MATERIALS["mark"], np.eye(4), on_top=True)
    return figure


def _annotate(picture: JointPicture, figure: Figure, spots: list[Spot]) -> None:
    """Bend, marks, names."""
    _bend(picture, figure)
    boxes: list[Region] = []
    for spot in spots:
        middle, radius, seen = _ring(picture, figure, spot)
        box = Region.around(middle, radius)
        # By the half turn of a joint pieces come in pairs; pieces side by side need one ring.
        if any(box.meets(other) for other in boxes):
            continue
        boxes.append(box)
        figure.ground.cover_box(box)
        _mark(picture, figure, spot, middle, radius, seen)
        if spot is spots[0]:
            _verdict(picture, figure, spot, middle, 1.15 * radius, seen)
    for solid in picture.solids[:2]:
        place = _on(solid, picture, figure)
        figure.say(place, [(solid.name, Letters(26.0, bold=True))])
    figure.place()


def _ring(picture: JointPicture, figure: Figure, spot: Spot) -> tuple[Floats, float, bool]:
    """Middle (2,) and radius, px, of the ring around a spot, and whether the spot can be seen."""
    places = samples(picture, spot)
    middle = figure.at(spot.at)
    extent = float(np.linalg.norm(figure.at(places) - middle, axis=1).max())
    radius = float(np.clip(1.25 * extent + 14.0, 34.0, 200.0))
    shown = ~hidden(triangles_of(picture.parts), places, figure.camera.toward, spot.skin)
    return middle, radius, bool(shown.mean() > 0.1)


def _mark(
    picture: JointPicture, figure: Figure, spot: Spot, at: Floats, radius: float, seen: bool
) -> None:
    """Draw the ring of a spot, and what is in it."""
    if spot.bite is not None:
        rim = outline(spot.bite.mesh, figure.camera.R_VC[2])
        figure.stage.stroke(figure.at(rim), Pen(BLACK, 2.5))
    if picture.overlaps:
        touch_ring(figure.stage, at, radius, seen)
        return
    gap_ring(figure.stage, at, radius, seen)
    if picture.points is not None:
        gap_line(figure.stage, figure.at(picture.points))


def _verdict(
    picture: JointPicture, figure: Figure, spot: Spot, at: Floats, clear: float, seen: bool
) -> None:
    """Words beside the mark: touch or gap, and what is there."""
    (a, b), (on_a, on_b) = picture.bodies, picture.surfaces
    colour, small = RED if picture.overlaps else BLUE, Letters(23.0)
    first = "METAL MEETS METAL" if picture.overlaps else f"GAP {short_length(spot.size)}"
    lines = [(first, Letters(31.0, bold=True, colour=colour))]
    lines += [(f"{a}: {on_a}", small), (f"{b}: {on_b}", small)]
    if not seen:
        lines.append(("behind the metal in front", small))
    figure.say(at, lines, clear, colour, first=True)


def _wedge(picture: JointPicture) -> tuple[Floats, Floats, Floats]:
    """The bend on the driven side: two axes, (2, 3) each, and the arc between, (n, 3)."""
    radius = 0.88 * picture.reach
    ways = picture.axes[1], -picture.axes[0]
    a, b = (picture.centre + np.outer([0.0, 1.1 * radius], way) for way in ways)
    return a, b, arc(picture.centre, *ways, radius)


def _bend(picture: JointPicture, figure: Figure) -> None:
    """The angle between the shafts: one axis, the other one drawn on past the centre, an arc."""
    a, b, points = (figure.at(p) for p in _wedge(picture))
    for ends in (a, b):
        figure.draw(dashes(ends[0], ends[1], 26.0, 7.0, dot=True), 1.6, 1.4)
        figure.ground.cover_line(ends[0], ends[1], 0.5)
    figure.draw(joined(points), 3.0, 2.0)
    figure.ground.cover(points, 3.0)
    words = f"bend {degrees(picture.bend):.1f}°", Letters(29.0, bold=True)
    figure.say(points[len(points) // 2], [words], 4.0)


def _on(solid: PosedPart, picture: JointPicture, figure: Figure) -> Floats:
    """A place on the page, px, that shows this body and not another, far from the joint."""
    mesh, camera = solid.mesh, figure.camera
    middles = solid.in_chassis[mesh.faces].mean(axis=1)
    away = np.linalg.norm(middles - picture.centre, axis=1)
    normals = mesh.area_vectors @ solid.X_CP[:3, :3].T
    size = np.linalg.norm(normals, axis=1)
    # A face square to the eye lies well within the outline of its body.
    facing = normals @ camera.R_VC[2] / np.maximum(size, 1e-9)
    wanted = np.abs(away / picture.reach - 0.5) - 0.5 * facing
    ears = [i for i, name in enumerate(mesh.label_names) if name.startswith("ear")]
    wanted += ~np.isin(mesh.labels, ears)
    triangles = triangles_of(picture.solids)
    for i in np.argsort(wanted)[:200]:
        at = figure.at(middles[i])
        if (
            inside(at, figure.region, 8.0)
            and not hidden(triangles, middles[i][None], camera.toward, 0.5)[0]
        ):
            return at
    return figure.at(middles.mean(axis=0))
