"""GLB files: binary glTF, a tree of placed meshes; by its standard in metres.

Read here, and from this one file alone: what lies in another file is refused and never opened. All
that is placed is counted before anything is made room for, and each place costs the same however
deep it hangs in the tree.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from geometry.errors import MeshError
from geometry.imported.gltf import Description, Unsound
from geometry.imported.limits import LIMITS
from geometry.imported.raw import Faces, RawMesh
from geometry.imported.stl import demand_few
from geometry.mesh import Floats

_JSON_BYTES = 5_000_000
"""Largest description read; the triangles are not in it. As objects it takes some 25 times that."""

_HARMLESS = ("KHR_materials", "KHR_texture")
"""Extensions that say how a part looks and not what it is."""

_PLACES = 10_000
"""Placed meshes in a file; an assembly of one joint has dozens."""

_JSON, _BINARY = b"JSON", b"BIN\0"


@dataclass(frozen=True, eq=False)
class _Place:
    """A mesh of the file and its pose: a point p is put at X[:3, :3] @ p + X[:3, 3]."""

    mesh: int
    X: Floats


def read_glb(path: Path) -> RawMesh:
    """Return the triangles of a GLB file, every mesh at its place.

    The format says metres; many programs write millimetres all the same.
    Raises MeshError for a damaged file, packed meshes, meshes that lie in another file, and too
    many triangles.
    """
    text, binary = _chunks(path)
    try:
        description = Description(_object(path.name, text), binary)
        packed = [name for name in description.required if not name.startswith(_HARMLESS)]
        if packed:
            raise MeshError(
                f"{path.name}: its triangles are packed with {', '.join(packed)}; export it "
                "without compression"
            )
        places = _places(description)
        demand_few(path.name, sum(description.faces(place.mesh) for place in places))
        points = sum(description.points(place.mesh) for place in places)
        if points > LIMITS.vertices:
            raise MeshError(f"{path.name}: {points:,} points; at most {LIMITS.vertices:,} are read")
        vertices, faces = _placed(description, places)
    except Unsound as error:
        raise MeshError(f"{path.name}: not a sound GLB file ({error})") from error
    return RawMesh(vertices, faces, "m", path.name)


def _chunks(path: Path) -> tuple[bytes, bytes]:
    """Return the description as text and what stands behind it."""
    with path.open("rb") as file:
        head = file.read(20)
        length = int.from_bytes(head[12:16], "little")
        if head[:4] != b"glTF" or head[16:20] != _JSON or length > _JSON_BYTES:
            raise MeshError(f"{path.name}: not a GLB file of version 2")
        text = file.read(length)
        head = file.read(8)
        length = int.from_bytes(head[:4], "little")
        # A length that lies reads no more than there is.
        left = path.stat().st_size - file.tell()
        binary = file.read(min(length, left)) if head[4:] == _BINARY else b""
    return text, binary


def _object(name: str, text: bytes) -> dict[str, Any]:
    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise MeshError(f"{name}: its description is not sound JSON ({error})") from error
    if not isinstance(found, dict):
        raise MeshError(f"{name}: its description is no JSON object")
    return found


def _places(description: Description) -> list[_Place]:
    """Walk the tree of places, each with its pose."""
    waiting = [(node, np.eye(4)) for node in description.roots()[: _PLACES + 1]]
    found = []
    visited = 0
    while waiting:
        visited += 1
        if visited + len(waiting) > _PLACES:
            raise Unsound(f"more than {_PLACES:,} places in it, or a loop among them")
        node, X = waiting.pop()
        with np.errstate(all="ignore"):  # no numbers at all are told of later
            X = X @ description.pose(node)
        children = description.children(node)
        waiting += [(child, X) for child in children[: _PLACES + 1]]
        mesh = description.mesh_of(node)
        if mesh is not None:
            found.append(_Place(mesh, X))
    return found


def _placed(description: Description, places: list[_Place]) -> tuple[Floats, Faces]:
    vertices: list[Floats] = [np.zeros((0, 3))]
    faces: list[Faces] = [np.zeros((0, 3), dtype=np.int64)]
    start = 0
    for place in places:
        for points, triangles in description.parts(place.mesh):
            with np.errstate(all="ignore"):
                vertices.append(points @ place.X[:3, :3].T + place.X[:3, 3])
                mirrored = np.linalg.det(place.X[:3, :3]) < 0.0
            faces.append((triangles[:, ::-1] if mirrored else triangles) + start)
            start += len(points)
    return np.concatenate(vertices), np.concatenate(faces)
