"""The ears of a yoke along its bores: where the bores end, and the flat faces round them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.edges import Edges
from geometry.imported.cylinder import Cylinder
from geometry.imported.wall import SECTORS, wrapped
from geometry.mesh import Floats, Indices, Mesh
from geometry.nearest import spread_samples


def rims_of(mesh: Mesh, faces: Indices, hole: Cylinder, split: float) -> Floats:
    """Return where the walls of two bores end along their axis, by bearing, (SECTORS, 4).

    faces : the triangles of both walls; split : a place along the axis between them.
    The columns are the outer and inner end of the one bore, the inner and outer end of the other;
    nan where there is no wall. Exact on a mesh whose rims are edges of triangles.
    """
    used = np.asarray(mesh.faces[faces], dtype=np.int64)
    edges = Edges(used)
    ends = mesh.vertices[edges.directed[edges.open]]
    along, bearing = hole.along(ends), hole.bearing(ends)
    away = np.linalg.norm(hole.radial(ends), axis=2)
    turn = wrapped(bearing[:, 1] - bearing[:, 0])
    found = np.full((SECTORS, 4), np.nan)
    for k in range(SECTORS):
        # From the middle of a sector no rim of a drawn hole has its corners: they start at 0.
        toward = wrapped((k + 0.5) * 2.0 * np.pi / SECTORS - np.pi - bearing[:, 0])
        hit = (toward * turn >= 0.0) & (np.abs(toward) <= np.abs(turn))
        hit &= np.abs(turn) > 1e-12
        if not hit.any():
            continue
        # Where a straight edge is seen at a bearing between those of its ends.
        near = away[hit, 0] * np.sin(toward[hit])
        far = away[hit, 1] * np.sin(turn[hit] - toward[hit])
        place = along[hit, 0] + near / (near + far) * (along[hit, 1] - along[hit, 0])
        for side, columns in ((place[place < split], (0, 1)), (place[place >= split], (2, 3))):
            if len(side):
                found[k, columns] = side.min(), side.max()
    return found


@dataclass(frozen=True, eq=False)
class Ears:
    """Places along the axis of the bores.

    ends : (4,) outer and inner end of the one bore, inner and outer end of the other, each as far
        as its wall reaches
    inside, outside : (2,) of each ear its flat face round the bore; nan where it is not flat
    middle : halfway between the rims of the two bores inside, whatever their shape
    """

    ends: Floats
    inside: Floats
    outside: Floats
    middle: float


def ears_of(mesh: Mesh, faces: Indices, wall: Cylinder, split: float, spread: float) -> Ears | None:
    """Measure the ears of a yoke along its bores.

    faces : triangles of the wall of both; split : a place along the axis between them
    spread : rms of the noise
    None when the rims of the two bores have too little in common to have a middle.
    """
    rims = rims_of(mesh, faces, wall, split)
    both = np.isfinite(rims).all(axis=1)
    if both.sum() < _FEWEST:
        return None
    # A hundredth of stray triangles is no end of a bore.
    near = [np.percentile(rims[both, k], far) for k, far in ((0, 1), (1, 99), (2, 1), (3, 99))]
    # Round a bore, not along it: what is opposite each other at one bearing has one middle,
    # however the ears are curved.
    middle = float(np.median(rims[both][:, [1, 2]].mean(axis=1)))
    typical = np.median(rims[both], axis=0)
    flat = [
        _flat(mesh, wall, typical[k], way, spread)
        for k, way in ((1, 1.0), (2, -1.0), (0, -1.0), (3, 1.0))
    ]
    return Ears(np.array(near), np.array(flat[:2]), np.array(flat[2:]), middle)


_FEWEST = SECTORS // 6
"""Bearings at which both bores have to have their rims: 60 deg of the round."""


def _flat(mesh: Mesh, wall: Cylinder, end: float, way: float, spread: float) -> float:
    """Place along the axis of an ear's flat face round the end of its bore; nan without one."""
    off, along = wall.off(mesh.vertices), wall.along(mesh.vertices)
    close = np.abs(along - end) < _DEEP * wall.radius
    facing = way * (mesh.normals @ wall.axis) > _ALONG_BORE
    low, high = off[mesh.faces].min(axis=1), off[mesh.faces].max(axis=1)
    ring = facing & close[mesh.faces].any(axis=1) & (low < _RING[1] * wall.radius) & (high > 0.0)
    rows = np.flatnonzero(ring)
    if not len(rows):
        return float("nan")
    part = Mesh.uniform(mesh.vertices, mesh.faces[rows], "ring")
    points, _ = spread_samples(part, _SAMPLES)
    out, at = wall.off(points) / wall.radius, wall.along(points)
    at = np.sort(at[(out > _RING[0]) & (out < _RING[1]) & (np.abs(at - end) < _DEEP * wall.radius)])
    if len(at) < _FEWEST:
        return float("nan")
    window = max(_THICK * wall.radius, 4.0 * spread)
    count = np.searchsorted(at, at + window, side="right") - np.arange(len(at))
    best = int(np.argmax(count))
    face = at[best : best + int(count[best])]
    place = float(np.median(face))
    scatter = 1.48 * float(np.median(np.abs(face - place)))
    is_flat = len(face) > 0.5 * len(at) and scatter < _LEVEL * wall.radius + 3.0 * spread
    return place if is_flat else float("nan")


_DEEP = 0.5
"""How far along from the end of its bore the face of an ear is looked for, in radii."""

_RING = (0.05, 0.45)
"""From how far to how far outside its bore, in radii."""

_ALONG_BORE = 0.5
"""Cosine from which a triangle faces along the bore; noise turns single ones by 30 deg and more."""

_SAMPLES = 6_000

_THICK = 0.03
"""How thick a layer is a flat face, in radii: 0.4 mm on a bore of 27 mm."""

_LEVEL = 1e-3
"""How far a face may be from level, in radii, beyond the noise; a curved one is not taken for
flat, since where its samples lie depends on its triangles."""
