"""The wall of a round hole or stub, by its triangles, and the faces of the ears at its ends.

What the wall covers is told by whole triangles, never by where their corners happen to lie: a bore
from CAD has all its corners on its two rims and nothing between them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geometry.contact.triangles import dot
from geometry.edges import Edges
from geometry.imported.cylinder import Cylinder, fitted
from geometry.mesh import Booleans, Floats, Indices, Mesh
from geometry.nearest import spread_samples

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
    bearing = bearing[:, :1] + _wrapped(bearing - bearing[:, :1])
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


def _wrapped(angle: Floats) -> Floats:
    return np.asarray((angle + np.pi) % (2.0 * np.pi) - np.pi)


def rims_of(mesh: Mesh, faces: Indices, hole: Cylinder, split: float) -> Floats:
    """Return where the walls of two bores end along their axis, by bearing, (SECTORS, 4).

    faces : the triangles of both walls; split : a place along the axis between them.
    The columns are the outer and inner end of the one bore, the inner and outer end of the other;
    nan where there is no wall. Exact on a mesh whose rims are edges of triangles.
    """
    used = np.asarray(mesh.faces[faces], dtype=np.int64)
    edges = Edges(used)
    ends = mesh.vertices[edges.directed[edges.open]]
    along, bearing = hole.along(ends), hole.bearing(ends)
    away = np.linalg.norm(hole.radial(ends), axis=2)
    turn = _wrapped(bearing[:, 1] - bearing[:, 0])
    found = np.full((SECTORS, 4), np.nan)
    for k in range(SECTORS):
        # From the middle of a sector no rim of a drawn hole has its corners: they start at 0.
        toward = _wrapped((k + 0.5) * 2.0 * np.pi / SECTORS - np.pi - bearing[:, 0])
        hit = (toward * turn >= 0.0) & (np.abs(toward) <= np.abs(turn))
        hit &= np.abs(turn) > 1e-12
        if not hit.any():
            continue
        # Where a straight edge is seen at a bearing between those of its ends.
        near = away[hit, 0] * np.sin(toward[hit])
        far = away[hit, 1] * np.sin(turn[hit] - toward[hit])
        place = along[hit, 0] + near / (near + far) * (along[hit, 1] - along[hit, 0])
        for side, columns in ((place[place < split], (0, 1)), (place[place >= split], (2, 3))):
            if len(side):
                found[k, columns] = side.min(), side.max()
    return found


@dataclass(frozen=True, eq=False)
class Ears:
    """Places along the axis of the bores.

    ends : (4,) outer and inner end of the one bore, inner and outer end of the other, each as far
        as its wall reaches
    inside, outside : (2,) of each ear its flat face round the bore; nan where it is not flat
    middle : halfway between the rims of the two bores inside, whatever their shape
    """

    ends: Floats
    inside: Floats
    outside: Floats
    middle: float


def ears_of(mesh: Mesh, faces: Indices, wall: Cylinder, split: float, spread: float) -> Ears | None:
    """Measure the ears of a yoke along its bores.

    faces : triangles of the wall of both; split : a place along the axis between them
    spread : rms of the noise
    None when the rims of the two bores have too little in common to have a middle.
    """
    rims = rims_of(mesh, faces, wall, split)
    both = np.isfinite(rims).all(axis=1)
    if both.sum() < _FEWEST:
        return None
    # A hundredth of stray triangles is no end of a bore.
    near = [np.percentile(rims[both, k], far) for k, far in ((0, 1), (1, 99), (2, 1), (3, 99))]
    # Round a bore, not along it: what is opposite each other at one bearing has one middle,
    # however the ears are curved.
    middle = float(np.median(rims[both][:, [1, 2]].mean(axis=1)))
    typical = np.median(rims[both], axis=0)
    flat = [
        _flat(mesh, wall, typical[k], way, spread)
        for k, way in ((1, 1.0), (2, -1.0), (0, -1.0), (3, 1.0))
    ]
    return Ears(np.array(near), np.array(flat[:2]), np.array(flat[2:]), middle)


_FEWEST = SECTORS // 6
"""Bearings at which both bores have to have their rims: 60 deg of the round."""


def _flat(mesh: Mesh, wall: Cylinder, end: float, way: float, spread: float) -> float:
    """Place along the axis of an ear's flat face round the end of its bore; nan without one."""
    off, along = wall.off(mesh.vertices), wall.along(mesh.vertices)
    close = np.abs(along - end) < _DEEP * wall.radius
    facing = way * (mesh.normals @ wall.axis) > _ALONG_BORE
    low, high = off[mesh.faces].min(axis=1), off[mesh.faces].max(axis=1)
    ring = facing & close[mesh.faces].any(axis=1) & (low < _RING[1] * wall.radius) & (high > 0.0)
    rows = np.flatnonzero(ring)
    if not len(rows):
        return float("nan")
    part = Mesh.uniform(mesh.vertices, mesh.faces[rows], "ring")
    points, _ = spread_samples(part, _SAMPLES)
    out, at = wall.off(points) / wall.radius, wall.along(points)
    at = np.sort(at[(out > _RING[0]) & (out < _RING[1]) & (np.abs(at - end) < _DEEP * wall.radius)])
    if len(at) < _FEWEST:
        return float("nan")
    window = max(_THICK * wall.radius, 4.0 * spread)
    count = np.searchsorted(at, at + window, side="right") - np.arange(len(at))
    best = int(np.argmax(count))
    face = at[best : best + int(count[best])]
    place = float(np.median(face))
    scatter = 1.48 * float(np.median(np.abs(face - place)))
    is_flat = len(face) > 0.5 * len(at) and scatter < _LEVEL * wall.radius + 3.0 * spread
    return place if is_flat else float("nan")


_DEEP = 0.5
"""How far along from the end of its bore the face of an ear is looked for, in radii."""

_RING = (0.05, 0.45)
"""From how far to how far outside its bore, in radii."""

_ALONG_BORE = 0.5
"""Cosine from which a triangle faces along the bore; noise turns single ones by 30 deg and more."""

_SAMPLES = 6_000

_THICK = 0.03
"""How thick a layer is a flat face, in radii: 0.4 mm on a bore of 27 mm."""

_LEVEL = 1e-3
"""How far a face may be from level, in radii, beyond the noise; a curved one is not taken for
flat, since where its samples lie depends on its triangles."""
