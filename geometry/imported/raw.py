"""Triangles as they stand in a file, and how much of them is read at most.

Measured on one core of two: within these bounds an import stays under 1 GB and takes under a
minute, an ordinary scan of 250,000 triangles under ten seconds.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np

from geometry.errors import MeshError
from geometry.mesh import Floats, Indices, compact


@dataclass(frozen=True)
class Limits:
    """Bounds on size and work; lengths are shares of the part's size: a file may say no unit."""

    file_bytes: int = 300_000_000
    """Size of a file, unpacked. A million triangles as text take about 260 MB."""

    text_line: int = 100_000
    """Bytes in a line of a text file; a face with more corners is no part of a scan."""

    faces: int = 1_000_000
    """Triangles read. Four times the scan aimed at; more is past what a shop's scanner resolves
    on a part of 100 mm, and the reading alone would need gigabytes."""

    vertices: int = 3_000_000
    """Corner points read: three a triangle, which is what an STL file holds."""

    shells: int = 40
    """Separate pieces kept. A yoke with its caps, straps and bolts has about a dozen; hundreds
    mean that the surface is in shreds."""

    dust: float = 0.03
    """Size of a piece, as a share of the whole, below which it is a speck of the scanner: 3 mm on
    a yoke of 100 mm."""

    small_hole: float = 0.1
    """Size of a hole, as a share of the whole, up to which closing it is a repair worth no more
    than a word: 10 mm on a yoke of 100 mm."""

    open_share: float = 0.2
    """Share of the surface that may be missing in all holes together; with more missing a side of
    the part has not been seen."""

    hole_edges: int = 4000
    """Edges round one hole that is filled: filling grows with their square, here to seconds."""

    boundary_edges: int = 60_000
    """Open edges in all that are traced into holes, one by one."""

    seam: float = 1e-4
    """How far two open edges may be apart, as a share of the whole, to be one seam: 0.01 mm on a
    yoke of 100 mm, which is what rounding in a text file costs."""

    crossing_pairs: int = 4_000_000
    """Pairs of triangles asked whether they cross; with more the check stops and says so."""

    kept_faces: int = 12_000
    """Triangles kept of a denser mesh unless told otherwise: the distance queries of a touch
    curve then take a few seconds, and the deviation is about that of the scanner."""


LIMITS = Limits()


@dataclass(frozen=True, eq=False)
class RawMesh:
    """Triangles of a file, nothing merged, repaired or scaled.

    vertices : (n, 3) float64, in whatever unit the file is in
    faces : (m, 3) int64, indices into `vertices`
    unit : the unit the file or its format states ("mm", "m", "in", ...), or None
    source : name of the file, for messages

    Raises MeshError when there are no triangles, for indices that point nowhere, and when no
    triangle has all its corners at finite numbers. Those without are left out and counted in
    `not_finite`.
    """

    vertices: Floats
    faces: Indices
    unit: str | None = None
    source: str = "mesh"
    not_finite: int = 0

    def __post_init__(self) -> None:
        vertices = np.array(self.vertices, dtype=np.float64)
        faces = np.array(self.faces, dtype=np.int64)
        if vertices.ndim != 2 or vertices.shape[1] != 3:
            raise MeshError(f"{self.source}: vertices have shape {vertices.shape}; expected (n, 3)")
        if not len(faces):
            raise MeshError(f"{self.source}: no triangles in it; expected a surface")
        if faces.ndim != 2 or faces.shape[1] != 3:
            raise MeshError(f"{self.source}: faces have shape {faces.shape}; expected (m, 3)")
        if faces.min() < 0 or faces.max() >= len(vertices):
            raise MeshError(
                f"{self.source}: triangles point outside its {len(vertices)} points; the file is "
                "damaged"
            )
        # Past this, squares of lengths are no longer finite numbers.
        sound = np.all(np.all(np.abs(vertices) < 1e100, axis=1)[faces], axis=1)
        if not sound.any():
            raise MeshError(f"{self.source}: no triangle has numbers that are finite")
        faces = faces[sound]
        lost = len(sound) - len(faces)
        if lost:
            vertices, faces = compact(vertices, faces)
        for name, array in (("vertices", vertices), ("faces", faces)):
            array.flags.writeable = False
            object.__setattr__(self, name, array)
        object.__setattr__(self, "not_finite", self.not_finite + lost)

    @property
    def extent(self) -> float:
        """Longest side of the box around the triangles, in the unit of the file."""
        return float(np.ptp(compact(self.vertices, self.faces)[0], axis=0).max())


@contextmanager
def told_of(source: str) -> Iterator[None]:
    """Put the name of the file before the message of any MeshError raised within."""
    try:
        yield
    except MeshError as error:
        if not str(error).startswith(source):
            error.args = (f"{source}: {error}",)
        raise


def demand_few(faces: int = 0, points: int = 0) -> None:
    """Raise MeshError unless there are few enough triangles and points to read."""
    if faces > LIMITS.faces:
        raise MeshError(
            f"about {faces:,} triangles; at most {LIMITS.faces:,} are read. Reduce the mesh where "
            "it was scanned or drawn: 250,000 are plenty for a yoke"
        )
    if points > LIMITS.vertices:
        raise MeshError(f"{points:,} points; at most {LIMITS.vertices:,} are read")
