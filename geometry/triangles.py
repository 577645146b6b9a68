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
