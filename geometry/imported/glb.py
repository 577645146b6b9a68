"""GLB files: binary glTF, a tree of placed meshes; by its standard in metres.

Read here, and from this one file alone: what lies in another file is refused and never opened. All
that is placed is counted before anything is made room for, and each place costs the same however
deep it hangs in the tree.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from geometry.errors import BindpointError, MeshError
from geometry.imported.raw import LIMITS, Faces, RawMesh, demand_few
from geometry.mesh import Floats

_KINDS = {5120: "<i1", 5121: "<u1", 5122: "<i2", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
"""Codes of the standard for kinds of number."""

_WIDTH = {"SCALAR": 1, "VEC3": 3}

_TRIANGLES, _STRIP, _FAN = 4, 5, 6
"""Codes of the standard for what the corners of a mesh make; the others make no surface."""


class Unsound(BindpointError, ValueError):  # noqa: N818  (said of the file, in its reader's words)
    """A description that is not as the standard has it."""


class Description:
    """A glTF description, asked with care: anything may stand in it.

    found : its JSON object; binary : the numbers that its one buffer holds
    Every method raises Unsound for what is not as the standard has it.
    """

    def __init__(self, found: dict[str, Any], binary: bytes) -> None:
        self._found = found
        self._binary = binary
        self._sizes = cache(self._size)

    @property
    def required(self) -> list[str]:
        """Extensions without which it cannot be read."""
        return [str(name) for name in _list(self._found, "extensionsRequired")]

    def roots(self) -> list[int]:
        """Nodes of the scene that is shown; without scenes those that no other node holds."""
        scenes, nodes = _list(self._found, "scenes"), _list(self._found, "nodes")
        if scenes:
            scene = _at(scenes, self._found.get("scene", 0), "scene")
            if "nodes" in scene:
                return [_index(node) for node in _list(scene, "nodes")]
        held = {child for k in range(len(nodes)) for child in self.children(k)}
        free = [k for k in range(len(nodes)) if k not in held]
        return free or list(range(len(nodes)))

    def children(self, node: int) -> list[int]:
        """Nodes that hang on a node."""
        return [_index(child) for child in _list(self._node(node), "children")]

    def mesh_of(self, node: int) -> int | None:
        """The mesh that a node places."""
        mesh = self._node(node).get("mesh")
        return None if mesh is None else _index(mesh)

    def pose(self, node: int) -> Floats:
        """Pose of a node in the one that holds it, (4, 4)."""
        given = self._node(node)
        if "matrix" in given:
            return _numbers(given["matrix"], 16, "matrix").reshape(4, 4).T
        X = np.eye(4)
        x, y, z, w = _numbers(given.get("rotation", [0, 0, 0, 1]), 4, "rotation")
        X[:3, :3] = [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
        X[:3, :3] *= _numbers(given.get("scale", [1, 1, 1]), 3, "scale")
        X[:3, 3] = _numbers(given.get("translation", [0, 0, 0]), 3, "translation")
        return X

    def faces(self, mesh: int) -> int:
        """How many triangles a mesh has."""
        return self._sizes(mesh)[0]

    def points(self, mesh: int) -> int:
        """How many points a mesh has."""
        return self._sizes(mesh)[1]

    def parts(self, mesh: int) -> Iterator[tuple[Floats, Faces]]:
        """Points and triangles of each part of a mesh."""
        for part in self._parts(mesh):
            points = self._array(self._points_of(part), "VEC3").astype(np.float64)
            if "indices" in part:
                corners = self._array(part["indices"], "SCALAR")[:, 0].astype(np.int64)
                if len(corners) and corners.max() >= len(points):
                    raise Unsound(f"triangles point outside their {len(points):,} points")
            else:
                corners = np.arange(len(points))
            yield points, _cut(corners, part.get("mode", _TRIANGLES))

    def _size(self, mesh: int) -> tuple[int, int]:
        faces = points = 0
        for part in self._parts(mesh):
            there = self._count(self._points_of(part))
            corners = self._count(part["indices"]) if "indices" in part else there
            plain = part.get("mode", _TRIANGLES) == _TRIANGLES
            faces += corners // 3 if plain else corners
            points += there
        return faces, points

    def _parts(self, mesh: int) -> list[dict[str, Any]]:
        found = _at(_list(self._found, "meshes"), mesh, "mesh")
        parts = [_object(part, "primitive") for part in _list(found, "primitives")]
        shown = (_TRIANGLES, _STRIP, _FAN)
        return [part for part in parts if part.get("mode", _TRIANGLES) in shown]

    @staticmethod
    def _points_of(part: dict[str, Any]) -> Any:
        attributes = _object(part.get("attributes", {}), "attributes")
        if "POSITION" not in attributes:
            raise Unsound("a mesh without points")
        return attributes["POSITION"]

    def _node(self, node: int) -> dict[str, Any]:
        return _at(_list(self._found, "nodes"), node, "node")

    def _count(self, accessor: Any) -> int:
        found = _at(_list(self._found, "accessors"), accessor, "accessor")
        return _index(found.get("count"))

    def _array(self, accessor: Any, kind: str) -> np.ndarray[Any, Any]:
        """Return the numbers of an accessor, (n, width); all of them are in the file."""
        found = _at(_list(self._found, "accessors"), accessor, "accessor")
        number = _KINDS.get(found.get("componentType", 0))
        if number is None or found.get("type") != kind:
            raise Unsound(f"numbers of a kind that is not read: {str(found.get('type'))[:20]!r}")
        if kind == "SCALAR" and number[1] != "u":
            raise Unsound("corners that are no whole numbers")
        if "sparse" in found or "bufferView" not in found:
            raise Unsound("numbers that are not written out in it")
        view = _at(_list(self._found, "bufferViews"), found["bufferView"], "bufferView")
        buffer = _at(_list(self._found, "buffers"), view.get("buffer"), "buffer")
        if _index(view.get("buffer")) != 0 or "uri" in buffer:
            raise Unsound(
                "its triangles lie in another file, which is never opened; export all in one file"
            )
        width = _WIDTH[kind] * int(number[2])
        stride = _index(view.get("byteStride", width))
        count, start = self._count(accessor), _index(found.get("byteOffset", 0))
        first = start + _index(view.get("byteOffset", 0))
        last = (count - 1) * stride + width if count else 0
        room = min(_index(view.get("byteLength")) - start, len(self._binary) - first)
        if stride < width or last > room:
            raise Unsound(f"{count:,} numbers announced, and no room for them in the file")
        return np.ndarray(
            (count, _WIDTH[kind]), number, self._binary, first, (stride, int(number[2]))
        )


def _cut(corners: np.ndarray[Any, np.dtype[np.int64]], mode: int) -> Faces:
    """Return the triangles that corners make, (m, 3)."""
    if mode == _TRIANGLES:
        if len(corners) % 3:
            raise Unsound(f"{len(corners):,} corners in threes")
        return corners.reshape(-1, 3)
    if mode == _FAN:
        spokes = corners[1:]
        hub = np.full(max(len(spokes) - 1, 0), corners[0] if len(corners) else 0)
        return np.stack([hub, spokes[:-1], spokes[1:]], axis=1)
    found = np.stack([corners[:-2], corners[1:-1], corners[2:]], axis=1)
    found[1::2] = found[1::2, [1, 0, 2]]
    return found


def _list(holder: dict[str, Any], key: str) -> list[Any]:
    found = holder.get(key, [])
    if not isinstance(found, list):
        raise Unsound(f"{key} are no list")
    return found


def _object(found: Any, what: str) -> dict[str, Any]:
    if not isinstance(found, dict):
        raise Unsound(f"a {what} that is no object")
    return found


def _at(found: list[Any], index: Any, what: str) -> dict[str, Any]:
    number = _index(index)
    if number >= len(found):
        raise Unsound(f"{what} {number} of {len(found)}")
    return _object(found[number], what)


def _index(found: Any) -> int:
    if not isinstance(found, int) or isinstance(found, bool) or not 0 <= found < 2**40:
        raise Unsound(f"{str(found)[:40]!r} in place of a whole number")
    return found


def _numbers(found: Any, count: int, what: str) -> Floats:
    sound = isinstance(found, list) and len(found) == count
    if not sound or not all(isinstance(n, (int, float)) for n in found):
        raise Unsound(f"a {what} that is not {count} numbers")
    try:
        return np.array(found, dtype=np.float64)
    except OverflowError as error:  # whole numbers of any length are sound JSON
        raise Unsound(f"a {what} of numbers that are too large") from error


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
        description = Description(_json_object(path.name, text), binary)
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


def _json_object(name: str, text: bytes) -> dict[str, Any]:
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
