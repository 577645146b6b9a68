"""The place where two bodies touch or come nearest: a patch of each skin."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

import numpy as np

from geometry.errors import MeshError
from geometry.mesh import Mesh
from geometry.solids import Solid
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart
from viewer.scene.section import hatched
from viewer.scene.stand_ins import ball

REACH = 11.0
"""Radius of a patch, mm: about that of the marks an ear leaves where it hits."""

PROUD = 0.12
"""How far a patch stands out of its skin, mm, so that it is seen on it."""

PITCH = 2.4
"""From line to line of the hatching of a patch, mm."""


def patches(
    bodies: Sequence[PosedPart], surfaces: Sequence[str], points: Iterable[Floats]
) -> Iterator[Mesh]:
    """The skin of each of two bodies around its point (3,), of the surface that meets.

    None of a body whose surface does not come near the point.
    """
    around = ball(REACH, 24).mesh()
    for part, surface, point in zip(bodies, surfaces, points, strict=True):
        R, p = part.X_CP[:3, :3], part.X_CP[:3, 3]
        try:
            ball_here = Solid.of(around.vertices + (point - p) @ R, around.faces, _BALL)
            near = _solid(part.mesh).common(ball_here).mesh()
            own = near.on(surface) if surface in part.mesh.label_names else ~near.on(_BALL)
        except MeshError:  # nothing of it is near
            continue
        areas = near.area_vectors[own]
        out = areas / np.maximum(np.linalg.norm(areas, axis=1, keepdims=True), 1e-12)
        corners = (near.triangles[own] + PROUD * out[:, None]).reshape(-1, 3) @ R.T + p
        faces = np.arange(len(corners), dtype=np.int32).reshape(-1, 3)
        yield Mesh.uniform(corners, faces, "touch")


_BALL = "around"


@lru_cache(maxsize=8)
def _solid(mesh: Mesh) -> Solid:
    """The solid of a body, made once: a cut out of it then takes a few ms."""
    return Solid.from_mesh(mesh)


def hatching(patch: Mesh) -> Floats:
    """Lines over a patch, (n, 2, 3) mm, slanted and evenly apart."""
    areas = patch.area_vectors
    normal = areas.sum(axis=0)
    normal = normal / max(float(np.linalg.norm(normal)), 1e-12)
    aside = np.cross(normal, [0.0, 0.0, 1.0] if abs(normal[2]) < 0.9 else [1.0, 0.0, 0.0])
    aside = aside / np.linalg.norm(aside)
    slant = (aside + np.cross(normal, aside)) / np.sqrt(2.0)
    along = np.cross(normal, slant)
    R = np.stack([normal, along, slant])
    return hatched(patch, R, PITCH)
