"""The wall of a round hole or stub, by its triangles.

What the wall covers is told by whole triangles, never by where their corners happen to lie: a bore
from CAD has all its corners on its two rims and nothing between them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geometry.contact.triangles import dot
from geometry.imported.cylinder import Cylinder, fitted
from geometry.mesh import Booleans, Floats, Indices, Mesh

SECTORS = 72
"""Parts of the full round that are told apart, 5 deg each."""

_FACING = np.cos(np.radians(25.0))
_SQUARE = np.sin(np.radians(20.0))
"""How far a triangle may be from facing the axis, and from being square to it."""

_ROUGH = 0.5
"""The same, as a cosine, for a triangle that lies among samples of the wall: a scanner's noise
turns single triangles by more than it turns what is averaged over some of them."""

_RUN = 0.1
"""Share of the full round from which a slice belongs to a wall."""

_BRIDGED = 0.35
"""Gap in a wall, in radii, that is no end of it: a groove for a ring, a hole for grease."""


def wall_faces(
    mesh: Mesh, hole: Cylinder, within: float, way: float = -1.0, among: Booleans | None = None
) -> Indices:
    """Return the triangles that lie on a cylinder, all corners within a distance of it.

    way : -1 for a hole, whose wall faces its axis; 1 for a stub
    among : (m,) triangles that are known to lie among samples of the wall
    """
    near = (np.abs(hole.off(mesh.vertices)) < within)[mesh.faces].all(axis=1)
    rows = np.flatnonzero(near)
    normal = mesh.normals[rows]
    radial = hole.radial(mesh.triangles[rows].mean(axis=1))
    facing = way * dot(radial, normal) / np.maximum(np.linalg.norm(radial, axis=1), 1e-300)
    sound = (facing > _FACING) & (np.abs(normal @ hole.axis) < _SQUARE)
    if among is not None:
        sound |= among[rows] & (facing > _ROUGH)
    return np.asarray(rows[sound])


def settled(
    mesh: Mesh,
    start: Cylinder,
    within: float,
    faces_of: Callable[[Cylinder, float], Indices],
) -> tuple[Cylinder, Indices]:
    """Fit a cylinder to the triangles that lie on it, in turns; return it and its triangles.

    within : how near its corners have to be at first
    faces_of : gives the triangles within a distance of a cylinder
    """
    wall = start
    faces = faces_of(wall, within)
    for _ in range(_ROUNDS):
        corners = np.unique(mesh.faces[faces])
        if len(corners) < FEWEST:
            break
        few = corners[:: 1 + len(corners) // FITTED]
        wall = fitted(mesh.vertices[few], wall, 0.3 * within)
        scatter = 1.48 * float(np.median(np.abs(wall.off(mesh.vertices[corners]))))
        within = float(np.clip(4.0 * scatter, 0.002 * wall.radius, min(within, 0.05 * wall.radius)))
        faces = faces_of(wall, within)
    return wall, faces


_ROUNDS = 4

FEWEST = 12
"""Samples on a wall, or corners of it, below which it is chance."""

FITTED = 8_000
"""Corners that are fitted at most; noise of 0.1 mm then leaves some thousandths of a mm."""


@dataclass(frozen=True, eq=False)
class Run:
    """A stretch of wall along its axis.

    start, stop : places along the axis
    arc : share of the full round it covers
    area : of what is covered
    """

    start: float
    stop: float
    arc: float
    area: float


def runs_of(mesh: Mesh, faces: Indices, hole: Cylinder) -> list[Run]:
    """Return the stretches of wall that triangles of a mesh cover, in order along the axis."""
    if not len(faces):
        return []
    step = 0.04 * hole.radius
    start, covered = _covered(mesh.triangles[faces], hole, step)
    share = covered.mean(axis=1)
    sound = np.flatnonzero(share >= _RUN)
    if not len(sound):
        return []
    breaks = np.flatnonzero(np.diff(sound) * step > _BRIDGED * hole.radius)
    found = []
    for group in np.split(sound, breaks + 1):
        rows = covered[group[0] : group[-1] + 1]
        depth = rows.sum(axis=0)
        # A sector that a stray triangle has crossed is no wall.
        arc = float((depth >= 0.25 * depth.max()).mean())
        area = float(rows.mean(axis=1).sum()) * step * 2.0 * np.pi * hole.radius
        low, high = start + step * group[0], start + step * (group[-1] + 1)
        found.append(Run(float(low), float(high), arc, area))
    return found


def _covered(triangles: Floats, hole: Cylinder, step: float) -> tuple[float, Booleans]:
    """Return where the first slice starts and which sectors each slice meets, (slices, SECTORS)."""
    along = hole.along(triangles)
    start = float(along.min())
    count = max(int(np.ceil((float(along.max()) - start) / step)), 1)
    covered = np.zeros((count, SECTORS), dtype=bool)
    bearing = hole.bearing(triangles)
    bearing = bearing[:, :1] + wrapped(bearing - bearing[:, :1])
    order = np.argsort(along, axis=1)
    y, turn = np.take_along_axis(along, order, 1), np.take_along_axis(bearing, order, 1)
    # Slices are asked at their middles.
    first = np.ceil((y[:, 0] - start) / step - 0.5).astype(np.int64)
    last = np.floor((y[:, 2] - start) / step - 0.5).astype(np.int64)
    times = np.maximum(last - first + 1, 0)
    row = np.repeat(np.arange(len(times)), times)
    number = np.arange(len(row)) - np.repeat(np.cumsum(times) - times, times)
    layer = np.minimum(first[row] + number, count - 1)
    at = start + (first[row] + number + 0.5) * step
    long = _between(at, y[row, 0], y[row, 2], turn[row, 0], turn[row, 2])
    upper = at > y[row, 1]
    short = np.where(
        upper,
        _between(at, y[row, 1], y[row, 2], turn[row, 1], turn[row, 2]),
        _between(at, y[row, 0], y[row, 1], turn[row, 0], turn[row, 1]),
    )
    width = 2.0 * np.pi / SECTORS
    low = np.ceil(np.minimum(long, short) / width - 0.5).astype(np.int64)
    high = np.floor(np.maximum(long, short) / width - 0.5).astype(np.int64)
    for k in range(min(int((high - low).max(initial=-1)) + 1, SECTORS)):
        here = low + k <= high
        covered[layer[here], (low[here] + k) % SECTORS] = True
    return start, covered


def _between(at: Floats, start: Floats, stop: Floats, one: Floats, other: Floats) -> Floats:
    """Return the value at a place between two, by a straight line."""
    length = np.where(stop > start, stop - start, 1.0)
    share = np.clip((at - start) / length, 0.0, 1.0)
    return np.asarray(one + share * (other - one))


def wrapped(angle: Floats) -> Floats:
    """Return an angle between half a turn back and half a turn on."""
    return np.asarray((angle + np.pi) % (2.0 * np.pi) - np.pi)
