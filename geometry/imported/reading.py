"""Reading a mesh from a scanner or from CAD: STL, OBJ, PLY, 3MF or GLB."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from geometry.errors import MeshError
from geometry.imported.glb import read_glb
from geometry.imported.obj import read_obj
from geometry.imported.parsing import Unsound
from geometry.imported.ply import read_ply
from geometry.imported.raw import LIMITS, RawMesh, told_of
from geometry.imported.stl import read_stl
from geometry.imported.threemf import read_threemf

_READERS: Mapping[str, Callable[[Path], RawMesh]] = {
    ".stl": read_stl,
    ".obj": read_obj,
    ".ply": read_ply,
    ".3mf": read_threemf,
    ".glb": read_glb,
}

_MAGIC = {b"ply": ".ply", b"glT": ".glb", b"PK\x03": ".3mf"}
"""First bytes that say what a file is, whatever it is called."""

FORMATS = tuple(_READERS)
"""Endings of the files that can be read."""


def format_of(path: str | Path) -> str:
    """Return what a mesh file is, as one of `FORMATS`: by its first bytes, else by its name.

    Raises MeshError for a file that is not there and for a format that is not read.
    """
    path = Path(path)
    try:
        if path.exists() and not path.is_file():
            raise MeshError(f"{path.name or path}: a folder, expected a mesh file")
        with path.open("rb") as file:
            magic = file.read(3)
    except OSError as error:
        raise MeshError(f"{path.name}: cannot be read ({error.strerror})") from error
    kind = _MAGIC.get(magic, path.suffix.lower())
    if kind not in _READERS:
        raise MeshError(f"{path.name}: not a mesh that can be read; there are {', '.join(FORMATS)}")
    return kind


def read_mesh(path: str | Path) -> RawMesh:
    """Return the triangles of a file as they are, nothing merged or repaired.

    Bounded: files of up to `LIMITS.file_bytes` and `LIMITS.faces` triangles are read, in under
    20 s and 800 MB; more is refused by the head of the file or as soon as it is counted, and
    nothing is made room for that the file does not hold.

    Raises MeshError for a format that is not read, a damaged or empty file, and too large a one.
    """
    path = Path(path)
    kind = format_of(path)
    size = path.stat().st_size
    if not size:
        raise MeshError(f"{path.name}: the file is empty")
    if size > LIMITS.file_bytes:
        raise MeshError(
            f"{path.name}: {size:,} bytes; at most {LIMITS.file_bytes:,} are read. Reduce the mesh "
            "where it was scanned or drawn: 250,000 triangles are plenty for a yoke"
        )
    with told_of(path.name):
        try:
            return _READERS[kind](path)
        except Unsound as error:
            raise MeshError(
                f"not a sound {kind[1:].upper()} file ({str(error)[:_TOLD]})"
            ) from error


_TOLD = 200
"""Characters of what is wrong with a file; a library may repeat all of it."""
