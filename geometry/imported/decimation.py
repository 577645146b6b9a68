"""Fewer triangles for a dense mesh, with the deviation measured and laid on the safe side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import fast_simplification  # type: ignore[import-untyped]
import numpy as np

from geometry.contact.triangles import dot
from geometry.edges import Edges
from geometry.errors import MeshError
from geometry.imported.crossings import Crossings, crossings_of
from geometry.imported.holes import filled, holes_in
from geometry.imported.repair import without_twins
from geometry.mesh import Floats, Mesh, compact
from geometry.nearest import Foot, NearSurface, spread_samples
from geometry.solids import Solid

SAMPLES = 60_000
"""Points on each surface from which the other is measured: one in about 0.5 mm2 of a yoke."""


@dataclass(frozen=True, eq=False)
class Decimation:
    """A mesh with fewer triangles than it had; lengths in its own unit.

    mesh : the mesh that is left, grown so that the surface it stands for lies inside
    faces : triangles it had
    deviation : largest distance of the two surfaces, measured from every corner of the dense one
        and from samples on both; it is in `mesh.chord`
    grown : how far the farthest corner was moved outward for that
    outside : how far some point of the dense surface still stands out, at most
    crossings : triangles that cut each other, before anything was grown
    """

    mesh: Mesh
    faces: int
    crossings: Crossings
    deviation: float = 0.0
    grown: float = 0.0
    outside: float = 0.0


def decimated(mesh: Mesh, most: int, bare: Mesh | None = None) -> Decimation:
    """Return a mesh with at most `most` triangles; one that has no more stays as it is.

    Edges are collapsed where that changes the surface least (quadric error). Every corner of the
    dense mesh and samples between them are then measured against what is left, and corners are
    moved outward until the dense surface lies inside: a touch is found early, never late.
    bare : what `collapsed` makes of the mesh, if it is at hand

    Raises MeshError when `most` is too few to keep a shape.
    """
    if most < FEWEST:
        raise MeshError(f"{most} triangles to keep; expected {FEWEST} or more")
    if len(mesh.faces) <= most:
        return Decimation(mesh, len(mesh.faces), crossings_of(mesh))
    bare = bare or collapsed(mesh, most)
    crossings = crossings_of(bare)
    points = np.concatenate([mesh.vertices, spread_samples(mesh, SAMPLES)[0]])
    bare, grown, outside = grown_over(bare, points)
    back, _ = spread_samples(bare, SAMPLES)
    dense = NearSurface(mesh, SAMPLES)
    deviation = max(
        NearSurface(bare, SAMPLES).farthest(points),
        dense.farthest(np.concatenate([bare.vertices, back])),
    )
    labels = np.zeros(len(bare.faces), dtype=np.int16)
    if len(mesh.label_names) > 1:
        labels = mesh.labels[dense.foot(bare.triangles.mean(axis=1)).face]
    left = replace(bare, labels=labels, label_names=mesh.label_names, chord=mesh.chord + deviation)
    return Decimation(left, len(mesh.faces), crossings, deviation, grown, outside)


FEWEST = 500
"""Triangles below which a yoke is no longer one."""

_SIZE = 100.0
"""Size to which a mesh is brought for collapsing, whose thresholds are bare numbers."""

_PACES = (5, 7, 6)
"""How fast the thresholds rise: gently first; a mesh that comes out torn is tried again."""


def collapsed(mesh: Mesh, most: int) -> Mesh:
    """Return a mesh of at most about `most` triangles near the given one, all on one surface.

    Edges go in the order in which their going changes the surface least (quadric error). Where
    needles bring that to a halt, flat places are tidied up first.
    Raises MeshError when that cannot be reached.
    """
    for ready in _readied(mesh):
        if len(ready.faces) <= most:
            return ready
        found = _fewer(ready, most)
        if found is not None:
            return found
    raise MeshError(
        f"the mesh cannot be brought down to {most:,} triangles; it is full of needles or more "
        "than two triangles meet in an edge. Mesh it anew in the scanner's software"
    )


def _fewer(mesh: Mesh, most: int) -> Mesh | None:
    """Return a mesh of about `most` triangles, closed if it can be, or None if it stays dense."""
    low, high = mesh.bounds
    scale = _SIZE / float((high - low).max())
    sound = None
    for pace in _PACES:
        points, corners = fast_simplification.simplify(
            (mesh.vertices - low) * scale, np.array(mesh.faces), target_count=most, agg=pace
        )
        vertices = np.asarray(points, dtype=np.float64) / scale + low
        faces = without_twins(np.asarray(corners, dtype=np.int64))
        if not FEWEST // 2 <= len(faces) <= _OVER * most:
            break
        patches = filled(vertices, faces, holes_in(vertices, faces))
        vertices, faces = compact(vertices, np.concatenate([faces, *patches]))
        sound = Mesh.uniform(vertices, faces, "surface")
        if Edges(faces).closed:
            break
    return sound


_OVER = 1.05
"""How far over the number asked for the result may be."""


def _readied(mesh: Mesh) -> Iterator[Mesh]:
    """Yield the mesh as it is, then with its flat places tidied up more and more.

    Of one with many needles, as CAD gives them, the first is spared.
    """
    if _needles(mesh) < _MANY:
        yield mesh
    try:
        solid = Solid.of(np.array(mesh.vertices), mesh.faces, "surface")
        for share in _TIDYING:
            tolerance = share * float(np.ptp(mesh.bounds, axis=0).max())
            tidy = Solid(solid.body.simplify(tolerance), solid.names).mesh()
            if len(tidy.faces) < 0.5 * len(mesh.faces):  # less would not help
                yield tidy
    except MeshError:  # not the skin of a proper solid, which is not asked of a scan
        return


_TIDYING = (1e-6, 1e-5, 1e-4, 4e-4, 1e-3, 2e-3)
"""What may be tidied away, as shares of the size: from rounding to more than a scanner's noise."""


def _needles(mesh: Mesh) -> float:
    """Share of triangles less than a fiftieth as high as long."""
    corner = mesh.triangles
    side = corner - corner[:, [1, 2, 0]]
    longest = np.einsum("ijk,ijk->ij", side, side).max(axis=1)
    return float(np.mean(2.0 * mesh.areas < 0.02 * longest))


_MANY = 0.01
"""Share of needles from which collapsing is likely to halt; a scan has next to none."""


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
        mesh = replace(mesh, vertices=mesh.vertices + lift[:, None] * normals)
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
    total = np.zeros_like(mesh.vertices)
    for k in range(3):
        one = corner[:, (k + 1) % 3] - corner[:, k]
        other = corner[:, (k + 2) % 3] - corner[:, k]
        angle = np.arctan2(np.linalg.norm(np.cross(one, other), axis=1), dot(one, other))
        for axis in range(3):
            total[:, axis] += np.bincount(
                mesh.faces[:, k], angle * mesh.normals[:, axis], len(mesh.vertices)
            )
    return np.asarray(total / np.maximum(np.linalg.norm(total, axis=1, keepdims=True), 1e-12))
