"""3MF files: a zip of XML with a stated unit and placed objects."""

from __future__ import annotations

import zlib
from array import array
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO
from xml.parsers import expat
from zipfile import BadZipFile, ZipFile

import numpy as np

from geometry.errors import MeshError
from geometry.imported.raw import LIMITS, Faces, RawMesh, demand_few
from geometry.mesh import Floats

_UNITS = {
    "micron": "micron",
    "millimeter": "mm",
    "centimeter": "cm",
    "inch": "in",
    "foot": "ft",
    "meter": "m",
}
"""The format's words for its units; millimetre where it says nothing."""

_DEPTH = 12
"""How deep objects may be made of objects."""

_PLACES = 10_000
"""Placed objects in a file."""

_CHUNK = 1_000_000

_MOST = 2**31
"""Numbers of points from which on none is meant."""

Key = tuple[str, str]
"""Path of the model inside the zip and id of the object in it."""


@dataclass
class _Object:
    points: array[float] = field(default_factory=lambda: array("d"))
    corners: array[int] = field(default_factory=lambda: array("q"))
    pieces: list[tuple[Key, Floats]] = field(default_factory=list)


def read_threemf(path: Path) -> RawMesh:
    """Return the triangles of a 3MF file, every object at its place.

    Raises MeshError for a damaged file, one that unfolds into much more than it is, and too many
    triangles.
    """
    reading = _Reading(path.name)
    try:
        with ZipFile(path) as packed:
            models = [name for name in packed.namelist() if name.lower().endswith(".model")]
            unpacked = sum(packed.getinfo(name).file_size for name in models)
            most = min(LIMITS.file_bytes, _LEAST_ROOM + _UNFOLDS * path.stat().st_size)
            if unpacked > most:
                raise MeshError(
                    f"{path.name}: {unpacked:,} bytes unpacked; at most {most:,} are read"
                )
            for name in models:
                with _opened(packed, name, path.name) as model:
                    reading.read(name, model)
    except (BadZipFile, zlib.error, OSError, EOFError, expat.ExpatError) as error:
        raise MeshError(f"{path.name}: not a sound 3MF file ({error})") from error
    return reading.whole()


def _opened(packed: ZipFile, name: str, source: str) -> IO[bytes]:
    """Open a file of a zip; one that is locked or packed in an odd way is told."""
    try:
        return packed.open(name)
    except (RuntimeError, NotImplementedError) as error:
        raise MeshError(f"{source}: a 3MF file that cannot be unpacked ({error})") from error


_UNFOLDS = 100
"""How many times its own size a file may unfold to; text of a mesh comes to 4 to 20 times."""

_LEAST_ROOM = 1_000_000
"""Bytes that even the smallest file may unfold to."""

_PIECE = 4_000_000
"""Bytes read of a model that may lie without one end of a tag among them."""


class _Reading:
    """Objects and places as they are read."""

    def __init__(self, source: str) -> None:
        self.source = source
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
                raise self._unsound("a tag without an end")
            chunk = model.read(_CHUNK)
        parser.Parse(b"", True)

    def _refuse(self, *_: object) -> None:
        # The format forbids them, and they are how a small file unfolds into a huge one.
        raise MeshError(f"{self.source}: a document type in a 3MF file; expected none")

    def _start(self, full: str, given: dict[str, str]) -> None:
        name = full.rpartition("|")[2]
        if name == "vertex":
            self._points += 1
            if self._points > LIMITS.vertices:
                raise MeshError(f"{self.source}: more than {LIMITS.vertices:,} points")
            self._now.points.extend(self._numbers(given, ("x", "y", "z")))
        elif name == "triangle":
            self._faces += 1
            demand_few(self.source, self._faces)
            self._now.corners.extend(
                int(number) for number in self._numbers(given, ("v1", "v2", "v3"), _MOST)
            )
        elif name == "object":
            self._count_thing()
            self._now = self.objects[self._model, self._word(given, "id")] = _Object()
        elif name == "component":
            self._count_thing()
            self._now.pieces.append(self._placed(given))
        elif name == "item":
            self._count_thing()
            self.build.append(self._placed(given))
        elif name == "model":
            self.unit = _UNITS.get(given.get("unit", "millimeter"), "mm")

    def _count_thing(self) -> None:
        self._things += 1
        if self._things > 3 * _PLACES:
            raise self._unsound(f"more than {3 * _PLACES:,} objects and places")

    def _placed(self, given: dict[str, str]) -> tuple[Key, Floats]:
        other = [value for key, value in given.items() if key.rpartition("|")[2] == "path"]
        X = np.zeros((4, 3))
        X[:3] = np.eye(3)
        if "transform" in given:
            words = given["transform"].split()
            if len(words) != 12:
                raise self._unsound(f"a transform of {len(words)} numbers")
            places = [str(k) for k in range(12)]
            X = np.array(self._numbers(dict(zip(places, words, strict=True)), places))
            X = X.reshape(4, 3)
        return (other[0] if other else self._model, self._word(given, "objectid")), X

    def _word(self, given: Mapping[str, str], key: str) -> str:
        if key not in given:
            raise self._unsound(f"{key} is not given")
        return given[key]

    def _numbers(
        self, given: Mapping[str, str], keys: Iterable[str], most: float = np.inf
    ) -> list[float]:
        words = [self._word(given, key) for key in keys]
        try:
            found = [float(word) for word in words]
        except ValueError as error:
            raise self._unsound(str(error)) from error
        if most < np.inf and not all(0.0 <= n < most and n.is_integer() for n in found):
            raise self._unsound("a triangle that points nowhere")
        return found

    def _unsound(self, why: str) -> MeshError:
        return MeshError(f"{self.source}: not a sound 3MF file ({why})")

    def whole(self) -> RawMesh:
        """Return all that is built, as one mesh in the unit of the file."""
        points: list[Floats] = [np.zeros((0, 3))]
        faces: list[Faces] = [np.zeros((0, 3), dtype=np.int64)]
        start = count = 0
        waiting = [(key, [X], 0) for key, X in self.build]
        for places in range(_PLACES + 1):
            if not waiting:
                break
            key, chain, depth = waiting.pop()
            thing = self.objects.get(key)
            if thing is None or depth > _DEPTH or places + len(waiting) >= _PLACES:
                raise MeshError(f"{self.source}: not a sound 3MF file; lost at object {key[1]!r}")
            waiting += [(inner, [X, *chain], depth + 1) for inner, X in thing.pieces]
            count += len(thing.corners) // 3
            demand_few(self.source, count)
            if not thing.corners:
                continue
            start_next = start + len(thing.points) // 3
            if start_next > LIMITS.vertices:
                raise MeshError(f"{self.source}: more than {LIMITS.vertices:,} points")
            own = np.array(thing.corners, dtype=np.int64).reshape(-1, 3)
            at = np.array(thing.points, dtype=np.float64).reshape(-1, 3)
            if own.min() < 0 or own.max() >= len(at):
                raise MeshError(f"{self.source}: triangles point outside their {len(at)} points")
            for X in chain:
                with np.errstate(all="ignore"):  # no numbers at all are told of later
                    at = at @ X[:3] + X[3]
                    if np.linalg.det(X[:3]) < 0.0:
                        own = own[:, ::-1]
            points.append(at)
            faces.append(own + start)
            start = start_next
        return RawMesh(np.concatenate(points), np.concatenate(faces), self.unit, self.source)
