"""STL files, binary and text: triangles with no shared corners and no unit.

By hand, since the mesh library takes 8 bytes of memory for one of text: 2.5 GB for the largest file
that is read, three times what is allowed here.
"""

from __future__ import annotations

import re
from itertools import chain
from pathlib import Path

import numpy as np

from geometry.errors import MeshError
from geometry.imported.raw import LIMITS, RawMesh, demand_few
from geometry.mesh import Floats

_HEADER, _RECORD = 84, 50

_TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("extra", "<u2")])

_CORNER = re.compile(rb"vertex\s+(\S+)\s+(\S+)\s+(\S+)", re.IGNORECASE)

_NEVER_IN_TEXT = re.compile(rb"[\x00-\x08\x0e-\x1f]")
"""Bytes that no text has, whatever its encoding; the head of a binary STL file has zeros."""

_CHUNK = 4_000_000
"""Bytes of a text file looked at together."""


def read_stl(path: Path) -> RawMesh:
    """Return the triangles of an STL file, binary or text.

    Raises MeshError for a file that is cut short or not STL, or has too many triangles.
    """
    size = path.stat().st_size
    with path.open("rb") as file:
        start = file.read(_HEADER)
    count = int.from_bytes(start[80:84], "little") if len(start) == _HEADER else -1
    full = _HEADER + _RECORD * count
    if count >= 0 and size == full:
        return _binary(path, count)
    if start.lstrip()[:5].lower() == b"solid":
        return _text(path)
    if count >= 0 and full < size:  # some programs write something of their own behind
        return _binary(path, count)
    if start and not _NEVER_IN_TEXT.search(start):
        raise MeshError(
            "this is text and no STL file, whatever it is called; export the part as STL again"
        )
    raise MeshError(
        f"not a whole STL file; its head announces {max(count, 0):,} triangles, which take "
        f"{full:,} bytes, and it has {size:,}"
    )


def _binary(path: Path, count: int) -> RawMesh:
    demand_few(count)
    records = np.fromfile(path, dtype=_TRIANGLE, count=count, offset=_HEADER)
    with np.errstate(invalid="ignore"):  # no numbers at all are told of later
        corners = records["corners"].astype(np.float64)
    return _soup(path.name, corners.reshape(-1, 3))


def _text(path: Path) -> RawMesh:
    corners: list[Floats] = []
    found, rest = 0, b""
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK):
            lines, newline, rest = (rest + chunk).rpartition(b"\n")
            if not newline and len(rest) > LIMITS.text_line:
                raise MeshError(f"a line of more than {LIMITS.text_line:,} bytes")
            corners.append(_corners(lines))
            found += len(corners[-1])
            demand_few(found // 3)
    corners.append(_corners(rest))
    points = np.concatenate(corners)
    if len(points) % 3:
        raise MeshError(f"not a whole STL file; {len(points):,} corners in threes")
    return _soup(path.name, points)


def _corners(text: bytes) -> Floats:
    numbers = chain.from_iterable(_CORNER.findall(text))
    try:
        # As numbers straight away: a table of words is as wide as its longest word everywhere.
        return np.fromiter(map(float, numbers), dtype=np.float64).reshape(-1, 3)
    except ValueError as error:
        raise MeshError(f"a corner without three numbers in it ({error})") from error


def _soup(name: str, points: Floats) -> RawMesh:
    return RawMesh(points, np.arange(len(points)).reshape(-1, 3), source=name)
