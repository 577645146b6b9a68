"""Collapsing edges of a dense mesh until few triangles are left."""

from __future__ import annotations

from collections.abc import Iterator

import fast_simplification  # type: ignore[import-untyped]
import numpy as np

from geometry.errors import MeshError
from geometry.imported.edges import Edges
from geometry.imported.holes import filled, holes_in
from geometry.imported.raw import compact
from geometry.imported.repair import without_twins
from geometry.mesh import Mesh
from geometry.solids import Solid

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
    return float(np.mean(2.0 * np.linalg.norm(mesh.area_vectors, axis=1) < 0.02 * longest))


_MANY = 0.01
"""Share of needles from which collapsing is likely to halt; a scan has next to none."""
