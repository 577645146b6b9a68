"""What readers of mesh files share: lines and numbers of text, polygons cut as fans, placed parts.

Everything is counted before anything is made room for.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from functools import cache
from itertools import islice, pairwise
from typing import BinaryIO, TypeVar

import numpy as np

from geometry.errors import BindpointError, MeshError
from geometry.imported.raw import LIMITS, demand_few
from geometry.mesh import Floats, Indices

Key = TypeVar("Key", bound=Hashable)
Number = TypeVar("Number", int, float)


class Unsound(BindpointError, ValueError):  # noqa: N818  (said of the file, in its reader's words)
    """Something in a file is not as its format has it."""


def lines(file: BinaryIO) -> Iterator[bytes]:
    """Yield the lines of a text, those that a backslash goes on as one.

    Raises MeshError for a line that is longer than any of a mesh.
    """
    while line := file.readline(LIMITS.text_line):
        while line.endswith((b"\\\n", b"\\\r\n")) and len(line) < LIMITS.text_line:
            line = line.rstrip(b"\\\r\n") + b" " + file.readline(LIMITS.text_line)
        if len(line) >= LIMITS.text_line:
            raise MeshError(f"a line of more than {LIMITS.text_line:,} bytes")
        yield line


def numbers(words: Iterable[str | bytes | float], kind: type[Number]) -> list[Number]:
    """Return words, or other numbers, as numbers of a kind. Raises Unsound where one is none."""
    try:
        return [kind(word) for word in words]
    except (ValueError, OverflowError) as error:
        raise Unsound(str(error)) from error


def fan(corners: Sequence[int]) -> list[int]:
    """Return the corners of the triangles that a polygon is cut into, one triangle after another.

    Raises Unsound for less than a triangle and for corners that no file may have.
    """
    if len(corners) < 3:
        raise Unsound(f"a face of {len(corners)} corners")
    if min(corners) < 0 or max(corners) > LIMITS.vertices:
        raise Unsound("a corner that is no point of it")
    return [k for one, other in pairwise(corners[1:]) for k in (corners[0], one, other)]


_PLACES = 10_000
"""Placed things in a file; an assembly of one joint has dozens."""

Placed = Iterable[tuple[Key, Floats]]
"""Things and the pose of each, (4, 4): a point p of it is put at X[:3, :3] @ p + X[:3, 3]."""


@np.errstate(all="ignore")  # no numbers at all are told of later
def assembled(
    roots: Placed[Key],
    below: Callable[[Key], Placed[Key]],
    size: Callable[[Key], tuple[int, int]],
    parts: Callable[[Key], Iterable[tuple[Floats, Indices]]],
) -> tuple[Floats, Indices]:
    """Return points and triangles of a tree of placed things, each at its place.

    roots : what is at the top; below : what hangs on a thing, posed in it
    size : how many triangles and points a thing has of its own; parts : gives them

    Each place costs the same however deep it hangs. Raises Unsound for more places than a part
    can have, as in a ring, and for corners that are no points; MeshError for too many triangles.
    """
    waiting, places = list(islice(roots, _PLACES + 1)), list[tuple[Key, Floats]]()
    while waiting:
        if len(places) + 1 + len(waiting) > _PLACES:
            raise Unsound(f"more than {_PLACES:,} places in it, or a loop among them")
        key, X = waiting.pop()
        places.append((key, X))
        waiting += [(child, X @ X_child) for child, X_child in islice(below(key), _PLACES + 1)]
    sizes = list(map(cache(size), (key for key, _ in places)))
    demand_few(sum(faces for faces, _ in sizes), sum(points for _, points in sizes))
    vertices, corners = [np.zeros((0, 3))], [np.zeros((0, 3), dtype=np.int64)]
    start = 0
    for key, X in places:
        for points, faces in parts(key):
            if len(faces) and not 0 <= faces.min() <= faces.max() < len(points):
                raise Unsound(f"triangles point outside their {len(points):,} points")
            vertices.append(points @ X[:3, :3].T + X[:3, 3])
            mirrored = np.linalg.det(X[:3, :3]) < 0.0
            corners.append((faces[:, ::-1] if mirrored else faces) + start)
            start += len(points)
    return np.concatenate(vertices), np.concatenate(corners)
