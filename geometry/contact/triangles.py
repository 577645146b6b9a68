"""Nearest points of triangles, and points strewn over them."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def distance_to_origin(triangles: Array) -> Array:
    """Distance of each triangle, (m, 3, 3) mm, from the origin, (m,) mm."""
    nearest = project_to_triangle(triangles, np.zeros((len(triangles), 3)))
    return np.asarray(np.linalg.norm(nearest, axis=-1))


def project_to_triangle(corners: Array, points: Array) -> Array:
    """Nearest point of triangles, (n, 3, 3), to one point each, (n, 3)."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    normal = np.cross(b - a, c - a)
    square = dot(normal, normal)
    safe = np.where(square > 0.0, square, 1.0)
    foot = points - normal * (dot(points - a, normal) / safe)[:, None]
    best = foot
    inside = square > 0.0
    least = np.full(len(points), np.inf)
    for p, q in ((a, b), (b, c), (c, a)):
        edge = q - p
        inside = inside & (dot(np.cross(edge, foot - p), normal) >= 0.0)
        length = dot(edge, edge)
        t = np.clip(dot(points - p, edge) / np.where(length > 0.0, length, 1.0), 0.0, 1.0)
        on_edge = p + t[:, None] * edge
        away = dot(points - on_edge, points - on_edge)
        best = np.where((away < least)[:, None], on_edge, best)
        least = np.minimum(least, away)
    return np.asarray(np.where(inside[:, None], foot, best))


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
