"""Placing a mesh in the yoke frame: by its two bores, or by three picks.

Yoke frame Y: origin at the cross centre, x along the yoke's own shaft away from the cross, y
along its bores. Mesh frame M: as the file has it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import degrees, radians
from typing import Any, Self

import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError
from geometry.imported.bores import Bores, likely_bores
from geometry.imported.mirror import mirror_turn
from geometry.imported.stub import Stub, stub_of
from geometry.mesh import Floats, Mesh


@dataclass(frozen=True, eq=False)
class Placement:
    """Pose of the mesh frame M in the yoke frame Y, lengths in the unit of the mesh.

    R_YM : (3, 3) rotation; a point of the mesh is R_YM @ p + p_YM_Y in the yoke frame
    p_YM_Y : (3,) origin of the mesh frame in the yoke frame
    how : "bores" or "picks"
    bores : the bores it was placed by, in the mesh frame; None without
    mirror_error : rms distance of the surface from its mirror image in the plane of shaft and
        bores, which the direction of the shaft was found by; nan when it was not
    skew : rad, how far the pick on the shaft is from square to the bores; nan without picks
    stub : the round behind the ears, in the mesh frame, which owes nothing to the bores; None
        without one, or when it was not looked for
    turned_by : "mirror" or "stub": what the direction of the shaft is from, placed by bores

    Raises MeshError unless R_YM is a rotation.
    """

    R_YM: Floats
    p_YM_Y: Floats
    how: str
    bores: Bores | None = None
    mirror_error: float = float("nan")
    skew: float = float("nan")
    stub: Stub | None = None
    turned_by: str = "mirror"

    def __post_init__(self) -> None:
        R = np.array(self.R_YM, dtype=np.float64)
        p = np.array(self.p_YM_Y, dtype=np.float64)
        if R.shape != (3, 3) or p.shape != (3,) or not np.isfinite(R).all():
            raise MeshError("a placement is a rotation, (3, 3), and a shift, (3,)")
        if not np.allclose(R @ R.T, np.eye(3), rtol=0.0, atol=1e-9) or np.linalg.det(R) < 0.0:
            raise MeshError("R_YM is not a rotation; expected a 3 x 3 orthonormal matrix")
        for name, array in (("R_YM", R), ("p_YM_Y", p)):
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    @classmethod
    def at(cls, centre: Floats, x: Floats, y: Floats, **more: Any) -> Self:
        """Place by the cross centre, (3,), and what x and y of the yoke frame are there, unit."""
        R_YM = np.stack([x, y, np.cross(x, y)])
        return cls(R_YM, -R_YM @ centre, **more)

    @property
    def centre(self) -> Floats:
        """The cross centre in the mesh frame, (3,)."""
        return np.asarray(-self.R_YM.T @ self.p_YM_Y)

    def scaled(self, factor: float) -> Placement:
        """Return the placement of a mesh whose numbers are `factor` times as large."""
        return replace(
            self,
            p_YM_Y=self.p_YM_Y * factor,
            bores=None if self.bores is None else self.bores.scaled(factor),
            mirror_error=self.mirror_error * factor,
            stub=None if self.stub is None else self.stub.scaled(factor),
        )


def placed_by_bores(mesh: Mesh, coarse: Mesh | None = None) -> Placement:
    """Find a mesh's two bores and place it by them, in the unit of the mesh.

    y runs along the bores; x runs toward the bulk of the metal, turned until the two halves
    beside the plane of shaft and bores are mirror images as nearly as they can be. Which of the
    two bores is on the +y side makes no difference to a yoke; it is chosen by the mesh frame.
    Where holes at several places could be the bores, those win about which the yoke is most
    nearly its own mirror image. The round stub is measured as a second witness; it gives the
    direction of the shaft where the halves are no mirror images.

    coarse : a mesh of fewer triangles near it to search on, if there is one at hand
    Raises MeshError without two bores in line, and when the metal lies on no side of them.
    """
    coarse = coarse or mesh
    placed = []
    for bores in likely_bores(mesh, coarse):
        y, toward = _upright(bores.axis), _bulk(mesh, bores)
        if bores.share > _RIVAL and toward is not None:
            placed.append((bores, y, *mirror_turn(coarse, bores.centre, toward, y)))
    if not placed:
        raise MeshError(
            "the metal lies evenly round the bores, so the shaft's side cannot be told; pick "
            "three points: the middle of each bore and a point on the shaft's axis"
        )
    scores = [
        bores.share / (1.0 + (error / (_UNLIKE * bores.radius)) ** 2) for bores, *_, error in placed
    ]
    best = int(np.argmax(scores))
    rival = max(scores[:best] + scores[best + 1 :], default=0.0)
    bores, y, x, error = placed[best]
    found = replace(bores, confidence=bores.quality * (1.0 - rival / scores[best]))
    stub = stub_of(mesh, coarse, bores.centre, x, bores.radius)
    turned_by = "mirror"
    if stub and error > _LOPSIDED * bores.radius and stub.unsure_way < _SURE_WAY:
        x, turned_by = _unit(_square(stub.round.axis, y)), "stub"
    return Placement.at(
        bores.centre,
        x,
        y,
        how="bores",
        bores=found,
        mirror_error=error,
        stub=stub,
        turned_by=turned_by,
    )


_RIVAL = 0.2
"""Share of the likeliest bores' wall from which another place is tried as well."""

_UNLIKE = 0.05
"""Mirror error, in radii of the bores, that halves what speaks for a place: 0.7 mm on 27."""

_LOPSIDED = 0.022
"""Mirror error, in radii of the bores, from which the direction of the shaft may be off by some
tenths of a degree: 0.3 mm on a bore of 27 mm."""

_SURE_WAY = 1e-3
"""rad, 0.06 deg: how sure a stub's axis must be of its way to be better than a lopsided mirror."""


def _bulk(mesh: Mesh, bores: Bores) -> Floats | None:
    """Return the way, (3,), from bores to the metal; None where it lies evenly round them."""
    bulk = mesh.areas @ mesh.triangles.mean(axis=1) / mesh.areas.sum() - bores.centre
    toward = _square(bulk, bores.axis)
    low, high = mesh.bounds
    far = np.linalg.norm(toward) >= _LEAST_BULK * np.linalg.norm(high - low)
    return _unit(toward) if far else None


_LEAST_BULK = 0.02
"""How far off the bores the middle of the surface must be, as a share of the diagonal."""


def _upright(axis: Floats) -> Floats:
    """Return the axis of bores the way in which its largest part is positive."""
    return np.asarray(axis * np.sign(axis[np.argmax(np.abs(axis))]))


def _square(way: Floats, y: Floats) -> Floats:
    return np.asarray(way - (way @ y) * y)


def _unit(way: Floats) -> Floats:
    return np.asarray(way / np.linalg.norm(way))


def three_picks(
    bore: npt.ArrayLike, other_bore: npt.ArrayLike, on_shaft: npt.ArrayLike
) -> Placement:
    """Place a mesh by three points, each (3,), in its own frame and unit.

    bore, other_bore : the middle of each bore, both at the same depth (say its outer edge); the
        cross centre is halfway between
    on_shaft : a point on the shaft's axis on the metal's side, the farther the better

    Raises MeshError when the points are one, or in one line.
    """
    points = np.array([bore, other_bore, on_shaft], dtype=np.float64)
    if points.shape != (3, 3) or not np.isfinite(points).all():
        raise MeshError("three picks are three points of three finite numbers each")
    centre = 0.5 * (points[0] + points[1])
    along, out = points[1] - points[0], points[2] - centre
    span, reach = float(np.linalg.norm(along)), float(np.linalg.norm(out))
    if span == 0.0 or reach == 0.0:
        raise MeshError("two of the three picks are one point, or the third is in the middle")
    y = _upright(along / span)
    x = _square(out, y)
    if np.linalg.norm(x) < _IN_LINE * max(span, reach):
        raise MeshError(
            "the three picks lie in one line; the third is a point on the shaft's axis, well away "
            "from the line through the two bores"
        )
    skew = float(np.arcsin(np.clip(abs(out @ y) / reach, 0.0, 1.0)))
    return Placement.at(centre, _unit(x), y, how="picks", skew=skew)


_IN_LINE = 0.05
"""Distance of the third pick from the line through the others, as a share of their distances,
below which it gives no direction."""


ASIDE = 1.0
"""How far, mm, the axis of the stub may pass beside the middle of the ears: a forging's hub is that
far off its bores before it is machined, and no yoke that runs true is."""

ASKEW = radians(1.0)
"""How far the stub may be from square to the bores, and from where the mirror image points."""

_SURE = 3.0
"""Standard deviations by which two witnesses may differ besides."""


@dataclass(frozen=True)
class Witness:
    """What the round stub behind the ears says of a placement by the bores; mm, rad.

    diameter : of the stub
    along, across : how far its axis passes beside the cross centre, along the bores and square to
        them
    skew : how far it is from square to the bores
    turn : how far it points beside the shaft's direction, seen along the bores
    unsure_place, unsure_way : standard deviations of its place and of its way
    """

    diameter: float
    along: float
    across: float
    skew: float
    turn: float
    unsure_place: float
    unsure_way: float

    @property
    def beside(self) -> float:
        """How far its axis passes beside the cross centre, mm."""
        return float(np.hypot(self.along, self.across))


def witness_of(placement: Placement) -> Witness | None:
    """Return what the stub says of a placement, in mm; None where there is none."""
    stub = placement.stub
    if stub is None or placement.bores is None:
        return None
    way = placement.R_YM @ stub.round.axis
    beside = placement.R_YM @ stub.beside(placement.centre)
    return Witness(
        2.0 * stub.round.radius,
        float(abs(beside[1])),
        float(abs(beside[2])),
        float(np.arcsin(min(1.0, abs(way[1])))),
        float(abs(np.arctan2(way[2], way[0]))),
        stub.unsure_place,
        stub.unsure_way,
    )


def demand_agreement(placement: Placement) -> None:
    """Raise MeshError, in one line, where the stub contradicts the ears; lengths in mm."""
    told = witness_of(placement)
    if told is None:
        return
    place = ASIDE + _SURE * told.unsure_place
    way = ASKEW + _SURE * told.unsure_way
    stub = f"the round stub behind the ears ({told.diameter:.1f} mm)"
    if told.beside > place:
        says = f"its axis passes {told.beside:.1f} mm beside the middle between the ears"
    elif told.skew > way:
        says = f"it is {degrees(told.skew):.1f} deg from square to the bores"
    elif told.turn > way:
        says = f"it points {degrees(told.turn):.1f} deg beside where the yoke is its mirror image"
    else:
        return
    raise MeshError(
        f"bores and shaft do not fit together: {stub} disagrees, {says}. A bent yoke, or the wrong "
        "holes; if it is right, pick three points: the middle of each bore and a point on the "
        "shaft's axis"
    )
