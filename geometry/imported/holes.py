"""The holes of a surface, and closing them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from geometry.edges import Edges
from geometry.errors import MeshError
from geometry.imported.cylinder import square_to
from geometry.imported.raw import LIMITS
from geometry.mesh import Floats, Indices


@dataclass(frozen=True, eq=False)
class Hole:
    """A hole in a surface.

    loop : (n,) vertices round it, in the order of a face that closes it
    length : round its edge
    size : longest side of the box around it
    """

    loop: Indices
    length: float
    size: float


def holes_in(vertices: Floats, faces: Indices) -> list[Hole]:
    """Return every hole, the longest first.

    Raises MeshError when there are too many open edges for a surface.
    """
    edges = Edges(faces)
    if len(edges.open) > LIMITS.boundary_edges:
        raise MeshError(
            f"{len(edges.open):,} edges of the surface are open, at most "
            f"{LIMITS.boundary_edges:,} are closed; expected the skin of a solid, with holes"
        )
    found = []
    for loop in _loops(edges.directed[edges.open][:, ::-1]):
        corner = vertices[loop]
        length = float(np.linalg.norm(corner - np.roll(corner, -1, axis=0), axis=1).sum())
        found.append(Hole(loop, length, float(np.ptp(corner, axis=0).max())))
    return sorted(found, key=lambda hole: -hole.length)


def _loops(directed: Indices) -> list[Indices]:
    """Return closed walks along the edges, (k, 2); one that meets itself becomes several."""
    onward: dict[int, list[int]] = {}
    for start, end in directed.tolist():
        onward.setdefault(start, []).append(end)
    loops = []
    for first in list(onward):
        walk, place = [first], {first: 0}
        while walk and onward.get(walk[-1]):
            after = onward[walk[-1]].pop()
            if after in place:
                start = place[after]
                if len(walk) - start >= 3:
                    loops.append(np.array(walk[start:], dtype=np.int64))
                for gone in walk[start + 1 :]:
                    del place[gone]
                del walk[start + 1 :]
            else:
                place[after] = len(walk)
                walk.append(after)
    return loops


def filled(vertices: Floats, faces: Indices, holes: list[Hole]) -> list[Indices]:
    """Return for each hole the triangles, (n - 2, 3), that close it without new points.

    Ears are cut from the loop as it is seen square on; where it overlaps itself in that view
    the triangles may fold, but they always close it. No triangle takes an edge that the surface
    has already, where that can be helped: an edge between more than two triangles is no skin.
    Raises MeshError when a loop is too long.
    """
    taken = _between(faces, np.concatenate([hole.loop for hole in holes])) if holes else set()
    return [_fill(vertices, hole, taken) for hole in holes]


def _between(faces: Indices, points: Indices) -> set[tuple[int, int]]:
    """Return the edges with both ends among some points, each as (lower, higher)."""
    rim = np.zeros(int(faces.max()) + 1, dtype=bool)
    rim[points] = True
    edges = Edges(faces).directed
    edges = np.sort(edges[rim[edges[:, 0]] & rim[edges[:, 1]]], axis=1)
    return {(a, b) for a, b in edges.tolist()}


def _fill(vertices: Floats, hole: Hole, taken: set[tuple[int, int]]) -> Indices:
    if len(hole.loop) > LIMITS.hole_edges:
        raise MeshError(
            f"a hole has {len(hole.loop):,} edges, at most {LIMITS.hole_edges:,} are filled; close "
            "it in the scanner's software or reduce the mesh there"
        )
    points, left = _square_on(vertices[hole.loop]), list(range(len(hole.loop)))
    number = hole.loop.tolist()
    made = []
    while len(left) > 3:
        for k in _by_merit(points[left]):
            before, after = left[k - 1], left[(k + 1) % len(left)]
            ends = sorted((number[before], number[after]))
            if (ends[0], ends[1]) not in taken:
                break
        taken.add((ends[0], ends[1]))
        made.append([before, left[k], after])
        del left[k]
    made.append(left)
    return np.asarray(hole.loop[np.array(made, dtype=np.int64)])


def _square_on(loop: Floats) -> Floats:
    """Return a loop of points in the plane of its area, (n, 2), counter-clockwise."""
    at = loop - loop.mean(axis=0)
    area = 0.5 * np.cross(at, np.roll(at, -1, axis=0)).sum(axis=0)
    size = float(np.linalg.norm(area))
    if size == 0.0:
        area, size = np.array([0.0, 0.0, 1.0]), 1.0
    return np.asarray(at @ np.stack(square_to(area / size), axis=1))


def _by_merit(polygon: Floats) -> Iterator[int]:
    """Yield the corners of a counter-clockwise polygon, (n, 2), in the order to cut them off.

    First the ears, that with the shortest cut before the others; then, where there is none, the
    corner with the shortest cut.
    """
    before, after = np.roll(polygon, 1, axis=0), np.roll(polygon, -1, axis=0)
    turn = _cross(polygon - before, after - polygon)
    cut = np.einsum("ij,ij->i", after - before, after - before)
    order = np.argsort(np.where(turn > 0.0, cut, np.inf), kind="stable")
    hollow = polygon[turn <= 0.0]
    for k in order[: int((turn > 0.0).sum())]:
        a, b, c = before[k], polygon[k], after[k]
        inside = (
            (_cross(b - a, hollow - a) >= 0.0)
            & (_cross(c - b, hollow - b) >= 0.0)
            & (_cross(a - c, hollow - c) >= 0.0)
        )
        corner = (hollow == a).all(axis=1) | (hollow == c).all(axis=1)
        if not (inside & ~corner).any():
            yield int(k)
    yield from np.argsort(cut, kind="stable").tolist()


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])
