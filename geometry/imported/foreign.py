"""Reading through the mesh library: the one place that knows what it may raise."""

from __future__ import annotations

import struct
from io import StringIO
from pathlib import Path
from typing import IO, Any

import numpy as np
import trimesh

from geometry.errors import MeshError
from geometry.imported.raw import RawMesh

_UNREADABLE = (
    ValueError,  # covers JSON, Unicode and array shapes
    LookupError,
    TypeError,
    AttributeError,
    ArithmeticError,
    NotImplementedError,
    AssertionError,
    NameError,
    EOFError,
    ImportError,  # of a package that the library wants for odd files only
    OSError,
    struct.error,
    MemoryError,
)
"""What a reader of a damaged file runs into. Each of them means the same to the user."""


def read_foreign(path: Path, kind: str, unit: str | None = None) -> RawMesh:
    """Return all triangles of a file as one mesh, none of its points merged.

    kind : format for the library; the file is handed over open, so that nothing beside it
        (textures, materials) is looked for. Text is handed over as text: what is to be read is
        plain ASCII, and the library would guess the encoding of the rest
    Raises MeshError when the library cannot read it or finds no triangles.
    """
    try:
        with _opened(path, kind) as file, np.errstate(all="ignore"):
            scene = trimesh.load_scene(file, file_type=kind, process=False, skip_materials=True)
            whole = scene.to_geometry()
        vertices, faces = _triangles(whole)
    except _UNREADABLE as error:
        raise MeshError(f"{path.name}: not a sound {kind.upper()} file ({error})") from error
    return RawMesh(vertices, faces, unit, path.name)


def _opened(path: Path, kind: str) -> IO[Any]:
    if kind in _TEXT:
        # Every byte is a character of Latin-1, so names and remarks of any encoding get through.
        return StringIO(path.read_text(encoding="latin-1"))
    return path.open("rb")


_TEXT = frozenset({"obj"})


def _triangles(whole: Any) -> tuple[Any, Any]:
    if not isinstance(whole, trimesh.Trimesh):
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
    return np.asarray(whole.vertices), np.asarray(whole.faces)
