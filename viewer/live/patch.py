"""The place where two bodies touch or come nearest: a patch of each skin."""

from collections.abc import Iterable, Sequence

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart
from viewer.scene.section import hatched

REACH = 11.0
"""Radius of a patch, mm: about that of the marks an ear leaves where it hits."""

FINE = 2.0
"""Triangles of a patch have no side longer than this, mm, so that its rim looks round."""

PROUD = 0.12
"""How far a patch stands out of its skin, mm, so that it is seen on it."""

PITCH = 2.4
"""From line to line of the hatching of a patch, mm."""


def patches(
    bodies: Sequence[PosedPart], surfaces: Sequence[str], points: Iterable[Floats]
) -> tuple[Mesh, ...]:
    """The skin of each of two bodies around its point (3,), of the surface that meets.

    None of a body whose surface does not come near the point.
    """
    found = []
    for part, surface, point in zip(bodies, surfaces, points, strict=True):
        names = part.mesh.label_names
        own = np.ones(len(part.mesh.faces), dtype=bool)
        if surface in names:
            own = part.mesh.labels == names.index(surface)
        corners = part.in_chassis[part.mesh.faces[own]]
        patch = _around(corners, point)
        if patch is not None:
            found.append(patch)
    return tuple(found)


def _around(corners: Floats, point: Floats) -> Mesh | None:
    """Triangles (n, 3, 3) cut small, those near a point, a little proud of where they were."""
    for _ in range(8):
        corners = corners[_near(corners, point)]
        sides = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=-1)
        large = sides.max(axis=1) > FINE if len(corners) else np.zeros(0, dtype=bool)
        if not large.any():
            break
        corners = np.concatenate([corners[~large], _halved(corners[large], sides[large])])
    if not len(corners):
        return None
    inside = np.linalg.norm(corners.mean(axis=1) - point, axis=-1) < REACH
    corners = corners[inside]
    if not len(corners):
        return None
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=-1, keepdims=True)
    proud = corners + PROUD * (normal / np.maximum(size, 1e-12))[:, None]
    faces = np.arange(3 * len(proud), dtype=np.int32).reshape(-1, 3)
    return Mesh.uniform(proud.reshape(-1, 3), faces, "touch")


def _near(corners: Floats, point: Floats) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Which triangles may come within reach of a point, by the spheres around them."""
    middle = corners.mean(axis=1)
    radius = np.linalg.norm(corners - middle[:, None], axis=-1).max(axis=1)
    return np.asarray(np.linalg.norm(middle - point, axis=-1) < REACH + radius)


def _halved(corners: Floats, sides: Floats) -> Floats:
    """Each triangle cut in two across its longest side."""
    first = sides.argmax(axis=1)
    order = (first[:, None] + np.arange(3)) % 3
    a, b, c = np.moveaxis(np.take_along_axis(corners, order[..., None], axis=1), 1, 0)
    middle = 0.5 * (a + b)
    return np.concatenate([np.stack([a, middle, c], 1), np.stack([middle, b, c], 1)])


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
