"""Fewer triangles for a dense mesh, with the deviation measured and laid on the safe side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.errors import MeshError
from geometry.imported.collapsing import FEWEST, collapsed
from geometry.imported.crossings import Crossings, crossings_of
from geometry.imported.nearest import NearSurface, spread_samples
from geometry.imported.safe_side import grown_over
from geometry.mesh import Mesh

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


def decimated(mesh: Mesh, most: int, safe: bool = True, bare: Mesh | None = None) -> Decimation:
    """Return a mesh with at most `most` triangles; one that has no more stays as it is.

    Edges are collapsed where that changes the surface least (quadric error). Every corner of the
    dense mesh and samples between them are then measured against what is left, and corners are
    moved outward until the dense surface lies inside: a touch is found early, never late.
    safe : whether to do that
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
    grown = outside = 0.0
    if safe:
        bare, grown, outside = grown_over(bare, points)
    back, _ = spread_samples(bare, SAMPLES)
    dense = NearSurface(mesh, SAMPLES)
    deviation = max(
        float(NearSurface(bare, SAMPLES).foot(points).distance.max()),
        float(dense.foot(np.concatenate([bare.vertices, back])).distance.max()),
    )
    labels = np.zeros(len(bare.faces), dtype=np.int16)
    if len(mesh.label_names) > 1:
        labels = mesh.labels[dense.foot(bare.triangles.mean(axis=1)).face]
    left = Mesh(bare.vertices, bare.faces, labels, mesh.label_names, mesh.chord + deviation)
    return Decimation(left, len(mesh.faces), crossings, deviation, grown, outside)
