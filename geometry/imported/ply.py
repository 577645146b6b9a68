"""PLY files: points and polygons, as text or as numbers of either byte order; no unit.

The head says what there is; nothing is made room for before it is held against the size of the
file.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from array import array
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import BinaryIO

import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError
from geometry.imported.raw import LIMITS, Faces, RawMesh, demand_few
from geometry.mesh import Floats

_CORNERS = ("vertex_indices", "vertex_index")


@dataclass
class Element:
    """One element of the head.

    count : how many there are
    properties : name, kind, and kind of its count where it is a list, else nothing
    """

    name: str
    count: int
    properties: list[tuple[str, str, str]] = field(default_factory=list)

    @property
    def is_plain(self) -> bool:
        """Whether every one of it takes the same room."""
        return not any(length for _, _, length in self.properties)

    @property
    def least(self) -> int:
        """Bytes that one takes at least, in a binary file."""
        return sum(int((length or kind)[1]) for _, kind, length in self.properties)


class Body(ABC):
    """A body that is read once, front to back."""

    def __init__(self, name: str) -> None:
        self.name = name

    def points(self, element: Element) -> Floats:
        """Read the points, (n, 3). Raises MeshError without x, y and z."""
        columns = [name for name, _, _ in element.properties]
        if not element.is_plain or not {"x", "y", "z"} <= set(columns):
            raise unsound(self.name, "its points have no x, y and z of their own")
        return self._points(element, [columns.index(axis) for axis in "xyz"])

    def triangles(self, element: Element) -> Faces:
        """Read the faces, cut as fans, (m, 3). Raises MeshError where they have no corners."""
        place = [k for k, (name, _, _) in enumerate(element.properties) if name in _CORNERS]
        if len(place) != 1 or not element.properties[place[0]][2]:
            raise unsound(self.name, "its faces have no corners")
        return self._triangles(element, place[0])

    @abstractmethod
    def skip(self, element: Element) -> None:
        """Pass over an element."""

    @abstractmethod
    def _points(self, element: Element, columns: list[int]) -> Floats: ...

    @abstractmethod
    def _triangles(self, element: Element, place: int) -> Faces: ...

    def _short(self) -> MeshError:
        return unsound(self.name, "it ends before all that its head announces")

    def _add_fan(self, corners: array[int], polygon: list[int]) -> None:
        if len(polygon) < 3:
            raise unsound(self.name, f"a face of {len(polygon)} corners")
        if min(polygon) < 0 or max(polygon) > LIMITS.vertices:
            raise unsound(self.name, "a corner that is no point of it")
        for one, other in pairwise(polygon[1:]):
            corners.extend((polygon[0], one, other))
        demand_few(self.name, len(corners) // 3)


class InBytes(Body):
    """A body of bytes; order : "<" or ">"."""

    def __init__(self, name: str, body: bytes, order: str) -> None:
        super().__init__(name)
        self._body = body
        self._order = order
        self._at = 0

    def skip(self, element: Element) -> None:
        """Pass over an element."""
        if element.is_plain:
            self._take(element, self._record(element))
            return
        self._demand_room(element.count * element.least)
        for _ in range(element.count):
            for _, kind, length in element.properties:
                self._values(kind, self._count(length))

    def _points(self, element: Element, columns: list[int]) -> Floats:
        found = self._take(element, self._record(element))
        with np.errstate(invalid="ignore"):  # no numbers at all are told of later
            return np.stack([found[f"f{k}"].astype(np.float64) for k in columns], axis=1)

    def _triangles(self, element: Element, place: int) -> Faces:
        self._demand_room(element.count * element.least)
        alike = self._alike(element, place)
        return self._each(element, place) if alike is None else alike

    def _alike(self, element: Element, place: int) -> Faces | None:
        """Read faces that are all triangles, with no other list beside; None where they are not."""
        if any(length for k, (_, _, length) in enumerate(element.properties) if k != place):
            return None
        record = self._record(element, place)
        if element.count * record.itemsize > len(self._body) - self._at:
            return None
        found = np.frombuffer(self._body, record, element.count, self._at)
        if not (found["count"] == 3).all():
            return None
        self._at += element.count * record.itemsize
        with np.errstate(invalid="ignore"):
            return np.asarray(found[f"f{place}"].astype(np.int64))

    def _each(self, element: Element, place: int) -> Faces:
        corners = array("q")
        for _ in range(element.count):
            for k, (_, kind, length) in enumerate(element.properties):
                values = self._values(kind, self._count(length))
                if k == place:
                    self._add_fan(corners, [int(value) for value in values])
        return np.array(corners, dtype=np.int64).reshape(-1, 3)

    def _record(self, element: Element, triple: int = -1) -> np.dtype[np.void]:
        """Layout of one; of the list `triple`, the layout it has with three numbers."""
        kinds: list[tuple[str, str] | tuple[str, str, tuple[int]]] = []
        for k, (_, kind, length) in enumerate(element.properties):
            if k == triple:
                kinds.append(("count", self._order + length))
                kinds.append((f"f{k}", self._order + kind, (3,)))
            else:
                kinds.append((f"f{k}", self._order + kind))
        return np.dtype(kinds)

    def _take(self, element: Element, record: np.dtype[np.void]) -> npt.NDArray[np.void]:
        self._demand_room(element.count * record.itemsize)
        found = np.frombuffer(self._body, record, element.count, self._at)
        self._at += element.count * record.itemsize
        return found

    def _demand_room(self, wanted: int) -> None:
        if wanted > len(self._body) - self._at:
            raise self._short()

    def _count(self, length: str) -> int:
        """Read how long a list is; 1 for what is none."""
        if not length:
            return 1
        count = int(self._values(length, 1)[0])
        if count < 0:
            raise unsound(self.name, f"a list of {count} numbers")
        return count

    def _values(self, kind: str, count: int) -> list[float]:
        size = count * int(kind[1])
        self._demand_room(size)
        found = np.frombuffer(self._body, self._order + kind, count, self._at)
        self._at += size
        if kind[0] == "f" and not np.isfinite(found).all():
            raise unsound(self.name, "a list with numbers that are not finite")
        return [*found.tolist()]


class InText(Body):
    """A body of text, a line each."""

    def __init__(self, name: str, file: BinaryIO) -> None:
        super().__init__(name)
        self._file = file

    def skip(self, element: Element) -> None:
        """Pass over an element."""
        for _ in range(element.count):
            self._row()

    def _points(self, element: Element, columns: list[int]) -> Floats:
        found = array("d")
        for _ in range(element.count):
            words = self._row()
            if len(words) < len(element.properties):
                raise unsound(self.name, f"a point of {len(words)} numbers")
            try:
                found.extend([float(words[k]) for k in columns])
            except ValueError as error:
                raise unsound(self.name, str(error)) from error
        return np.array(found, dtype=np.float64).reshape(-1, 3)

    def _triangles(self, element: Element, place: int) -> Faces:
        corners = array("q")
        for _ in range(element.count):
            words = self._row()
            start = 0
            for k, (_, _, length) in enumerate(element.properties):
                count = 1
                if length:
                    count = self._whole(words[start : start + 1])[0]
                    start += 1
                if k == place:
                    self._add_fan(corners, self._whole(words[start : start + max(count, 1)]))
                start += max(count, 0)
            if start > len(words):
                raise unsound(self.name, "a face that is cut short")
        return np.array(corners, dtype=np.int64).reshape(-1, 3)

    def _whole(self, words: list[bytes]) -> list[int]:
        if not words:
            raise unsound(self.name, "a face that is cut short")
        try:
            return [int(word) for word in words]
        except ValueError as error:
            raise unsound(self.name, str(error)) from error

    def _row(self) -> list[bytes]:
        while line := self._file.readline(LIMITS.text_line):
            if len(line) == LIMITS.text_line:
                raise MeshError(f"{self.name}: a line of more than {LIMITS.text_line:,} bytes")
            if words := line.split():
                return words
        raise self._short()


def unsound(name: str, why: str) -> MeshError:
    """Return the error of a file that is not as its kind has to be."""
    return MeshError(f"{name}: not a sound PLY file ({why})")


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
