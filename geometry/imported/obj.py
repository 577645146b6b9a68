"""OBJ files: points and polygons as text; no unit.

Read line by line: what is kept is a number for every number in the file, whatever groups, objects
and materials it is cut into.
"""

from __future__ import annotations

from array import array
from pathlib import Path

import numpy as np

from geometry.errors import MeshError
from geometry.imported.parsing import Unsound, fan, lines, numbers
from geometry.imported.raw import RawMesh, demand_few


def read_obj(path: Path) -> RawMesh:
    """Return the triangles of an OBJ file, all its groups together; polygons are cut as fans.

    Raises Unsound for a damaged file, MeshError for one without faces and too many triangles.
    """
    points, corners = array("d"), array("q")
    with path.open("rb") as file:
        for words in map(bytes.split, lines(file)):
            if words[:1] == [b"v"]:
                place = numbers(words[1:4], float)  # weights and colours behind it are left
                if len(place) != 3:
                    raise Unsound(f"a point of {len(place)} numbers")
                points.extend(place)
                demand_few(points=len(points) // 3)
            elif words[:1] == [b"f"]:
                given = numbers((word.partition(b"/")[0] for word in words[1:]), int)
                # From 1 upward; below zero they count from the last point.
                there = len(points) // 3
                corners.extend(fan([n - 1 if n > 0 else there + n if n else -1 for n in given]))
                demand_few(len(corners) // 3)
    if not corners:
        raise MeshError(f"{len(points) // 3:,} points and no faces; expected a surface")
    return RawMesh(
        np.array(points, dtype=np.float64).reshape(-1, 3),
        np.array(corners, dtype=np.int64).reshape(-1, 3),
        source=path.name,
    )
