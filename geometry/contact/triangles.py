"""Distances from a point to triangles."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def distance_to_origin(triangles: Array) -> Array:
    """Distance of each triangle, (m, 3, 3) mm, from the origin, (m,) mm."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normal = np.cross(b - a, c - a)
    square = dot(normal, normal)
    foot = normal * (dot(a, normal) / np.where(square > 0.0, square, 1.0))[:, None]
    sides = ((a, b), (b, c), (c, a))
    over = np.all([dot(np.cross(q - p, foot - p), normal) >= 0.0 for p, q in sides], axis=0)
    edge = np.min([_segment_to_origin(p, q) for p, q in sides], axis=0)
    return np.asarray(np.where(over & (square > 0.0), np.linalg.norm(foot, axis=-1), edge))


def _segment_to_origin(p: Array, q: Array) -> Array:
    d = q - p
    square = dot(d, d)
    t = np.clip(-dot(p, d) / np.where(square > 0.0, square, 1.0), 0.0, 1.0)
    return np.asarray(np.linalg.norm(p + t[:, None] * d, axis=-1))


def dot(a: Array, b: Array) -> Array:
    """Row-wise scalar product, (..., 3) with (..., 3) to (...)."""
    return np.asarray(np.einsum("...i,...i->...", a, b))


def strewn(triangles: Array, spacing: float) -> tuple[Array, NDArray[np.intp]]:
    """Points on triangles, (m, 3, 3), no farther apart than `spacing`, and whose each is.

    Each triangle gets a net that cuts its two sides by their own lengths, so that long thin
    triangles do not take more points than they need.
    """
    a = triangles[:, 0]
    sides = triangles[:, 1:] - a[:, None]
    count = np.maximum(np.ceil(np.linalg.norm(sides, axis=2) / spacing).astype(int), 1)
    points, owner = [], []
    for p, q in np.unique(count, axis=0):
        which = np.flatnonzero((count == (p, q)).all(axis=1))
        u, v = np.meshgrid((np.arange(p) + 0.5) / p, (np.arange(q) + 0.5) / q, indexing="ij")
        # The half of the net beyond the third side is folded back onto the triangle.
        beyond = u + v > 1.0
        u, v = np.where(beyond, 1.0 - u, u).ravel(), np.where(beyond, 1.0 - v, v).ravel()
        shares = np.stack([u, v], axis=1)
        points.append((a[which, None] + shares @ sides[which]).reshape(-1, 3))
        owner.append(np.repeat(which, len(shares)))
    return np.concatenate(points), np.concatenate(owner)
