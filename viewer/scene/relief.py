"""The picture of a relief, as data: each ground yoke, what comes off it, the thinnest wall left.

Every yoke is shown in its own yoke frame, mm.
"""

from dataclasses import dataclass
from math import isfinite

import numpy as np
from trimesh.triangles import closest_point

from geometry.mesh import Mesh
from geometry.relief import Cut
from geometry.yoke import Yoke
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart, SceneError, body_parts

CHIPS = "metal to grind away"

STEEL = "light steel"

_ALIKE = 0.05
"""mm; a mirror image of a place that lies as near to a vertex is such a place itself."""

_AWAY = -0.3
"""Cosine between two normals under which surfaces face away from each other."""


@dataclass(frozen=True, eq=False)
class GroundYoke:
    """A yoke after grinding.

    Attributes
    ----------
    name : what it is called. parts : what is drawn of it, ground. chips : what comes off.
    body : its ground metal, closed.
    surfaces : names of what is ground. depth : mm, deepest. deepest : (n, 3) mm, where.
    wall, limit : mm, the wall nearest to its limit, and what has to stay there; inf where no
        wall is near. walls : (n, 2, 3) mm, across it: on the ground surface and behind.
    Places that are alike by symmetry are all there.
    """

    name: str
    parts: tuple[PosedPart, ...]
    chips: PosedPart
    body: PosedPart
    surfaces: tuple[str, ...]
    depth: float
    deepest: Floats
    wall: float
    limit: float
    walls: Floats


@dataclass(frozen=True, eq=False)
class ReliefPicture:
    """What has to be ground for more bend.

    least_wall : mm, the thinnest wall allowed where the yoke was thick enough to begin with.
    headline, lines, caution : words, written as they come.

    Raises SceneError where nothing is ground.
    """

    yokes: tuple[GroundYoke, ...]
    least_wall: float
    headline: str
    lines: tuple[str, ...] = ()
    caution: str = ""

    def __post_init__(self) -> None:
        if not self.yokes:
            raise SceneError("nothing is ground, so there is no picture; expected a yoke or two")


def ground_yoke(name: str, yoke: Yoke, cut: Cut) -> GroundYoke:
    """Make a ground yoke ready to be shown."""
    still = np.eye(4)
    old = yoke.parts.get("body")
    shown = tuple(p for p in body_parts(name, yoke, still, STEEL) if p.mesh is not old)
    body = PosedPart(name, STEEL, cut.body, still)
    return GroundYoke(
        name,
        (body, *shown),
        PosedPart(CHIPS, "chips", cut.chips, still),
        body,
        cut.surfaces,
        cut.depth,
        _alike(cut.body, cut.deepest),
        cut.wall,
        cut.limit,
        _walls(cut),
    )


def _alike(body: Mesh, place: Floats) -> Floats:
    """The place and its mirror images that are such places too, (n, 3)."""
    signs = np.array([[1.0, y, z] for y in (1.0, -1.0) for z in (1.0, -1.0)])
    near = [_room(body, place * sign) for sign in signs]
    kept = [place * sign for sign, r in zip(signs, near, strict=True) if abs(r - near[0]) < _ALIKE]
    return np.unique(np.round(kept, 6), axis=0)


def _room(body: Mesh, place: Floats) -> float:
    return float(np.linalg.norm(body.vertices - place, axis=1).min())


def _walls(cut: Cut) -> Floats:
    """Across the thinnest wall at each place that is alike, (n, 2, 3); none where there is none."""
    if not isfinite(cut.wall):
        return np.empty((0, 2, 3))
    corners, areas = cut.body.triangles, cut.body.area_vectors
    normal = areas / np.maximum(np.linalg.norm(areas, axis=1, keepdims=True), 1e-12)
    found = []
    for place in _alike(cut.body, cut.thinnest):
        same = np.repeat(place[None], len(corners), axis=0)
        nearest: Floats = closest_point(corners, same)  # type: ignore[no-untyped-call]
        apart = np.linalg.norm(nearest - place, axis=1)
        ground = normal[int(np.argmin(apart))]
        behind = np.flatnonzero(normal @ ground < _AWAY)
        if len(behind):
            other = behind[int(np.argmin(np.abs(apart[behind] - cut.wall)))]
            found.append([place, nearest[other]])
    return np.array(found).reshape(-1, 2, 3)
