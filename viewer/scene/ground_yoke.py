"""A yoke after grinding: what is shown of it, where it is ground deepest and where it is thinnest.

In its yoke frame, mm. Places that are alike by symmetry are all there.
"""

from dataclasses import dataclass
from functools import cached_property
from math import isfinite

import numpy as np
from trimesh.triangles import closest_point

from geometry.mesh import Mesh
from geometry.relief import Cut
from geometry.yoke import Yoke
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart, body_parts
from viewer.words.captions import CHIPS

STEEL = "light steel"

_ALIKE = 0.05
"""mm; a mirror image of a place that lies as near to a vertex is such a place itself."""

_AWAY = -0.3
"""Cosine between two normals under which surfaces face away from each other."""


@dataclass(frozen=True, eq=False)
class GroundYoke:
    """A yoke that is ground.

    name : what it is called. cut : what is ground off it. parts : what is drawn of it, ground, its
    metal first.
    """

    name: str
    cut: Cut
    parts: tuple[PosedPart, ...]

    @classmethod
    def of(cls, name: str, yoke: Yoke, cut: Cut) -> "GroundYoke":
        """Make a ground yoke ready to be shown."""
        old = yoke.parts.get("body")
        kept = (p for p in body_parts(name, yoke, np.eye(4), STEEL) if p.mesh is not old)
        return cls(name, cut, (PosedPart(name, STEEL, cut.body), *kept))

    @property
    def chips(self) -> PosedPart:
        """What comes off."""
        return PosedPart(CHIPS, "chips", self.cut.chips)

    @cached_property
    def deepest(self) -> Floats:
        """Where most comes off, (n, 3)."""
        return _alike(self.cut.body, self.cut.deepest)

    @cached_property
    def walls(self) -> Floats:
        """Across the wall nearest to its limit, on the ground surface and behind, (n, 2, 3)."""
        cut = self.cut
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


def _alike(body: Mesh, place: Floats) -> Floats:
    """The place and its mirror images that are such places too, (n, 3)."""
    signs = np.array([[1.0, y, z] for y in (1.0, -1.0) for z in (1.0, -1.0)])
    near = [float(np.linalg.norm(body.vertices - place * s, axis=1).min()) for s in signs]
    kept = [place * s for s, r in zip(signs, near, strict=True) if abs(r - near[0]) < _ALIKE]
    return np.unique(np.round(kept, 6), axis=0)
