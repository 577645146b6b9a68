"""PLY files: points and triangles, as text or binary; no unit."""

from __future__ import annotations

from pathlib import Path

from geometry.errors import MeshError
from geometry.imported.foreign import read_foreign
from geometry.imported.limits import LIMITS
from geometry.imported.raw import RawMesh
from geometry.imported.stl import demand_few

_HEADER = 65_536
"""Bytes in which the head of a file must end."""


def read_ply(path: Path) -> RawMesh:
    """Return the triangles of a PLY file; polygons are cut into triangles.

    Raises MeshError for a damaged file, for points without triangles and for too many of either.
    """
    counts = _counts(path)
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
    if counts["face"] + counts.get("vertex", 0) > size:
        raise MeshError(f"{path.name}: announces more than its {size:,} bytes can hold")
    return read_foreign(path, "ply")


def _counts(path: Path) -> dict[str, int]:
    """Return how many there are of each element, by the head of the file."""
    with path.open("rb") as file:
        head, end, _ = file.read(_HEADER).partition(b"end_header")
    if not head.startswith(b"ply") or not end:
        raise MeshError(f"{path.name}: not a PLY file; its head is not whole")
    counts: dict[str, int] = {}
    for line in head.splitlines():
        words = line.split()
        if words[:1] == [b"element"]:
            if len(words) != 3 or not words[2].isdigit() or len(words[2]) > 12:
                raise MeshError(f"{path.name}: unreadable line in its head: {line[:60]!r}")
            counts[words[1].decode("ascii", "replace")] = int(words[2])
    return counts
