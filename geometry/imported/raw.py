"""Triangles as they stand in a file."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError
from geometry.mesh import Floats

Faces = npt.NDArray[np.int64]


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
    faces: Faces
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


def compact(vertices: Floats, faces: Faces) -> tuple[Floats, Faces]:
    """Return vertices and faces without the vertices that no face uses."""
    used = np.zeros(len(vertices), dtype=bool)
    used[faces] = True
    return vertices[used], (np.cumsum(used) - 1)[faces]


@contextmanager
def told_of(source: str) -> Iterator[None]:
    """Put the name of the file before the message of any MeshError raised within."""
    try:
        yield
    except MeshError as error:
        if not str(error).startswith(source):
            error.args = (f"{source}: {error}",)
        raise
