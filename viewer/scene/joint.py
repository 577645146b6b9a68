"""The picture of one joint in one pose: where its metal touches, or how much room is left."""

from dataclasses import dataclass

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.base import BLACK, Letters, Pen
from viewer.draw.camera import Floats, Region, framing
from viewer.draw.shading import outline
from viewer.draw.stage import Paper
from viewer.draw.verdict_mark import BLUE, RED
from viewer.scene.closeup import CloseUp
from viewer.scene.figure import Figure, points_of, triangles_of, upward
from viewer.scene.marks import gap_line, gap_ring, touch_ring, wedge
from viewer.scene.page import STRIP, Picture, bearings
from viewer.scene.parts import MATERIALS, PosedPart, SceneError, set_array
from viewer.scene.side import hidden
from viewer.scene.spot import Spot, look, spots_of
from viewer.words.captions import bend_mark, meeting_caption, surface_pair


@dataclass(frozen=True, eq=False)
class JointPicture(Picture):
    """One joint in one pose, in the chassis frame C, mm and rad.

    Attributes
    ----------
    parts : what is drawn.
    solids : closed bodies that can touch, one each, called and coloured as in the key; the first
        two are the driving and the driven yoke.
    centre : (3,) the joint's centre.
    axes : (2, 3) directions of the driving and the driven shaft, each away from the centre.
    bend : angle between the shafts, 0 when straight.
    points : (2, 3) the two nearest points, or where bodies touch a pair of points in the touch.
    gap_mm : room between the bodies, 0 where they touch.
    overlap : the metal that would have to give; None where there is none, or it is not known.
    bodies, surfaces : names of the two bodies at `points`, and of the surface on each.

    Raises SceneError where shapes do not fit.
    """

    parts: tuple[PosedPart, ...]
    solids: tuple[PosedPart, ...]
    centre: Floats
    axes: Floats
    bend: float
    points: Floats
    gap_mm: float
    overlap: Mesh | None
    bodies: tuple[str, str]
    surfaces: tuple[str, str]

    def __post_init__(self) -> None:
        if not self.parts:
            raise SceneError("a picture of a joint needs parts; got none")
        for name, shape in (("centre", (3,)), ("axes", (2, 3)), ("points", (2, 3))):
            set_array(self, name, shape)

    @property
    def touches(self) -> bool:
        """Whether metal meets metal."""
        return self.gap_mm == 0.0

    @property
    def reach(self) -> float:
        """Radius around the centre that shows the joint and not a whole shaft, mm."""
        sizes: dict[str, float] = {}
        for part in self.parts:
            size = float(np.linalg.norm(part.in_chassis - self.centre, axis=1).max())
            sizes[part.name] = max(size, sizes.get(part.name, 0.0))
        second = sorted(sizes.values())[-2:][0]
        return min(max(sizes.values()), 1.5 * second)

    @property
    def _radius(self) -> float:
        """Of the arc of the bend, mm."""
        return 0.88 * self.reach

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw the whole joint, a cut through the place that matters, and the words."""
        free = self.frame(paper, page)
        spots = spots_of(self.points, self.gap_mm, self.overlap)
        toward, spots = look(spots, self.solids, self.axes)
        aside = min(500.0, 0.8 * free.height)
        width = free.width - aside - 26.0
        strip = Region(free.left, free.bottom, width, STRIP)
        region = Region(free.left, strip.top, width, free.height - STRIP)
        figure = self._bodies(paper, region, toward, strip.bottom)
        for box in bearings(paper, "joint", figure.camera, strip):
            figure.ground.cover_box(box)
        self._annotate(figure, spots)
        ends = None if self.touches else self.points
        box = Region(free.right - aside, free.bottom, aside, free.height)
        CloseUp(self.solids, spots[0], ends, self.overlap, self.touches).draw(figure, box)

    def _bodies(self, paper: Paper, region: Region, toward: Floats, foot: float) -> Figure:
        """Draw the bodies, framed so that the joint itself fills the view."""
        points = points_of(self.parts)
        near = np.linalg.norm(points - self.centre, axis=1) <= 1.01 * self.reach
        shown = np.concatenate([points[near], *wedge(self.centre, self.axes, self._radius)])
        camera = framing(shown, toward, upward(toward), region, margin=0.04)
        figure = Figure(paper, "joint", region, camera, foot)
        figure.put(self.parts)
        if self.overlap is not None:
            figure.pane.solid("overlap", self.overlap, MATERIALS["mark"], np.eye(4), on_top=True)
        return figure

    def _annotate(self, figure: Figure, spots: list[Spot]) -> None:
        """Bend, marks, names."""
        at = figure.bend(self.centre, self.axes, self._radius)
        figure.say(at, [(bend_mark(self.bend), Letters(29.0, bold=True))], 4.0)
        boxes: list[Region] = []
        for spot in spots:
            middle = figure.at(spot.at)
            extent = float(np.linalg.norm(figure.at(spot.places) - middle, axis=1).max())
            radius = float(np.clip(1.25 * extent + 14.0, 34.0, 200.0))
            box = Region.around(middle, radius)
            # By the half turn of a joint pieces come in pairs; pieces side by side need one ring.
            if any(box.meets(other) for other in boxes):
                continue
            boxes.append(box)
            figure.ground.cover_box(box)
            seen = bool(figure.sees(self.parts, spot.places, spot.skin).mean() > 0.1)
            self._mark(figure, spot, radius, seen)
            if spot is spots[0]:
                self._verdict(figure, spot, 1.15 * radius, seen)
        for solid in self.solids[:2]:
            figure.say(self._on(solid, figure), [(solid.name, Letters(26.0, bold=True))])
        figure.place()

    def _mark(self, figure: Figure, spot: Spot, radius: float, seen: bool) -> None:
        """Draw the ring of a spot, and what is in it."""
        at = figure.at(spot.at)
        if spot.bite is not None:
            rim = outline(spot.bite, figure.camera.R_VC[2])
            figure.paper.stroke(figure.at(rim), Pen(BLACK, 2.5))
        if self.touches:
            touch_ring(figure.paper, at, radius, seen)
        else:
            gap_ring(figure.paper, at, radius, seen)
            gap_line(figure.paper, figure.at(self.points))

    def _verdict(self, figure: Figure, spot: Spot, clear: float, seen: bool) -> None:
        """Words beside the mark: touch or gap, and what is there."""
        colour = RED if self.touches else BLUE
        room = 0.0 if self.touches else spot.size
        lines = meeting_caption(room, surface_pair(self.bodies, self.surfaces), seen)
        figure.tell(figure.at(spot.at), lines, colour, 31.0, clear, first=True)

    def _on(self, solid: PosedPart, figure: Figure) -> Floats:
        """A place on the page, px, that shows this body and not another, far from the joint."""
        mesh, camera = solid.mesh, figure.camera
        middles = solid.in_chassis[mesh.faces].mean(axis=1)
        away = np.linalg.norm(middles - self.centre, axis=1)
        normals = mesh.area_vectors @ solid.X_CP[:3, :3].T
        size = np.linalg.norm(normals, axis=1)
        # A face square to the eye lies well within the outline of its body.
        facing = normals @ camera.R_VC[2] / np.maximum(size, 1e-9)
        wanted = np.abs(away / self.reach - 0.5) - 0.5 * facing
        ears = [i for i, name in enumerate(mesh.label_names) if name.startswith("ear")]
        wanted += ~np.isin(mesh.labels, ears)
        triangles = triangles_of(self.solids)
        for i in np.argsort(wanted)[:200]:
            at = figure.at(middles[i])
            if (
                figure.region.grown(-8.0).holds(Region.around(at, 0.0))
                and not hidden(triangles, middles[i][None], camera.toward, 0.5)[0]
            ):
                return at
        return figure.at(middles.mean(axis=0))
