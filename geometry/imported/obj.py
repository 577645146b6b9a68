"""OBJ files: points and polygons as text; no unit.

Read line by line: what is kept is a number for every number in the file, whatever groups, objects
and materials it is cut into.
"""

from __future__ import annotations

from array import array
from itertools import pairwise
from pathlib import Path

import numpy as np

from geometry.errors import MeshError
from geometry.imported.raw import LIMITS, RawMesh, demand_few


def read_obj(path: Path) -> RawMesh:
    """Return the triangles of an OBJ file, all its groups together; polygons are cut as fans.

    Raises MeshError for a damaged file, for one without faces and for too many triangles.
    """
    points, corners = array("d"), array("q")
    with path.open("rb") as file:
        while line := file.readline(LIMITS.text_line):
            if len(line) == LIMITS.text_line:
                raise MeshError(f"{path.name}: a line of more than {LIMITS.text_line:,} bytes")
            while line.endswith((b"\\\n", b"\\\r\n")) and len(line) < LIMITS.text_line:
                line = line.rstrip(b"\\\r\n") + b" " + file.readline(LIMITS.text_line)
            words = line.split()
            if words[:1] == [b"v"]:
                points.extend(_numbers(path.name, words))
                if len(points) > 3 * LIMITS.vertices:
                    raise MeshError(
                        f"{path.name}: more than {LIMITS.vertices:,} points; no more are read"
                    )
            elif words[:1] == [b"f"]:
                corners.extend(_fan(path.name, words[1:], len(points) // 3))
                demand_few(path.name, len(corners) // 3)
    if not corners:
        count = len(points) // 3
        raise MeshError(f"{path.name}: {count:,} points and no faces; expected a surface")
    vertices = np.array(points, dtype=np.float64).reshape(-1, 3)
    faces = np.array(corners, dtype=np.int64).reshape(-1, 3)
    if faces.min() < 0 or faces.max() >= len(vertices):
        raise _unsound(path.name, f"faces point outside its {len(vertices):,} points")
    return RawMesh(vertices, faces, source=path.name)


def _numbers(name: str, words: list[bytes]) -> list[float]:
    """Return the place of a point; weights and colours behind it are left."""
    try:
        place = [float(word) for word in words[1:4]]
    except ValueError as error:
        raise _unsound(name, str(error)) from error
    if len(place) != 3:
        raise _unsound(name, f"a point of {len(place)} numbers")
    return place


def _fan(name: str, words: list[bytes], there: int) -> list[int]:
    """Return the corners of a polygon's triangles; numbers below zero count from the last point."""
    try:
        numbers = [int(word.partition(b"/")[0]) for word in words]
    except ValueError as error:
        raise _unsound(name, str(error)) from error
    if len(numbers) < 3:
        raise _unsound(name, f"a face of {len(numbers)} corners")
    if 0 in numbers or max(numbers) >= _MOST or min(numbers) <= -_MOST:
        raise _unsound(name, "a corner that is no point of it")
    at = [number - 1 if number > 0 else there + number for number in numbers]
    return [k for one, other in pairwise(at[1:]) for k in (at[0], one, other)]


_MOST = 2**31
"""Numbers of points from which on none is meant."""


def _unsound(name: str, why: str) -> MeshError:
    return MeshError(f"{name}: not a sound OBJ file ({why})")
