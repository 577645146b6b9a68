"""3MF files: a zip of XML with a stated unit and placed objects."""

from __future__ import annotations

import zlib
from array import array
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO
from xml.parsers import expat
from zipfile import BadZipFile, ZipFile

import numpy as np

from geometry.errors import MeshError
from geometry.imported.limits import LIMITS
from geometry.imported.raw import Faces, RawMesh
from geometry.imported.stl import demand_few
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

Key = tuple[str, str]
"""Path of the model inside the zip and id of the object in it."""


@dataclass
class _Object:
    points: array[float] = field(default_factory=lambda: array("d"))
    corners: array[int] = field(default_factory=lambda: array("q"))
    pieces: list[tuple[Key, Floats]] = field(default_factory=list)


def read_threemf(path: Path) -> RawMesh:
    """Return the triangles of a 3MF file, every object at its place.

    Raises MeshError for a damaged file and for too many triangles.
    """
    try:
        with ZipFile(path) as packed:
            models = [name for name in packed.namelist() if name.lower().endswith(".model")]
            unpacked = sum(packed.getinfo(name).file_size for name in models)
            if unpacked > LIMITS.file_bytes:
                raise MeshError(
                    f"{path.name}: {unpacked:,} bytes unpacked; at most {LIMITS.file_bytes:,} are "
                    "read"
                )
            reading = _Reading(path.name)
            for name in models:
                with packed.open(name) as model:
                    reading.read(name, model)
    except (BadZipFile, zlib.error, OSError, EOFError, RuntimeError, NotImplementedError) as error:
        raise MeshError(f"{path.name}: not a sound 3MF file ({error})") from error
    except (expat.ExpatError, KeyError, ValueError, OverflowError) as error:
        if isinstance(error, MeshError):
            raise
        raise MeshError(f"{path.name}: not a sound 3MF file ({error!r})") from error
    return reading.whole()


class _Reading:
    """Objects and places as they are read."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.unit = "mm"
        self.objects: dict[Key, _Object] = {}
        self.build: list[tuple[Key, Floats]] = []
        self._model = ""
        self._now = _Object()

    def read(self, name: str, model: IO[bytes]) -> None:
        """Read one model of the zip."""
        self._model = str(PurePosixPath("/") / name)
        parser = expat.ParserCreate(namespace_separator="|")
        parser.StartElementHandler = self._start
        parser.StartDoctypeDeclHandler = self._refuse
        while chunk := model.read(_CHUNK):
            parser.Parse(chunk, False)
        parser.Parse(b"", True)

    def _refuse(self, *_: object) -> None:
        # The format forbids them, and they are how a small file unfolds into a huge one.
        raise MeshError(f"{self.source}: a document type in a 3MF file; expected none")

    def _start(self, full: str, given: dict[str, str]) -> None:
        name = full.rpartition("|")[2]
        if name == "vertex":
            self._now.points.extend((float(given["x"]), float(given["y"]), float(given["z"])))
        elif name == "triangle":
            self._now.corners.extend((int(given["v1"]), int(given["v2"]), int(given["v3"])))
        elif name == "object":
            self._now = self.objects[self._model, given["id"]] = _Object()
        elif name == "component":
            self._now.pieces.append(self._placed(given))
        elif name == "item":
            self.build.append(self._placed(given))
        elif name == "model":
            self.unit = _UNITS.get(given.get("unit", "millimeter"), "mm")

    def _placed(self, given: dict[str, str]) -> tuple[Key, Floats]:
        other = [value for key, value in given.items() if key.rpartition("|")[2] == "path"]
        X = np.zeros((4, 3))
        X[:3] = np.eye(3)
        if "transform" in given:
            X = np.array([float(word) for word in given["transform"].split()]).reshape(4, 3)
        return (other[0] if other else self._model, given["objectid"]), X

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
            own = np.array(thing.corners, dtype=np.int64).reshape(-1, 3)
            count += len(own)
            demand_few(self.source, count)
            if not len(own):
                continue
            at = np.array(thing.points, dtype=np.float64).reshape(-1, 3)
            if own.min() < 0 or own.max() >= len(at):
                raise MeshError(f"{self.source}: triangles point outside their {len(at)} points")
            for X in chain:
                at = at @ X[:3] + X[3]
                if np.linalg.det(X[:3]) < 0.0:
                    own = own[:, ::-1]
            points.append(at)
            faces.append(own + start)
            start += len(at)
        return RawMesh(np.concatenate(points), np.concatenate(faces), self.unit, self.source)
