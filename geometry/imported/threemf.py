"""3MF files: a zip of XML with a stated unit and placed objects."""

from __future__ import annotations

import zlib
from array import array
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO
from xml.parsers import expat
from zipfile import BadZipFile, ZipFile

import numpy as np

from geometry.errors import MeshError
from geometry.imported.parsing import Unsound, assembled, numbers
from geometry.imported.raw import LIMITS, RawMesh, demand_few
from geometry.mesh import Floats, Indices

_UNITS = {
    "micron": "micron",
    "millimeter": "mm",
    "centimeter": "cm",
    "inch": "in",
    "foot": "ft",
    "meter": "m",
}
"""The format's words for its units; millimetre where it says nothing."""

_THINGS = 30_000
"""Objects and places in a file."""

_CHUNK = 1_000_000

Key = tuple[str, str]
"""Path of the model inside the zip and id of the object in it."""


@dataclass
class _Object:
    """An object: its own triangles, and others placed in it."""

    points: array[float] = field(default_factory=lambda: array("d"))
    corners: array[int] = field(default_factory=lambda: array("q"))
    pieces: list[tuple[Key, Floats]] = field(default_factory=list)


def read_threemf(path: Path) -> RawMesh:
    """Return the triangles of a 3MF file, every object at its place.

    Raises Unsound for a damaged file, MeshError for one that unfolds into much more than it is and
    too many triangles.
    """
    reading = _Reading()
    try:
        with ZipFile(path) as packed:
            models = [name for name in packed.namelist() if name.lower().endswith(".model")]
            unpacked = sum(packed.getinfo(name).file_size for name in models)
            most = min(LIMITS.file_bytes, _LEAST_ROOM + _UNFOLDS * path.stat().st_size)
            if unpacked > most:
                raise MeshError(f"{unpacked:,} bytes unpacked; at most {most:,} are read")
            for name in models:
                with _opened(packed, name) as model:
                    reading.read(name, model)
    except (BadZipFile, zlib.error, OSError, EOFError, expat.ExpatError) as error:
        raise Unsound(str(error)) from error
    vertices, faces = assembled(reading.build, reading.pieces, reading.size, reading.parts)
    return RawMesh(vertices, faces, reading.unit, path.name)


def _opened(packed: ZipFile, name: str) -> IO[bytes]:
    """Open a file of a zip; one that is locked or packed in an odd way is told."""
    try:
        return packed.open(name)
    except (RuntimeError, NotImplementedError) as error:
        raise MeshError(f"a 3MF file that cannot be unpacked ({error})") from error


_UNFOLDS = 100
"""How many times its own size a file may unfold to; text of a mesh comes to 4 to 20 times."""

_LEAST_ROOM = 1_000_000
"""Bytes that even the smallest file may unfold to."""

_PIECE = 4_000_000
"""Bytes read of a model that may lie without one end of a tag among them."""


class _Reading:
    """Objects and places as they are read."""

    def __init__(self) -> None:
        self.unit = "mm"
        self.objects: dict[Key, _Object] = {}
        self.build: list[tuple[Key, Floats]] = []
        self._model = ""
        self._now = _Object()
        self._points = self._faces = self._things = 0

    def read(self, name: str, model: IO[bytes]) -> None:
        """Read one model of the zip."""
        self._model = str(PurePosixPath("/") / name)
        chunk = model.read(_CHUNK)
        # The format knows these two, whatever else a file may claim.
        coded = "utf-16" if chunk[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8"
        parser = expat.ParserCreate(coded, "|")
        parser.StartElementHandler = self._start
        parser.StartDoctypeDeclHandler = self._refuse
        fed = 0
        while chunk:
            parser.Parse(chunk, False)
            fed += len(chunk)
            if fed - parser.CurrentByteIndex > _PIECE:
                raise Unsound("a tag without an end")
            chunk = model.read(_CHUNK)
        parser.Parse(b"", True)

    def pieces(self, key: Key) -> list[tuple[Key, Floats]]:
        """Objects that an object is made of, each placed in it."""
        return self._object(key).pieces

    def size(self, key: Key) -> tuple[int, int]:
        """How many triangles and points an object has of its own."""
        thing = self._object(key)
        return len(thing.corners) // 3, len(thing.points) // 3 if thing.corners else 0

    def parts(self, key: Key) -> list[tuple[Floats, Indices]]:
        """Points and triangles of an object's own."""
        thing = self._object(key)
        if not thing.corners:
            return []
        points = np.array(thing.points, dtype=np.float64).reshape(-1, 3)
        return [(points, np.array(thing.corners, dtype=np.int64).reshape(-1, 3))]

    def _object(self, key: Key) -> _Object:
        if key not in self.objects:
            raise Unsound(f"lost at object {key[1]!r}")
        return self.objects[key]

    def _refuse(self, *_: object) -> None:
        # The format forbids them, and they are how a small file unfolds into a huge one.
        raise MeshError("a document type in a 3MF file; expected none")

    def _start(self, full: str, given: dict[str, str]) -> None:
        name = full.rpartition("|")[2]
        if name == "vertex":
            self._points += 1
            demand_few(points=self._points)
            self._now.points.extend(numbers(_words(given, "x", "y", "z"), float))
        elif name == "triangle":
            self._faces += 1
            demand_few(self._faces)
            corners = numbers(_words(given, "v1", "v2", "v3"), int)
            if not 0 <= min(corners) <= max(corners) < LIMITS.vertices:
                raise Unsound("a triangle that points nowhere")
            self._now.corners.extend(corners)
        elif name in ("object", "component", "item"):
            self._things += 1
            if self._things > _THINGS:
                raise Unsound(f"more than {_THINGS:,} objects and places")
            if name == "object":
                self._now = self.objects[self._model, _words(given, "id")[0]] = _Object()
            else:
                (self.build if name == "item" else self._now.pieces).append(self._placed(given))
        elif name == "model":
            self.unit = _UNITS.get(given.get("unit", "millimeter"), "mm")

    def _placed(self, given: dict[str, str]) -> tuple[Key, Floats]:
        other = [value for key, value in given.items() if key.rpartition("|")[2] == "path"]
        X = np.eye(4)
        if "transform" in given:
            words = given["transform"].split()
            if len(words) != 12:
                raise Unsound(f"a transform of {len(words)} numbers")
            X[:3] = np.array(numbers(words, float)).reshape(4, 3).T
        return (other[0] if other else self._model, _words(given, "objectid")[0]), X


def _words(given: Mapping[str, str], *keys: str) -> list[str]:
    """Return what is given for some keys. Raises Unsound for one that is not."""
    for key in keys:
        if key not in given:
            raise Unsound(f"{key} is not given")
    return [given[key] for key in keys]
