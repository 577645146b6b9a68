"""Finding the two bores of a yoke: round holes in one line, of one radius, a gap between them.

Bounded: the search works on a few thousand samples whatever the size of the mesh, and is the
same every time; only the last fit reads all corners. About 2 s for 250,000 triangles.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

import numpy as np
from scipy.spatial import KDTree

from geometry.errors import MeshError
from geometry.imported.bore_seeds import SMALLEST, Samples, on_wall, samples_of, seeds_of
from geometry.imported.collapsing import collapsed
from geometry.imported.cylinder import Cylinder, fitted
from geometry.mesh import Booleans, Floats, Mesh

Middle = Literal["inside faces", "outside faces", "bores"]
"""What the cross centre lies halfway between."""

_COARSE = 16_000
"""Triangles that the search works on at most."""


@dataclass(frozen=True, eq=False)
class Bores:
    """The two bores of a yoke, in the frame and unit of its mesh.

    axis : (3,) unit vector along both
    centre : (3,) on the axis, halfway between the ears
    radius : of both
    spread : rms distance of the mesh's corners from the fitted wall
    ends : (4,) along the axis from the centre: outer and inner end of the one bore, inner and
        outer end of the other
    inside, outside : (2,) along the axis from the centre, the ears' inside and outside faces; nan
        where there is no flat
    out_of_line : how far one bore's own axis, drawn on, misses the middle of the other, at most;
        nan where there is too little wall to tell
    arc : share of the full round that the less complete bore has; about 0.5 for a saddle
    corners : corners of the mesh that the fit rests on
    confidence : 0 to 1: how much of what a bore needs (arc, length, a twin alike) the worse of
        the two has, less as much as another place has
    """

    axis: Floats
    centre: Floats
    radius: float
    spread: float
    ends: Floats
    inside: Floats
    outside: Floats
    out_of_line: float
    arc: float
    corners: int
    confidence: float

    @property
    def cylinder(self) -> Cylinder:
        """The wall of both bores."""
        return Cylinder(self.axis, self.centre, self.radius)

    def scaled(self, factor: float) -> Bores:
        """Return the bores of a mesh whose numbers are `factor` times as large."""
        lengths = ("centre", "radius", "spread", "ends", "inside", "outside", "out_of_line")
        return replace(self, **{name: getattr(self, name) * factor for name in lengths})

    @property
    def inside_span(self) -> float:
        """Between the ears' inside faces, or between the bores' inner ends where there is none."""
        return float(np.ptp(self.inside if np.isfinite(self.inside).all() else self.ends[1:3]))

    @property
    def outside_span(self) -> float:
        """Between the ears' outside faces, or between the bores' outer ends."""
        flat = np.isfinite(self.outside).all()
        return float(np.ptp(self.outside if flat else self.ends[[0, 3]]))


@dataclass(frozen=True, eq=False)
class _Find:
    """Two runs of samples in one line."""

    wall: Cylinder
    runs: tuple[tuple[float, float], tuple[float, float]]
    arc: float
    quality: float
    samples: int

    @property
    def weight(self) -> float:
        """How much speaks for it: the wall on the worse ear, by how good it is."""
        return self.quality * self.samples


def coarse_of(mesh: Mesh) -> Mesh:
    """Return the mesh to search on: the given one, or one with fewer triangles near it."""
    return collapsed(mesh, _COARSE) if len(mesh.faces) > _COARSE else mesh


def find_bores(mesh: Mesh, middle: Middle = "inside faces", coarse: Mesh | None = None) -> Bores:
    """Return the two bores of a yoke, in any unit, placed in any way.

    Works on full bores and on saddles that are about half round. Surfaces that face each other
    over a hole suggest cylinders; each is fitted to what lies near it on one ear, then on both,
    and the pair with the most wall on the worse ear wins. Its axis is then fitted to every corner
    of the mesh on the two walls.

    middle : what the cross centre is put halfway between; without flats there, the bores
    coarse : the mesh by `coarse_of`, if it is at hand

    Raises MeshError when there are no two bores in line: pick three points instead.
    """
    samples = samples_of(coarse or coarse_of(mesh))
    finds = [find for seed in seeds_of(samples) for find in _grown(samples, seed)]
    if not finds:
        raise MeshError(
            "no two round bores in one line were found; pick three points: the middle of each "
            "bore and a point on the shaft's axis"
        )
    best = max(finds, key=lambda find: find.weight)
    others = [find.weight for find in finds if not _same(find.wall, best.wall)]
    confidence = best.quality * (1.0 - max(others, default=0.0) / best.weight)
    return _measured(mesh, samples, best, confidence, middle)


def _grown(samples: Samples, seed: Cylinder) -> list[_Find]:
    """Fit a seed to its own ear, then to both; nothing if there is no second ear."""
    wall = seed
    for within, reach in ((0.08, 1.2), (0.06, 1.5), (0.06, np.inf), (0.05, np.inf), (0.04, np.inf)):
        near = on_wall(samples, wall, within * wall.radius)
        near &= np.abs(wall.along(samples.points)) < reach * wall.radius
        if near.sum() < _FEWEST:
            return []
        wall = fitted(samples.points[near], wall, 0.01 * wall.radius)
        # A flat has no axis to speak of, and its fit runs off.
        if not SMALLEST * samples.size < wall.radius < 2.0 * seed.radius:
            return []
    near = on_wall(samples, wall, 0.04 * wall.radius)
    return _two_ears(samples, wall, near)


_FEWEST = 12
"""Samples on a wall below which it is chance."""


def _two_ears(samples: Samples, wall: Cylinder, near: Booleans) -> list[_Find]:
    points = samples.points[near]
    along, bearing = wall.along(points), wall.bearing(points)
    runs = [
        (span, inside.sum(), _arc(bearing[inside]))
        for span in _runs(along, wall.radius)
        for inside in [(along >= span[0]) & (along <= span[1])]
        if inside.sum() >= _FEWEST
    ]
    found = []
    for (one, n, arc), (other, m, back) in pairwise(runs):
        gap = other[0] - one[1]
        if gap < _GAP * wall.radius or min(arc, back) < _ARC:
            continue
        alike = min(n, m) / max(n, m)
        length = min(np.ptp(one), np.ptp(other)) / wall.radius
        quality = float(min(1.0, min(arc, back) / 0.45, alike / 0.6, length / 0.5))
        found.append(_Find(wall, (one, other), min(arc, back), quality, int(min(n, m))))
    return found


_GAP = 1.2
"""Least gap between the ears, in radii of the bore; the trunnions of a cross need more."""

_ARC = 0.33
"""Least share of the full round on each ear: 120 deg, of a saddle that is 180 deg."""


def _runs(along: Floats, radius: float) -> list[tuple[float, float]]:
    """Return where samples lie close together along the axis, as (start, end)."""
    order = np.sort(along)
    # Three in a row, so that a stray one does not bridge a gap.
    loose = np.flatnonzero(order[3:] - order[:-3] > 0.35 * radius) + 1
    starts, ends = [0], []
    for k in loose:
        if order[k + 1] - order[k] > 0.1 * radius:
            ends.append(int(k))
            starts.append(int(k) + 1)
    ends.append(len(order) - 1)
    return [(float(order[s]), float(order[e])) for s, e in zip(starts, ends, strict=True)]


def _arc(bearing: Floats) -> float:
    """Share of the full round, by sectors of 15 deg, in which there are samples."""
    sector = np.floor((bearing + np.pi) / (2.0 * np.pi) * 24.0).astype(np.int64) % 24
    return len(np.unique(sector)) / 24.0


def _same(one: Cylinder, other: Cylinder) -> bool:
    """Whether two finds are one: axes within 5 deg and a third of a radius."""
    aligned = abs(float(one.axis @ other.axis)) > np.cos(np.radians(5.0))
    return aligned and float(np.linalg.norm(one.radial(other.point))) < one.radius / 3.0


def _measured(
    mesh: Mesh, samples: Samples, find: _Find, confidence: float, middle: Middle
) -> Bores:
    wall, corners = _fine(mesh, samples, find)
    points = mesh.vertices[corners] if corners.sum() >= _FEWEST else samples.points
    along = wall.along(points[np.abs(wall.off(points)) < 0.05 * wall.radius])
    split = float(wall.along(find.wall.point + np.mean(find.runs) * find.wall.axis))
    ends = np.concatenate(
        [np.percentile(side, (1, 99)) for side in (along[along < split], along[along >= split])]
    )
    inside = np.array([_flat(mesh, samples, wall, ends[k], s) for k, s in ((1, 1.0), (2, -1.0))])
    outside = np.array([_flat(mesh, samples, wall, ends[k], s) for k, s in ((0, -1.0), (3, 1.0))])
    between = {"inside faces": inside, "outside faces": outside, "bores": ends[1:3]}[middle]
    at = float((between if np.isfinite(between).all() else ends[1:3]).mean())
    return Bores(
        axis=wall.axis,
        centre=wall.point + at * wall.axis,
        radius=wall.radius,
        spread=float(np.sqrt(np.mean(wall.off(points) ** 2))),
        ends=ends - at,
        inside=inside - at,
        outside=outside - at,
        out_of_line=_out_of_line(mesh.vertices[corners], wall, split),
        arc=find.arc,
        corners=int(corners.sum()),
        confidence=confidence,
    )


def _out_of_line(points: Floats, both: Cylinder, split: float) -> float:
    """Fit each bore for itself and return how far its axis misses the other's middle, at most.

    points : (n, 3) on the wall of both; split : place along the axis between them
    """
    along = both.along(points)
    sides = [points[along < split], points[along >= split]]
    if min(len(side) for side in sides) < 4 * _FEWEST:
        return float("nan")
    scatter = 1.48 * float(np.median(np.abs(both.off(points)))) + 1e-6 * both.radius
    own = [fitted(side[:: 1 + len(side) // _FITTED], both, 3.0 * scatter) for side in sides]
    middles = [
        bore.point + bore.along(side).mean() * bore.axis
        for bore, side in zip(own, sides, strict=True)
    ]
    misses = [np.linalg.norm(own[k].radial(middles[1 - k])) for k in (0, 1)]
    return float(max(misses))


def _fine(mesh: Mesh, samples: Samples, find: _Find) -> tuple[Cylinder, Booleans]:
    """Fit a find to the corners of the whole mesh; return the wall and which corners it has."""
    wall, within = find.wall, 0.05 * find.wall.radius
    near = samples.points[on_wall(samples, wall, within)]
    arc = KDTree(near)
    chosen = np.zeros(len(mesh.vertices), dtype=bool)
    for _ in range(4):
        close = np.flatnonzero(np.abs(wall.off(mesh.vertices)) < within)
        # Only where samples say that there is wall: not beyond the ends of a saddle.
        away, _ = arc.query(mesh.vertices[close], distance_upper_bound=0.35 * wall.radius)
        chosen[:] = False
        chosen[close[np.isfinite(away)]] = True
        if chosen.sum() < _FEWEST:
            break
        few = np.flatnonzero(chosen)[:: 1 + int(chosen.sum()) // _FITTED]
        wall = fitted(mesh.vertices[few], wall, 0.3 * within)
        scatter = 1.48 * float(np.median(np.abs(wall.off(mesh.vertices[chosen]))))
        within = float(np.clip(4.0 * scatter, 0.002 * wall.radius, within))
    return wall, chosen


_FITTED = 8_000
"""Corners that are fitted at most; noise of 0.1 mm then leaves some thousandths of a mm."""


def _flat(mesh: Mesh, samples: Samples, wall: Cylinder, end: float, facing: float) -> float:
    """Place along the axis of an ear's flat face round the end of its bore; nan without one."""
    points = samples.points[samples.normals @ wall.axis * facing > 0.97]
    at = _in_ring(wall, points, end, 0.5)
    if len(at) < _FEWEST // 2:
        return float("nan")
    place = float(np.median(at))
    fine = _in_ring(wall, mesh.vertices, place, 0.02)
    return float(np.median(fine)) if len(fine) >= 4 * _FEWEST else place


def _in_ring(wall: Cylinder, points: Floats, place: float, within: float) -> Floats:
    """Places along the axis of the points round the end of a bore, near one place."""
    out, along = wall.off(points), wall.along(points)
    ring = (out > 0.05 * wall.radius) & (out < 0.7 * wall.radius)
    return np.asarray(along[ring & (np.abs(along - place) < within * wall.radius)])
