"""GLB files: binary glTF, a tree of placed meshes; by its standard in metres.

Read here, and from this one file alone: what lies in another file is refused and never opened.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated, Any, TypeVar

import numpy as np
from pydantic import BaseModel, ConfigDict, FailFast, Field, ValidationError
from pydantic.alias_generators import to_camel

from geometry.errors import MeshError
from geometry.imported.parsing import Placed, Unsound, assembled
from geometry.imported.raw import RawMesh
from geometry.mesh import Floats, Indices

Entry = TypeVar("Entry")

_KINDS = {5120: "<i1", 5121: "<u1", 5122: "<i2", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
"""Codes of the standard for kinds of number."""

_WIDTH = {"SCALAR": 1, "VEC3": 3}

_TRIANGLES, _STRIP, _FAN = 4, 5, 6
"""Codes of the standard for what the corners of a mesh make; the others make no surface."""

_Index = Annotated[int, Field(strict=True, ge=0, lt=2**40)]
_Several = Annotated[list[Entry], FailFast()]
"""A table; told of at its first unsound entry, of which there may be millions."""


class _Table(BaseModel):
    """A table of the standard, as far as it is read; what else stands in it is left."""

    model_config = ConfigDict(alias_generator=to_camel, frozen=True)


class _Buffer(_Table):
    uri: str | None = None


class _View(_Table):
    buffer: _Index
    byte_length: _Index
    byte_offset: _Index = 0
    byte_stride: _Index | None = None


class _Accessor(_Table):
    count: _Index
    component_type: int = 0
    type: str = ""
    buffer_view: _Index | None = None
    byte_offset: _Index = 0
    sparse: Any = None


class _Attributes(_Table):
    position: _Index = Field(alias="POSITION")


class _Primitive(_Table):
    attributes: _Attributes
    indices: _Index | None = None
    mode: int = _TRIANGLES


class _Mesh(_Table):
    primitives: _Several[_Primitive]

    @property
    def surfaces(self) -> list[_Primitive]:
        """Those of its parts that are no points and no lines."""
        return [part for part in self.primitives if part.mode in (_TRIANGLES, _STRIP, _FAN)]


class _Node(_Table):
    children: _Several[_Index] = []
    mesh: _Index | None = None
    matrix: Annotated[list[float], Field(min_length=16, max_length=16)] | None = None
    rotation: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 1.0)
    scale: tuple[float, float, float] = (1.0, 1.0, 1.0)
    translation: tuple[float, float, float] = (0.0, 0.0, 0.0)

    @property
    def X(self) -> Floats:
        """Its pose in the node that holds it, (4, 4)."""
        if self.matrix is not None:
            return np.array(self.matrix).reshape(4, 4).T
        X = np.eye(4)
        x, y, z, w = self.rotation
        X[:3, :3] = [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
        X[:3, :3] *= self.scale
        X[:3, 3] = self.translation
        return X


class _Scene(_Table):
    nodes: _Several[_Index] = []


class _Description(_Table):
    """What a file says is in it."""

    extensions_required: _Several[str] = []
    scene: _Index = 0
    scenes: _Several[_Scene] = []
    nodes: _Several[_Node] = []
    meshes: _Several[_Mesh] = []
    accessors: _Several[_Accessor] = []
    buffer_views: _Several[_View] = []
    buffers: _Several[_Buffer] = []


_JSON_BYTES = 5_000_000
"""Largest description read; the triangles are not in it. As objects it takes some 25 times that."""

_HARMLESS = ("KHR_materials", "KHR_texture")
"""Extensions that say how a part looks and not what it is."""


def read_glb(path: Path) -> RawMesh:
    """Return the triangles of a GLB file, every mesh at its place.

    The format says metres; many programs write millimetres all the same.
    Raises Unsound for a damaged file, MeshError for packed meshes, meshes that lie in another file,
    and too many triangles.
    """
    text, binary = _chunks(path)
    try:
        found = _Description.model_validate_json(text)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        place = ".".join(map(str, first["loc"])) or "its description"
        raise Unsound(f"{place}: {first['msg']}") from error
    packed = [name for name in found.extensions_required if not name.startswith(_HARMLESS)]
    if packed:
        raise MeshError(
            f"its triangles are packed with {', '.join(packed)}; export it without compression"
        )
    file = _File(found, binary)
    return RawMesh(*assembled(file.roots(), file.below, file.size, file.parts), "m", path.name)


def _chunks(path: Path) -> tuple[bytes, bytes]:
    """Return the description as text and what stands behind it."""
    with path.open("rb") as file:
        head = file.read(20)
        length = int.from_bytes(head[12:16], "little")
        if head[:4] != b"glTF" or head[16:20] != b"JSON" or length > _JSON_BYTES:
            raise MeshError("not a GLB file of version 2")
        text = file.read(length)
        head = file.read(8)
        length = int.from_bytes(head[:4], "little")
        # A length that lies reads no more than there is.
        left = path.stat().st_size - file.tell()
        binary = file.read(min(length, left)) if head[4:] == b"BIN\0" else b""
    return text, binary


class _File:
    """A description and the numbers that its one buffer holds, as a tree of nodes."""

    def __init__(self, found: _Description, binary: bytes) -> None:
        self._found, self._binary = found, binary

    def roots(self) -> Placed[int]:
        """Nodes of the scene that is shown; without scenes those that no other node holds."""
        scenes, nodes = self._found.scenes, self._found.nodes
        scene = _at(scenes, self._found.scene, "scene") if scenes else _Scene()
        shown: Sequence[int] = scene.nodes
        if "nodes" not in scene.model_fields_set:
            held = {child for node in nodes for child in node.children}
            shown = [k for k in range(len(nodes)) if k not in held] or range(len(nodes))
        return ((node, self._node(node).X) for node in shown)

    def below(self, node: int) -> Placed[int]:
        """Nodes that hang on a node."""
        return ((child, self._node(child).X) for child in self._node(node).children)

    def size(self, node: int) -> tuple[int, int]:
        """How many triangles and points the mesh of a node has."""
        faces = points = 0
        for part in self._surfaces(node):
            there = self._accessor(part.attributes.position).count
            corners = there if part.indices is None else self._accessor(part.indices).count
            faces += corners // 3 if part.mode == _TRIANGLES else corners
            points += there
        return faces, points

    def parts(self, node: int) -> Iterator[tuple[Floats, Indices]]:
        """Points and triangles of each part of the mesh of a node."""
        for part in self._surfaces(node):
            points = self._array(part.attributes.position, "VEC3").astype(np.float64)
            corners = np.arange(len(points))
            if part.indices is not None:
                corners = self._array(part.indices, "SCALAR")[:, 0].astype(np.int64)
            yield points, _cut(corners, part.mode)

    def _node(self, node: int) -> _Node:
        return _at(self._found.nodes, node, "node")

    def _accessor(self, accessor: int) -> _Accessor:
        return _at(self._found.accessors, accessor, "accessor")

    def _surfaces(self, node: int) -> list[_Primitive]:
        mesh = self._node(node).mesh
        return [] if mesh is None else _at(self._found.meshes, mesh, "mesh").surfaces

    def _array(self, accessor: int, kind: str) -> np.ndarray[Any, Any]:
        """Return the numbers of an accessor, (n, width); all of them are in the file."""
        found = self._accessor(accessor)
        number = _KINDS.get(found.component_type)
        if number is None or found.type != kind:
            raise Unsound(f"numbers of a kind that is not read: {found.type[:20]!r}")
        if kind == "SCALAR" and number[1] != "u":
            raise Unsound("corners that are no whole numbers")
        if found.sparse is not None or found.buffer_view is None:
            raise Unsound("numbers that are not written out in it")
        view = _at(self._found.buffer_views, found.buffer_view, "bufferView")
        if view.buffer != 0 or _at(self._found.buffers, 0, "buffer").uri is not None:
            raise Unsound(
                "its triangles lie in another file, which is never opened; export all in one file"
            )
        width = _WIDTH[kind] * int(number[2])
        stride = width if view.byte_stride is None else view.byte_stride
        first = found.byte_offset + view.byte_offset
        last = (found.count - 1) * stride + width if found.count else 0
        room = min(view.byte_length - found.byte_offset, len(self._binary) - first)
        if stride < width or last > room:
            raise Unsound(f"{found.count:,} numbers announced, and no room for them in the file")
        steps = (stride, int(number[2]))
        return np.ndarray((found.count, _WIDTH[kind]), number, self._binary, first, steps)


def _cut(corners: np.ndarray[Any, np.dtype[np.int64]], mode: int) -> Indices:
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


def _at(table: Sequence[Entry], index: int, what: str) -> Entry:
    if index >= len(table):
        raise Unsound(f"{what} {index} of {len(table)}")
    return table[index]
