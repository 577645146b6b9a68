"""Growing a coarse surface over a fine one, so that the metal lies inside."""

from __future__ import annotations

import numpy as np

from geometry.contact.triangles import dot
from geometry.imported.nearest import Foot, NearSurface
from geometry.mesh import Floats, Mesh

_ROUNDS = 6
"""Times the corners are moved; each leaves about a third of what stood out."""

_ENOUGH = 1e-4
"""What may be left standing out, as a share of the most that did."""


def grown_over(mesh: Mesh, points: Floats) -> tuple[Mesh, float, float]:
    """Return a mesh moved outward until it holds all `points`, (n, 3), that are near it.

    Also returns how far its farthest corner moved, and how far a point still stands out at most.
    A point above a triangle lifts its corners by as much, each along its own normal.
    """
    start, most = mesh.vertices, 0.0
    for _ in range(_ROUNDS):
        normals, foot, height = _heights(mesh, points)
        most = max(most, float(height.max(initial=0.0)))
        standing = height > _ENOUGH * most
        if not standing.any():
            break
        points, height = points[standing], height[standing]
        corner = np.asarray(mesh.faces)[foot.face[standing]]
        touched = foot.weight[standing] > _SHARE
        lift = np.zeros(len(mesh.vertices))
        np.maximum.at(lift, corner[touched], np.repeat(height, 3)[touched.ravel()])
        grown = mesh.vertices + lift[:, None] * normals
        mesh = Mesh(grown, mesh.faces, mesh.labels, mesh.label_names, mesh.chord)
    left = _heights(mesh, points)[2]
    moved = np.linalg.norm(mesh.vertices - start, axis=1)
    return mesh, float(moved.max(initial=0.0)), max(0.0, float(left.max(initial=0.0)))


def _heights(mesh: Mesh, points: Floats) -> tuple[Floats, Foot, Floats]:
    """Return the corner normals of a mesh, the foot of each point and its height above it."""
    normals = corner_normals(mesh)
    foot = NearSurface(mesh).foot(points)
    corner = np.asarray(mesh.faces)[foot.face]
    at = np.einsum("ni,nij->nj", foot.weight, mesh.vertices[corner])
    up = np.einsum("ni,nij->nj", foot.weight, normals[corner])
    up /= np.maximum(np.linalg.norm(up, axis=1, keepdims=True), 1e-12)
    return normals, foot, dot(points - at, up)


_SHARE = 0.02
"""Weight from which a corner of the triangle under a point is lifted."""


def corner_normals(mesh: Mesh) -> Floats:
    """Return the outward unit normal at each vertex, (n, 3), the faces weighted by their angle."""
    corner = mesh.triangles
    facing = mesh.area_vectors
    facing = facing / np.maximum(np.linalg.norm(facing, axis=1, keepdims=True), 1e-300)
    total = np.zeros_like(mesh.vertices)
    for k in range(3):
        one = corner[:, (k + 1) % 3] - corner[:, k]
        other = corner[:, (k + 2) % 3] - corner[:, k]
        angle = np.arctan2(np.linalg.norm(np.cross(one, other), axis=1), dot(one, other))
        for axis in range(3):
            total[:, axis] += np.bincount(
                mesh.faces[:, k], angle * facing[:, axis], len(mesh.vertices)
            )
    return np.asarray(total / np.maximum(np.linalg.norm(total, axis=1, keepdims=True), 1e-12))
