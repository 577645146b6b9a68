"""OBJ files: points and polygons as text; no unit."""

from __future__ import annotations

from pathlib import Path

from geometry.errors import MeshError
from geometry.imported.foreign import read_foreign
from geometry.imported.limits import LIMITS
from geometry.imported.raw import RawMesh
from geometry.imported.stl import demand_few


def read_obj(path: Path) -> RawMesh:
    """Return the triangles of an OBJ file, all its groups together.

    Raises MeshError for a damaged file, for one without faces and for too many triangles.
    """
    faces = points = 0
    with path.open("rb") as file:
        while line := file.readline(LIMITS.text_line):
            if len(line) == LIMITS.text_line:
                raise MeshError(f"{path.name}: a line of more than {LIMITS.text_line:,} bytes")
            if line[:1] == b"f" and line[1:2].isspace():
                faces += max(len(line.split()) - 3, 1)
            elif line[:1] == b"v" and line[1:2].isspace():
                points += 1
    if not faces:
        raise MeshError(f"{path.name}: {points:,} points and no faces; expected a surface")
    demand_few(path.name, faces)
    if points > LIMITS.vertices:
        raise MeshError(f"{path.name}: {points:,} points; at most {LIMITS.vertices:,} are read")
    return read_foreign(path, "obj")
