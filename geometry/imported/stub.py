"""The round behind a yoke's ears, whose axis is the shaft's: a second witness for the placing.

Tube seat, hub, barrel, flange rim, pilot: nearly every yoke has some surface that was turned about
the axis of its shaft. Its axis owes nothing to the ears.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from geometry.contact.triangles import dot
from geometry.imported.cylinder import Cylinder, square_to
from geometry.imported.wall import FEWEST, runs_of, settled, wall_faces
from geometry.mesh import Floats, Indices, Mesh


@dataclass(frozen=True, eq=False)
class Stub:
    """A round surface about the axis of the shaft, in the frame and unit of its mesh.

    round : the surface; its axis points away from the cross
    arc : share of the full round there is
    area : of it
    unsure_place : standard deviation of where its axis passes the cross centre
    unsure_way : rad, of which way it points
    """

    round: Cylinder
    arc: float
    area: float
    unsure_place: float
    unsure_way: float

    def scaled(self, factor: float) -> Stub:
        """Return the stub of a mesh whose numbers are `factor` times as large."""
        wide = self.round
        return replace(
            self,
            round=Cylinder(wide.axis, wide.point * factor, wide.radius * factor),
            area=self.area * factor**2,
            unsure_place=self.unsure_place * factor,
        )

    def beside(self, centre: Floats) -> Floats:
        """From a point to where the axis passes it, (3,)."""
        return -self.round.radial(centre)


def stub_of(mesh: Mesh, coarse: Mesh, centre: Floats, x: Floats, bore: float) -> Stub | None:
    """Return the round surface behind the ears with the most to say; None without one.

    coarse : the mesh to search on; centre : the cross centre, (3,); x : (3,) unit, about along the
    shaft, away from the cross; bore : radius of the bores
    """
    middle = coarse.triangles.mean(axis=1) - centre
    area, normal = coarse.areas, coarse.normals
    behind = (middle @ x > _BEHIND * bore) & (np.abs(normal @ x) < _ALONG) & (area > 0.0)
    if behind.sum() < FEWEST:
        return None
    middle, normal, area = middle[behind], normal[behind], area[behind]
    at = _axis_place(middle, normal, area, x, bore)
    rounds = [
        found
        for radius, way in _radii(middle - at, normal, area, x, bore)
        for found in [_fitted(mesh, Cylinder(x, centre + at, radius), way, centre, x, bore)]
        if found is not None
    ]
    # Of those that are sure enough, the largest: a small one may be of a part that was pressed in.
    least = _SURE * bore
    return min(rounds, key=lambda s: (max(s.unsure_place, least), -s.area), default=None)


_SURE = 1e-3
"""How sure the axis of a stub has to be to be as good as any, in radii of the bores: 0.014 mm."""


_BEHIND = 0.8
"""How far behind the cross centre the search begins, in radii of the bores."""

_ALONG = 0.5
"""Cosine to the shaft's axis up to which a triangle may belong to a round about it."""


def _axis_place(middle: Floats, normal: Floats, area: Floats, x: Floats, bore: float) -> Floats:
    """Return where a line along x passes nearest to the normals of most of a surface, (3,).

    The normals of a round surface all meet its axis; what is not round is weighed down, gently
    first (graduated Geman-McClure weights).
    """
    one, other = square_to(x)
    # (p - c) x n has no part along x where the normal through p meets the line through c.
    rows = np.stack([normal @ other, -(normal @ one)], axis=1)
    moment = dot(np.cross(middle, normal), x)
    c = np.zeros(2)
    for width in bore * np.geomspace(0.5, 0.02, 25):
        weight = area / (1.0 + ((moment - rows @ c) / width) ** 2) ** 2
        normal_matrix = (rows * weight[:, None]).T @ rows
        if np.linalg.cond(normal_matrix) > _FLAT:
            break
        c = np.linalg.solve(normal_matrix, (rows * weight[:, None]).T @ moment)
    return np.asarray(c[0] * one + c[1] * other)


_FLAT = 1e4
"""Condition beyond which the normals all point one way, so that they have no point in common."""


def _radii(
    middle: Floats, normal: Floats, area: Floats, x: Floats, bore: float
) -> list[tuple[float, float]]:
    """Return the radii about an axis along x with the most surface, and which way they face."""
    radial = middle - (middle @ x)[:, None] * x
    away = np.linalg.norm(radial, axis=1)
    facing = dot(radial, normal) / np.maximum(away, 1e-300)
    step = 0.03 * bore
    found = []
    for way in (1.0, -1.0):
        rows = way * facing > np.cos(np.radians(20.0))
        if not rows.any():
            continue
        total = np.bincount((away[rows] / step).astype(np.int64), area[rows])
        for k in np.argsort(total)[::-1][:_TRIED]:
            found.append((float(total[k]), (float(k) + 0.5) * step, way))
    best = sorted(found, reverse=True)[:_TRIED]
    return [(radius, way) for total, radius, way in best if total > 0.0]


_TRIED = 5
"""Radii tried; two next to each other are often one surface."""


def _fitted(
    mesh: Mesh, start: Cylinder, way: float, centre: Floats, x: Floats, bore: float
) -> Stub | None:
    behind = (mesh.triangles.mean(axis=1) - centre) @ x > _BEHIND * bore

    def faces_of(wall: Cylinder, within: float) -> Indices:
        faces = wall_faces(mesh, wall, within, way)
        return np.asarray(faces[behind[faces]])

    # A step of the shaft is no noise: a seat and its shoulder are often 2 mm apart.
    wall, faces = settled(mesh, start, _STEP * start.radius, faces_of)
    corners = mesh.vertices[np.unique(mesh.faces[faces])]
    if len(corners) < FEWEST or abs(float(wall.axis @ x)) < _LEANS:
        return None
    runs = runs_of(mesh, faces, wall)
    arc = max((run.arc for run in runs), default=0.0)
    if arc < _ARC:
        return None
    wall = Cylinder(wall.axis * np.sign(wall.axis @ x), wall.point, wall.radius)
    place, way_off = _unsure(corners, wall, centre)
    if not (place < _VAGUE * bore and way_off < _VAGUE):
        return None
    return Stub(wall, arc, sum(run.area for run in runs), place, way_off)


_STEP = 0.03
"""How far corners may be off the radius at first, as a share of it: facets of 25 deg lie that much
inside the round that their corners are on."""

_LEANS = np.cos(np.radians(15.0))
"""How far its axis may be from where the shaft seems to go, as a cosine."""

_ARC = 0.5
"""Least share of the full round: with less, noise shifts the axis along the middle of the arc."""

_VAGUE = 0.01
"""How unsure a stub may be and still be a witness: in radii of the bore, and in rad."""


def _unsure(points: Floats, wall: Cylinder, centre: Floats) -> tuple[float, float]:
    """Return standard deviations of a fit: of its axis' place beside a point, and of its way.

    By the normal equations of the fit. The scatter of neighbours is alike, and of a drawn surface
    the facets are what is rough, so it counts `_ALIKE` times over.
    """
    one, other = square_to(wall.axis)
    radial = wall.radial(points)
    u = radial / np.maximum(np.linalg.norm(radial, axis=1, keepdims=True), 1e-300)
    along = wall.along(points)
    h = along - along.mean()
    rows = np.stack([u @ one * h, u @ other * h, u @ one, u @ other, np.ones(len(h))], axis=1)
    matrix = rows.T @ rows
    scale = np.sqrt(np.diag(matrix))
    if not (scale > 0.0).all() or np.linalg.cond(matrix / np.outer(scale, scale)) > 1e10:
        return float("inf"), float("inf")
    noise = float(np.mean(wall.off(points) ** 2)) * _ALIKE**2
    spread = noise * np.linalg.inv(matrix)
    far = float(wall.along(centre)) - float(along.mean())
    to_centre = np.array([[far, 0.0, 1.0, 0.0, 0.0], [0.0, far, 0.0, 1.0, 0.0]])
    place = to_centre @ spread @ to_centre.T
    return (
        float(np.sqrt(np.linalg.eigvalsh(place)[-1])),
        float(np.sqrt(np.linalg.eigvalsh(spread[:2, :2])[-1])),
    )


_ALIKE = 4.0
"""Corners that scatter alike, by a quarter of an arc: with fewer the answer would be too sure."""
