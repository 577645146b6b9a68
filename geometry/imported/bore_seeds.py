"""Where a mesh may have round holes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import KDTree

from geometry.contact.triangles import dot
from geometry.imported.cylinder import Cylinder
from geometry.mesh import Booleans, Floats, Indices, Mesh
from geometry.nearest import spread_samples

SMALLEST, LARGEST = 0.03, 0.25
"""Radius of a bore as a share of the diagonal of the part: a long sliding yoke has the smallest
bores for its size, a bare strap yoke the largest."""

_SAMPLES = 8_000
_SCORED = 2_000
"""Samples that first judge a seed; the good ones are judged by all."""

_PAIRS = 60_000
_SEEDS = 24
"""Distinct cylinders handed on, the best supported first."""

_SPREAD = 1.2
"""How far along its axis a seed looks for support, in radii: one ear, since two normals tell an
axis no better than to a few degrees."""


@dataclass(frozen=True, eq=False)
class Samples:
    """Points spread evenly over a surface.

    points : (n, 3)
    normals : (n, 3) outward unit normals, averaged over what is near
    size : diagonal of the box around the part
    """

    points: Floats
    normals: Floats
    size: float


def samples_of(mesh: Mesh) -> Samples:
    """Return samples of a mesh with normals that a scanner's noise does not upset."""
    low, high = mesh.bounds
    size = float(np.linalg.norm(high - low))
    cloud, face = spread_samples(mesh, 5 * _SAMPLES, each=True)
    area = mesh.area_vectors / np.bincount(face, minlength=len(mesh.faces))[:, None]
    facing = area / np.maximum(np.linalg.norm(area, axis=1, keepdims=True), 1e-300)
    points, own = spread_samples(mesh, _SAMPLES)
    away, near = KDTree(cloud).query(points, k=24, distance_upper_bound=0.015 * size)
    found = np.isfinite(away)
    near = face[np.where(found, near, 0)]
    # What faces elsewhere is across an edge, and would round it off.
    alike = found & (np.einsum("nkj,nj->nk", facing[near], facing[own]) > 0.5)
    total = np.einsum("nk,nkj->nj", alike, area[near]) + 1e-9 * facing[own]
    normals = total / np.linalg.norm(total, axis=1, keepdims=True)
    return Samples(points, normals, size)


def on_wall(samples: Samples, hole: Cylinder, within: float) -> Booleans:
    """Which samples lie near the wall of a round hole and face its axis, (n,)."""
    radial = hole.radial(samples.points)
    away = np.linalg.norm(radial, axis=1)
    facing = -dot(radial, samples.normals)
    square = np.abs(samples.normals @ hole.axis) < _SQUARE
    return np.asarray((np.abs(away - hole.radius) < within) & (facing > _FACING * away) & square)


_FACING = np.cos(np.radians(25.0))
_SQUARE = np.sin(np.radians(20.0))


def seeds_of(samples: Samples) -> list[Cylinder]:
    """Return round holes that the samples speak for, the best supported first."""
    axis, point, radius = _from_pairs(samples)
    if not len(axis):
        return []
    some = np.linspace(0, len(samples.points) - 1, _SCORED).astype(np.int64)
    support = _supported(samples, some, axis, point, radius)
    votes = support.sum(axis=1).astype(np.float64)
    seeds: list[Cylinder] = []
    while len(seeds) < _SEEDS and votes.max() >= _FEWEST:
        best = int(np.argmax(votes))
        seeds.append(Cylinder(axis[best], point[best], float(radius[best])))
        # Samples that have found their hole vote no more.
        support &= ~support[best]
        votes = support.sum(axis=1).astype(np.float64)
    return seeds


_FEWEST = 8
"""Votes below which a seed is chance: 8 of 2000 samples are 0.4 % of the surface."""


def _from_pairs(samples: Samples) -> tuple[Floats, Floats, Floats]:
    """Return axis, point on it and radius of the hole through each good pair of samples."""
    one, other = _pairs(samples)
    p, n = samples.points[one], samples.normals[one]
    q, m = samples.points[other], samples.normals[other]
    axis = np.cross(n, m)
    sine = np.linalg.norm(axis, axis=1)
    sharp = sine > 0.35
    p, n, q, m, axis = p[sharp], n[sharp], q[sharp], m[sharp], axis[sharp] / sine[sharp, None]
    # Seen along the axis, p + s n and q + t m are one point: the middle of the hole.
    across = q - p
    s = dot(np.cross(across, m), axis) / dot(np.cross(n, m), axis)
    t = dot(np.cross(across, n), axis) / dot(np.cross(n, m), axis)
    radius = 0.5 * (s + t)
    round_ = np.abs(s - t) < 0.2 * radius
    fits = (radius > SMALLEST * samples.size) & (radius < LARGEST * samples.size)
    shift = np.abs(dot(across, axis)) < radius
    good = round_ & fits & shift
    point = 0.5 * (p + s[:, None] * n + q + t[:, None] * m)
    return axis[good], point[good], radius[good]


def _pairs(samples: Samples) -> tuple[Indices, Indices]:
    """Return pairs of samples about as near as two on the wall of one hole, always the same."""
    random = np.random.default_rng(20_200)
    count = len(samples.points)
    tree = KDTree(samples.points)
    one = random.integers(0, count, _PAIRS)
    # A point a random way off leads to a partner at a random distance.
    way = random.normal(size=(_PAIRS, 3))
    way *= (random.uniform(0.02, 0.3, _PAIRS) * samples.size / np.linalg.norm(way, axis=1))[:, None]
    _, other = tree.query(samples.points[one] + way)
    apart = one != other
    return one[apart], np.asarray(other, dtype=np.int64)[apart]


def _supported(
    samples: Samples, some: Indices, axis: Floats, point: Floats, radius: Floats
) -> Booleans:
    """Return which of `some` samples each seed explains, (seeds, samples)."""
    found = []
    at, facing = samples.points[some], samples.normals[some]
    for start in range(0, len(axis), 500):
        a, c, r = (x[start : start + 500] for x in (axis, point, radius))
        along = at @ a.T - dot(c, a)
        square = np.einsum("sj,sj->s", at, at)[:, None] - 2.0 * at @ c.T + dot(c, c)
        away = np.sqrt(np.maximum(square - along**2, 0.0))
        normal_along = facing @ a.T
        radial = dot(at, facing)[:, None] - facing @ c.T - along * normal_along
        fits = np.abs(away - r) < 0.06 * r
        fits &= (-radial > _FACING * away) & (np.abs(normal_along) < _SQUARE)
        fits &= np.abs(along) < _SPREAD * r
        found.append(fits.T)
    return np.concatenate(found)
