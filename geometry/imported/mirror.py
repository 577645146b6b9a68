"""The plane in which a yoke is its own mirror image, by which its shaft's direction is found."""

from __future__ import annotations

import numpy as np

from geometry.contact.triangles import dot
from geometry.mesh import Floats, Mesh
from geometry.nearest import NearSurface, spread_samples

_SAMPLES = 3_000
_FIRST = np.radians(np.arange(-30.0, 31.0, 3.0))
"""Turns tried first, rad: how far a wrench flat or a missing piece may pull the bulk aside."""

_ROUNDS = 30


def mirror_turn(mesh: Mesh, centre: Floats, x: Floats, y: Floats) -> tuple[Floats, float]:
    """Turn x about y until the plane through both mirrors the mesh onto itself.

    centre : (3,) on the plane; x : (3,) unit, square to y, right to within 30 deg
    Returns the turned x, and the rms distance of surface and mirror image. What has no mirror
    image (a hole of the scan, a grease fitting) counts little: weights are Tukey's biweight.
    """
    points = spread_samples(mesh, _SAMPLES)[0] - centre
    near = NearSurface(mesh, 4 * _SAMPLES)

    def image_of(x: Floats, some: Floats) -> tuple[Floats, Floats, Floats]:
        z = np.cross(x, y)
        image = some - 2.0 * (some @ z)[:, None] * z
        foot = near.foot(image + centre)
        at = np.einsum("ni,nij->nj", foot.weight, mesh.triangles[foot.face]) - centre
        return image, image - at, mesh.normals[foot.face]

    def misfit(angle: float) -> float:
        _, off, _ = image_of(_turned(x, y, angle), points[::5])
        return float(np.median(np.linalg.norm(off, axis=1)))

    x = _turned(x, y, float(min(_FIRST, key=misfit)))
    size = float(np.linalg.norm(np.ptp(mesh.bounds, axis=0)))
    for _ in range(_ROUNDS):
        image, off, normal = image_of(x, points)
        away = np.linalg.norm(off, axis=1)
        scatter = max(1.48 * float(np.median(away)), 1e-7 * size)
        weight = np.clip(1.0 - (away / (4.7 * scatter)) ** 2, 0.0, None) ** 2
        # Turning x by d turns the image by 2 d about y.
        rate = 2.0 * dot(np.cross(y, image), normal)
        step = -float(np.sum(weight * rate * dot(off, normal)) / np.sum(weight * rate**2))
        x = _turned(x, y, float(np.clip(step, -0.1, 0.1)))
        if abs(step) < _SETTLED:
            break
    return x, float(np.sqrt(np.sum(weight * away**2) / np.sum(weight)))


_SETTLED = 1e-7
"""rad. A step that moves a point at 100 mm by 1e-5 mm."""


def _turned(x: Floats, y: Floats, angle: float) -> Floats:
    return np.asarray(np.cos(angle) * x - np.sin(angle) * np.cross(x, y))
