"""PLY files: points and polygons, as text or as numbers of either byte order; no unit.

The head says what there is; nothing is made room for before it is held against the size of the
file.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from os import fstat
from pathlib import Path
from typing import BinaryIO, NamedTuple
from warnings import catch_warnings, simplefilter

import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError
from geometry.imported.parsing import Unsound, fan, lines, numbers
from geometry.imported.raw import RawMesh, demand_few
from geometry.mesh import Floats, Indices


class Property(NamedTuple):
    """A number of each row, or a list of them.

    kind : of the number ("f4", "u1", ...); length : kind of a list's count, "" for a single number
    """

    name: str
    kind: str
    length: str


@dataclass
class Element:
    """One element of the head: a table of `count` rows."""

    name: str
    count: int
    properties: list[Property] = field(default_factory=list)

    @property
    def lists(self) -> int:
        """How many of its properties are lists; without one every row takes the same room."""
        return sum(bool(each.length) for each in self.properties)


class Body(ABC):
    """A body that is read once, front to back, from where its file stands."""

    order = ""
    """Byte order of its numbers, "<" or ">"."""

    def __init__(self, file: BinaryIO) -> None:
        self.file = file

    @abstractmethod
    def take(self, record: np.dtype[np.void], count: int) -> npt.NDArray[np.void]:
        """Read rows that are all alike."""

    @abstractmethod
    def begin(self) -> None:
        """Go to the next row."""

    @abstractmethod
    def values(self, kind: str, count: int) -> list[float]:
        """Read some numbers of a row."""

    def points(self, element: Element) -> Floats:
        """Read the points, (n, 3). Raises Unsound without x, y and z."""
        names = [each.name for each in element.properties]
        table = None if element.lists or not {*"xyz"} <= {*names} else self.table(element)
        if table is None:
            raise Unsound("its points have no x, y and z of their own")
        with np.errstate(invalid="ignore"):  # no numbers at all are told of later
            columns = [table[str(names.index(axis))].astype(np.float64) for axis in "xyz"]
        return np.stack(columns, axis=1)

    def triangles(self, element: Element) -> Indices:
        """Read the faces, cut as fans, (m, 3). Raises Unsound where they have no corners."""
        place = [k for k, each in enumerate(element.properties) if each.name in _CORNERS]
        if len(place) != 1 or not element.properties[place[0]].length:
            raise Unsound("its faces have no corners")
        table = self.table(element)
        if table is not None:
            with np.errstate(invalid="ignore"):
                return np.asarray(table[str(place[0])].astype(np.int64))
        corners = array("q")
        for row in self.rows(element):
            corners.extend(fan(numbers(row[place[0]], int)))
            demand_few(len(corners) // 3)
        return np.array(corners, dtype=np.int64).reshape(-1, 3)

    def skip(self, element: Element) -> None:
        """Pass over an element."""
        if self.table(element) is None:
            for _ in self.rows(element):
                pass

    def table(self, element: Element) -> npt.NDArray[np.void] | None:
        """Read all rows at once, in columns "0", "1", ...; None where they are not all alike.

        They are where there is no list, or where the only one has three numbers in each row.
        """
        kinds: list[tuple[str, str] | tuple[str, str, tuple[int]]] = []
        for k, (_, kind, length) in enumerate(element.properties):
            if length:
                kinds += [("count", self.order + length), (str(k), self.order + kind, (3,))]
            else:
                kinds.append((str(k), self.order + kind))
        if element.lists > 1 or not kinds:
            return None
        before = self.file.tell()
        try:
            found = self.take(np.dtype(kinds), element.count)
            if not element.lists or (found["count"] == 3).all():
                return found
        except Unsound:
            if not element.lists:
                raise
        self.file.seek(before)
        return None

    def rows(self, element: Element) -> Iterator[list[list[float]]]:
        """Read an element row by row: the numbers of each property."""
        for _ in range(element.count):
            self.begin()
            yield [self.values(each.kind, self._count(each.length)) for each in element.properties]

    def _count(self, length: str) -> int:
        """Read how long a list is; 1 for what is none."""
        count = numbers(self.values(length, 1), int)[0] if length else 1
        if count < 0:
            raise Unsound(f"a list of {count} numbers")
        return count


_CORNERS = ("vertex_indices", "vertex_index")

_SHORT = "it ends before all that its head announces"


class InBytes(Body):
    """A body of bytes."""

    def __init__(self, file: BinaryIO, order: str) -> None:
        super().__init__(file)
        self.order, self._size = order, fstat(file.fileno()).st_size

    def take(self, record: np.dtype[np.void], count: int) -> npt.NDArray[np.void]:
        """Read rows that are all alike."""
        return np.frombuffer(self._read(count * record.itemsize), record, count)

    def begin(self) -> None:
        """Rows follow each other with nothing between."""

    def values(self, kind: str, count: int) -> list[float]:
        """Read some numbers of a row."""
        read = self._read(count * int(kind[1]))
        return [*np.frombuffer(read, self.order + kind).tolist()]

    def _read(self, size: int) -> bytes:
        if size > self._size - self.file.tell():
            raise Unsound(_SHORT)
        return self.file.read(size)


class InText(Body):
    """A body of text, a line each."""

    def __init__(self, file: BinaryIO) -> None:
        super().__init__(file)
        self._lines = filter(bytes.split, lines(file))
        self._words: Iterator[bytes] = iter(())

    def take(self, record: np.dtype[np.void], count: int) -> npt.NDArray[np.void]:
        """Read rows that are all alike."""
        if not count:
            return np.zeros(0, record)
        wide = np.dtype([(name, "f8", record[name].shape) for name in record.names or ()])
        which = range(wide.itemsize // 8)
        try:
            with catch_warnings():  # that there are none at all is told below
                simplefilter("ignore", UserWarning)
                found = np.loadtxt(
                    islice(self._lines, count), wide, comments=None, usecols=which, ndmin=1
                )
        except ValueError as error:
            raise Unsound(str(error)) from error
        if len(found) < count:
            raise Unsound(_SHORT)
        return found

    def begin(self) -> None:
        """Go to the next line with something on it."""
        line = next(self._lines, None)
        if line is None:
            raise Unsound(_SHORT)
        self._words = iter(line.split())

    def values(self, kind: str, count: int) -> list[float]:
        """Read some numbers of a line."""
        found = list(islice(self._words, count))
        if len(found) < count:
            raise Unsound("a face that is cut short")
        return numbers(found, float if kind[0] == "f" else int)


_HEADER = 65_536
"""Bytes in which the head of a file must end."""

_ORDER = {"binary_little_endian": "<", "binary_big_endian": ">"}

_KINDS = {
    word: kind
    for kind, words in {
        "i1": "char int8",
        "u1": "uchar uint8",
        "i2": "short int16",
        "u2": "ushort uint16",
        "i4": "int int32",
        "u4": "uint uint32",
        "f4": "float float32",
        "f8": "double float64",
    }.items()
    for word in words.split()
}


def read_ply(path: Path) -> RawMesh:
    """Return the triangles of a PLY file; polygons are cut as fans.

    Raises Unsound for a damaged file, MeshError for points without triangles and too many of them.
    """
    form, elements, start = _head(path)
    counts = {element.name: element.count for element in elements}
    if not counts.get("face"):
        raise MeshError(
            f"{counts.get('vertex', 0):,} points and no triangles; export a mesh from the scanner, "
            "not a point cloud"
        )
    demand_few(counts["face"], counts.get("vertex", 0))
    size = path.stat().st_size
    if sum(element.count for element in elements) > size:
        raise MeshError(f"announces more than its {size:,} bytes can hold")
    vertices: Floats = np.zeros((0, 3))
    faces: Indices = np.zeros((0, 3), dtype=np.int64)
    with path.open("rb") as file:
        file.seek(start)
        body = InText(file) if form == "ascii" else InBytes(file, _ORDER[form])
        for element in elements:
            if element.name == "vertex":
                vertices = body.points(element)
            elif element.name == "face":
                faces = body.triangles(element)
            else:
                body.skip(element)
    return RawMesh(vertices, faces, source=path.name)


def _head(path: Path) -> tuple[str, list[Element], int]:
    """Return the format, the elements, and where the head ends."""
    with path.open("rb") as file:
        head, end, rest = file.read(_HEADER).partition(b"end_header")
    newline = rest.find(b"\n")
    if not head.startswith(b"ply") or not end or newline < 0:
        raise MeshError("not a PLY file; its head is not whole")
    form, elements = "", list[Element]()
    for line in head.splitlines()[1:]:
        words = line.decode("ascii", "replace").split()
        match words:
            case ["format", given, _]:
                form = given
            case ["element", name, count] if count.isdecimal() and len(count) <= 12:
                elements.append(Element(name, int(count)))
            case ["property", "list", length, kind, name] if elements and {length, kind} <= {
                *_KINDS
            }:
                elements[-1].properties.append(Property(name, _KINDS[kind], _KINDS[length]))
            case ["property", kind, name] if elements and kind in _KINDS:
                elements[-1].properties.append(Property(name, _KINDS[kind], ""))
            case ["element" | "property", *_]:
                raise MeshError(f"unreadable line in its head: {line[:60]!r}")
    if form != "ascii" and form not in _ORDER:
        raise MeshError(f"not a PLY file that is known; its format is {form[:30]!r}")
    return form, elements, len(head) + len(end) + newline + 1
