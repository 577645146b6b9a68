"""How far points are from a surface: many points, an upper bound that is nearly always exact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import KDTree

from geometry.contact.triangles import distance_to_origin, dot
from geometry.edges import Edges
from geometry.mesh import Floats, Indices, Mesh

_CANDIDATES = 3
"""Nearest samples whose triangles are tried for each point."""

_WALK = 4
"""Steps from there to a nearer triangle next door."""

_CHUNK = 100_000


@dataclass(frozen=True, eq=False)
class Foot:
    """Where points come nearest to a surface.

    distance : (n,) mm
    face : (n,) triangle that carries the nearest point
    weight : (n, 3) its barycentric coordinates there
    """

    distance: Floats
    face: Indices
    weight: Floats


class NearSurface:
    """A surface made ready to be asked how far points are from it.

    The triangles tried for a point are those that carry the samples nearest to it and those next
    door, so a distance is never too small; it is too large only where a triangle is nearer that
    no sample leads to.
    """

    def __init__(self, mesh: Mesh, samples: int = 60_000) -> None:
        self._triangles = mesh.triangles
        self._normals = mesh.normals
        self._offset = dot(self._normals, mesh.triangles.mean(axis=1))
        inner, face = spread_samples(mesh, samples, each=True)
        large = np.flatnonzero(np.bincount(face, minlength=len(mesh.faces)) > 1)
        inset = np.full((3, 3), 0.1) + 0.7 * np.eye(3)
        corners = np.einsum("ij,mjk->mik", inset, mesh.triangles[large]).reshape(-1, 3)
        self._face = np.concatenate([np.repeat(large, 3), face])
        self._beside = _neighbours(mesh)
        self._tree = KDTree(np.concatenate([corners, inner]))

    def foot(self, points: Floats) -> Foot:
        """Return where each point, (n, 3), comes nearest to the surface."""
        found = [self._foot(points[i : i + _CHUNK]) for i in range(0, len(points), _CHUNK)]
        if not found:
            return Foot(np.zeros(0), np.zeros(0, dtype=np.int64), np.zeros((0, 3)))
        return Foot(
            *(np.concatenate([getattr(f, name) for f in found]) for name in Foot.__match_args__)
        )

    def farthest(self, points: Floats) -> float:
        """Return the largest distance of points, (n, 3): no foot that was missed makes it larger.

        From the farthest on, each is held against every triangle that could be nearer, until one
        is as far as the next is said to be at most.
        """
        said, most = self.foot(points).distance, 0.0
        center = self._triangles.mean(axis=1)
        reach = np.linalg.norm(self._triangles - center[:, None], axis=2).max(axis=1)
        for row in np.argsort(-said):
            if said[row] <= most:
                break
            off = points[row] - center
            near = np.linalg.norm(off, axis=1) - reach <= said[row]
            most = max(most, float(distance_to_origin(self._triangles[near] - points[row]).min()))
        return most

    def _foot(self, points: Floats) -> Foot:
        _, sample = self._tree.query(points, k=_CANDIDATES)
        face = self._face[np.minimum(sample, len(self._face) - 1)]
        best = Foot(np.full(len(points), np.inf), face[:, 0].copy(), np.zeros((len(points), 3)))
        everyone = np.arange(len(points))
        self._try(best, points, everyone, face[:, 0])
        for k in range(1, face.shape[1]):
            new = (face[:, k, None] != face[:, :k]).all(axis=1)
            self._try(best, points, everyone[new], face[new, k])
        walking = everyone
        for _ in range(_WALK):
            before = best.face[walking]
            for k in range(3):
                self._try(best, points, walking, self._beside[before, k])
            walking = walking[best.face[walking] != before]
        return best

    def _try(self, best: Foot, points: Floats, rows: Indices, face: Indices) -> None:
        """Take one triangle for each of some points where it is nearer than the best so far."""
        height = np.abs(dot(points[rows], self._normals[face]) - self._offset[face])
        worth = height < best.distance[rows]
        rows, face = rows[worth], face[worth]
        triangle = self._triangles[face]
        weight = closest_weights(triangle, points[rows])
        gap = np.linalg.norm(np.einsum("ni,nij->nj", weight, triangle) - points[rows], axis=1)
        nearer = gap < best.distance[rows]
        at = rows[nearer]
        best.distance[at], best.face[at] = gap[nearer], face[nearer]
        best.weight[at] = weight[nearer]


def _neighbours(mesh: Mesh) -> Indices:
    """Return the triangle across each side, (m, 3); itself where there is none."""
    edges = Edges(np.asarray(mesh.faces, dtype=np.int64))
    beside = np.repeat(np.arange(len(mesh.faces)), 3)
    one, other = edges.shared_by(2).T
    beside[one], beside[other] = other // 3, one // 3
    return beside.reshape(-1, 3)


def closest_weights(triangles: Floats, points: Floats) -> Floats:
    """Return barycentric coordinates, (n, 3), of the point of each triangle nearest to its point.

    triangles : (n, 3, 3); points : (n, 3). The nearest of the foot in the plane, if it lies in
    the triangle, and the feet on the three sides.
    """
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    u, v, w = b - a, c - a, points - a
    uu, uv, vv, wu, wv = dot(u, u), dot(u, v), dot(v, v), dot(w, u), dot(w, v)
    det = uu * vv - uv * uv
    flat = det <= 1e-24 * uu * vv
    safe = np.where(flat, 1.0, det)
    s, t = (vv * wu - uv * wv) / safe, (uu * wv - uv * wu) / safe
    weight = np.stack([1.0 - s - t, s, t], axis=1)
    outside = flat | (weight < 0.0).any(axis=1)
    rows = np.flatnonzero(outside)
    if len(rows):
        weight[rows] = _on_sides(triangles[rows], points[rows])
    return weight


def _on_sides(triangles: Floats, points: Floats) -> Floats:
    best = np.zeros((len(points), 3))
    least = np.full(len(points), np.inf)
    for k in range(3):
        start, along = triangles[:, k], triangles[:, (k + 1) % 3] - triangles[:, k]
        square = dot(along, along)
        share = dot(points - start, along) / np.where(square > 0.0, square, 1.0)
        share = np.clip(share, 0.0, 1.0)
        off = start + share[:, None] * along - points
        gap = dot(off, off)
        nearer = gap < least
        least[nearer] = gap[nearer]
        weight = np.zeros((len(points), 3))
        weight[:, k], weight[:, (k + 1) % 3] = 1.0 - share, share
        best[nearer] = weight[nearer]
    return best


def spread_samples(mesh: Mesh, count: int, each: bool = False) -> tuple[Floats, Indices]:
    """Return `count` points spread evenly over a mesh, always the same ones.

    each : at least one in every triangle besides
    Returns the points (n, 3) and the triangle of each (n,). Within a triangle they follow the R2
    sequence (from memory), folded over the diagonal.
    """
    share = np.cumsum(mesh.areas)
    share *= count / max(float(share[-1]), 1e-300)
    times = np.diff(np.floor(share + 0.5), prepend=0.0).astype(np.int64)
    times = np.maximum(times, int(each))
    face = np.repeat(np.arange(len(times)), times)
    number = np.arange(len(face)) - np.repeat(np.cumsum(times) - times, times)
    s = (0.5 + number * 0.7548776662466927) % 1.0
    t = (0.5 + number * 0.5698402909980532) % 1.0
    over = s + t > 1.0
    s, t = np.where(over, 1.0 - s, s), np.where(over, 1.0 - t, t)
    single = times[face] == 1
    s, t = np.where(single, 1.0 / 3.0, s), np.where(single, 1.0 / 3.0, t)
    weight = np.stack([1.0 - s - t, s, t], axis=1)
    return np.einsum("ni,nij->nj", weight, mesh.triangles[face]), face
