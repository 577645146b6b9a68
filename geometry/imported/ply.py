"""PLY files: points and polygons, as text or binary; no unit.

The head says what there is; nothing is made room for before it is held against the size of the
file.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from geometry.errors import MeshError
from geometry.imported.limits import LIMITS
from geometry.imported.ply_body import Body, Element, InBytes, InText, unsound
from geometry.imported.raw import Faces, RawMesh
from geometry.imported.stl import demand_few
from geometry.mesh import Floats

_HEADER = 65_536
"""Bytes in which the head of a file must end."""

_ORDER = {"binary_little_endian": "<", "binary_big_endian": ">"}

_KINDS = {
    "char": "i1",
    "int8": "i1",
    "uchar": "u1",
    "uint8": "u1",
    "short": "i2",
    "int16": "i2",
    "ushort": "u2",
    "uint16": "u2",
    "int": "i4",
    "int32": "i4",
    "uint": "u4",
    "uint32": "u4",
    "float": "f4",
    "float32": "f4",
    "double": "f8",
    "float64": "f8",
}


def read_ply(path: Path) -> RawMesh:
    """Return the triangles of a PLY file; polygons are cut as fans.

    Raises MeshError for a damaged file, for points without triangles and for too many of either.
    """
    form, elements, start = _head(path)
    counts = {element.name: element.count for element in elements}
    if not counts.get("face"):
        points = counts.get("vertex", 0)
        raise MeshError(
            f"{path.name}: {points:,} points and no triangles; export a mesh from the scanner, not "
            "a point cloud"
        )
    demand_few(path.name, counts["face"])
    if counts.get("vertex", 0) > LIMITS.vertices:
        raise MeshError(
            f"{path.name}: {counts['vertex']:,} points; at most {LIMITS.vertices:,} are read"
        )
    size = path.stat().st_size
    if sum(element.count for element in elements) > size:
        raise MeshError(f"{path.name}: announces more than its {size:,} bytes can hold")
    vertices: Floats = np.zeros((0, 3))
    faces: Faces = np.zeros((0, 3), dtype=np.int64)
    with path.open("rb") as file:
        file.seek(start)
        body: Body = (
            InText(path.name, file)
            if form == "ascii"
            else InBytes(path.name, file.read(), _ORDER[form])
        )
        for element in elements:
            if element.name == "vertex":
                vertices = body.points(element)
            elif element.name == "face":
                faces = body.triangles(element)
            else:
                body.skip(element)
    if len(faces) and (faces.min() < 0 or faces.max() >= len(vertices)):
        raise unsound(path.name, f"faces point outside its {len(vertices):,} points")
    return RawMesh(vertices, faces, source=path.name)


def _head(path: Path) -> tuple[str, list[Element], int]:
    """Return the format, the elements, and where the head ends."""
    with path.open("rb") as file:
        head, end, rest = file.read(_HEADER).partition(b"end_header")
    newline = rest.find(b"\n")
    if not head.startswith(b"ply") or not end or newline < 0:
        raise MeshError(f"{path.name}: not a PLY file; its head is not whole")
    form, elements = "", list[Element]()
    for line in head.splitlines()[1:]:
        words = line.decode("ascii", "replace").split()
        if words[:1] == ["format"] and len(words) == 3:
            form = words[1]
        elif words[:1] == ["element"]:
            if len(words) != 3 or not words[2].isdecimal() or len(words[2]) > 12:
                raise MeshError(f"{path.name}: unreadable line in its head: {line[:60]!r}")
            elements.append(Element(words[1], int(words[2])))
        elif words[:1] == ["property"]:
            kinds = [_KINDS.get(word, "") for word in words[1:-1]]
            listed = words[1:2] == ["list"]
            if not elements or len(words) != (5 if listed else 3) or not all(kinds[listed:]):
                raise MeshError(f"{path.name}: unreadable line in its head: {line[:60]!r}")
            elements[-1].properties.append((words[-1], kinds[-1], kinds[1] if listed else ""))
    if form != "ascii" and form not in _ORDER:
        raise MeshError(f"{path.name}: not a PLY file that is known; its format is {form[:30]!r}")
    return form, elements, len(head) + len(end) + newline + 1
