"""Finding the two bores of a yoke: round holes in one line, of one radius, a gap between them.

Samples of the surface suggest where; what is there is then told by whole triangles, so that a
solid from CAD, all long triangles with corners on its rims alone, is read like a dense scan.

Bounded: the search works on a few thousand samples whatever the size of the mesh, and is the
same every time; only the last fit reads the whole mesh. About 2 s for 250,000 triangles.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from scipy.spatial import KDTree

from geometry.errors import MeshError
from geometry.imported.bore_seeds import SMALLEST, Samples, on_wall, samples_of, seeds_of
from geometry.imported.cylinder import Cylinder, fitted
from geometry.imported.ears import ears_of
from geometry.imported.wall import FEWEST, FITTED, Run, runs_of, settled, wall_faces
from geometry.mesh import Booleans, Floats, Indices, Mesh


@dataclass(frozen=True, eq=False)
class Bores:
    """The two bores of a yoke, in the frame and unit of its mesh.

    axis : (3,) unit vector along both
    centre : (3,) on the axis, halfway between the ears
    radius : of both
    spread : rms distance of the wall's corners from the fitted cylinder
    ends : (4,) along the axis from the centre: outer and inner end of the one bore, inner and
        outer end of the other, each as far as it reaches
    inside, outside : (2,) along the axis from the centre, the inside and outside face of each ear;
        nan where it is not flat
    out_of_line : how far one bore's own axis, drawn on, misses the middle of the other, at most;
        nan where there is too little wall to tell
    arc : share of the full round that the less complete bore has; about 0.5 for a saddle
    corners : corners of the mesh that the fit rests on
    quality : 0 to 1: how much of what a bore needs (arc, length, a twin alike) the worse has
    share : wall on the worse ear, by its quality, as a share of the likeliest place's
    confidence : 0 to 1: the quality, less as much as another place has
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
    quality: float
    share: float
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
    def diameter(self) -> float:
        """Of both bores."""
        return 2.0 * self.radius

    @property
    def inside_span(self) -> float:
        """Between the ears' inside faces; of an ear without a flat there, its bore's inner end."""
        return float(np.ptp(np.where(np.isfinite(self.inside), self.inside, self.ends[[1, 2]])))

    @property
    def outside_span(self) -> float:
        """Between the ears' outside faces; of an ear without a flat there, its bore's outer end."""
        return float(np.ptp(np.where(np.isfinite(self.outside), self.outside, self.ends[[0, 3]])))


@dataclass(frozen=True, eq=False)
class _Find:
    """Two stretches of wall in one line.

    quality : 0 to 1, how much of what a bore needs the worse one has
    """

    wall: Cylinder
    runs: tuple[Run, Run]
    quality: float

    @property
    def weight(self) -> float:
        """How much speaks for it: the wall on the worse ear, by how good it is."""
        return self.quality * min(run.area for run in self.runs)

    @property
    def split(self) -> Floats:
        """A point on the axis between the two, (3,)."""
        between = 0.5 * (self.runs[0].stop + self.runs[1].start)
        return np.asarray(self.wall.point + between * self.wall.axis)


def likely_bores(mesh: Mesh, coarse: Mesh | None = None) -> tuple[Bores, ...]:
    """Return what may be the two bores of a yoke, the likeliest first, `_TOLD` places at most.

    In any unit, placed in any way.

    Works on full bores and on saddles that are about half round. Surfaces that face each other
    over a hole suggest cylinders; each is fitted to what lies near it on one ear, then on both,
    and the pair with the most wall on the worse ear comes first. Its axis is then fitted to every
    triangle of the mesh on the two walls.

    coarse : a mesh of fewer triangles near it to search on

    Raises MeshError when there are no two bores in line.
    """
    search = coarse or mesh
    samples = samples_of(search)
    finds = [find for seed in seeds_of(samples) for find in _grown(search, samples, seed)]
    places: list[_Find] = []
    for find in sorted(finds, key=lambda find: -find.weight):
        if not any(_same(find.wall, other.wall) for other in places):
            places.append(find)
    shares = [find.weight / places[0].weight for find in places]
    some = zip(places[:_TOLD], shares, strict=False)
    found = [_measured(mesh, samples, find, share) for find, share in some]
    sound = tuple(bores for bores in found if bores is not None)
    if not sound:
        raise MeshError(
            "no two round bores in one line were found; pick three points: the middle of each "
            "bore and a point on the shaft's axis"
        )
    return sound


_TOLD = 3
"""Places that are measured at most; of more than that, none is a yoke's."""


def _grown(mesh: Mesh, samples: Samples, seed: Cylinder) -> list[_Find]:
    """Fit a seed to its own ear, then to both; nothing if there is no second ear."""
    wall = seed
    for within, reach in ((0.08, 1.2), (0.06, 1.5), (0.06, np.inf), (0.05, np.inf), (0.04, np.inf)):
        near = on_wall(samples, wall, within * wall.radius)
        near &= np.abs(wall.along(samples.points)) < reach * wall.radius
        if near.sum() < FEWEST:
            return []
        wall = fitted(samples.points[near], wall, 0.01 * wall.radius)
        # A flat has no axis to speak of, and its fit runs off.
        if not SMALLEST * samples.size < wall.radius < 2.0 * seed.radius:
            return []
    among = _among(mesh, samples, wall, 0.04 * wall.radius)
    # Samples on flat facets lie inside the round that the corners are on.
    return _two_ears(mesh, wall_faces(mesh, wall, 0.08 * wall.radius, among=among), wall)


def _among(mesh: Mesh, samples: Samples, wall: Cylinder, within: float) -> Booleans:
    """Which triangles lie among samples of a wall, (m,)."""
    near = samples.points[on_wall(samples, wall, within)]
    if not len(near):
        return np.zeros(len(mesh.faces), dtype=bool)
    close = np.flatnonzero((np.abs(wall.off(mesh.vertices)) < 2.0 * within)[mesh.faces].all(axis=1))
    middles = mesh.triangles[close].mean(axis=1)
    away, _ = KDTree(near).query(middles, distance_upper_bound=0.15 * wall.radius)
    found = np.zeros(len(mesh.faces), dtype=bool)
    found[close] = np.isfinite(away)
    return found


def _two_ears(mesh: Mesh, faces: Indices, wall: Cylinder) -> list[_Find]:
    found = []
    for one, other in pairwise(run for run in runs_of(mesh, faces, wall) if run.arc >= _ARC):
        if other.start - one.stop < _GAP * wall.radius:
            continue
        alike = min(one.area, other.area) / max(one.area, other.area)
        length = min(one.stop - one.start, other.stop - other.start) / wall.radius
        arc = min(one.arc, other.arc)
        quality = float(min(1.0, arc / 0.45, alike / 0.6, length / 0.5))
        found.append(_Find(wall, (one, other), quality))
    return found


_GAP = 1.2
"""Least gap between the ears, in radii of the bore; the trunnions of a cross need more."""

_ARC = 0.33
"""Least share of the full round on each ear: 120 deg, of a saddle that is 180 deg."""


def _same(one: Cylinder, other: Cylinder) -> bool:
    """Whether two finds are one: axes within 5 deg and a third of a radius."""
    aligned = abs(float(one.axis @ other.axis)) > np.cos(np.radians(5.0))
    return aligned and float(np.linalg.norm(one.radial(other.point))) < one.radius / 3.0


def _measured(mesh: Mesh, samples: Samples, find: _Find, share: float) -> Bores | None:
    wall, faces = _fine(mesh, samples, find)
    split = float(wall.along(find.split))
    points = mesh.vertices[np.unique(mesh.faces[faces])]
    spread = float(np.sqrt(np.mean(wall.off(points) ** 2))) if len(points) else 0.0
    ears = ears_of(mesh, faces, wall, split, spread)
    if ears is None:
        return None
    # What the cross centre lies halfway between; of an ear without a flat inside, its bore's rim.
    at = float(ears.inside.mean()) if np.isfinite(ears.inside).all() else ears.middle
    return Bores(
        axis=wall.axis,
        centre=wall.point + at * wall.axis,
        radius=wall.radius,
        spread=spread,
        ends=ears.ends - at,
        inside=ears.inside - at,
        outside=ears.outside - at,
        out_of_line=_out_of_line(points, wall, split),
        arc=min(run.arc for run in find.runs),
        corners=len(points),
        quality=find.quality,
        share=share,
        confidence=find.quality,
    )


def _out_of_line(points: Floats, both: Cylinder, split: float) -> float:
    """Fit each bore for itself and return how far its axis misses the other's middle, at most.

    points : (n, 3) on the wall of both; split : place along the axis between them
    """
    along = both.along(points)
    sides = [points[along < split], points[along >= split]]
    if min(len(side) for side in sides) < 4 * FEWEST:
        return float("nan")
    scatter = 1.48 * float(np.median(np.abs(both.off(points)))) + 1e-6 * both.radius
    own = [fitted(side[:: 1 + len(side) // FITTED], both, 3.0 * scatter) for side in sides]
    middles = [
        bore.point + bore.along(side).mean() * bore.axis
        for bore, side in zip(own, sides, strict=True)
    ]
    misses = [np.linalg.norm(own[k].radial(middles[1 - k])) for k in (0, 1)]
    return float(max(misses))


def _fine(mesh: Mesh, samples: Samples, find: _Find) -> tuple[Cylinder, Indices]:
    """Fit a find to the whole mesh; return the wall and its triangles."""
    among = _among(mesh, samples, find.wall, 0.05 * find.wall.radius)
    return settled(
        mesh,
        find.wall,
        0.08 * find.wall.radius,
        lambda wall, within: wall_faces(mesh, wall, within, among=among),
    )
