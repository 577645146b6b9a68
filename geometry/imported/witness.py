"""The stub's axis against the ears: what two witnesses of a placement say of each other."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, radians

import numpy as np

from geometry.errors import MeshError
from geometry.imported.placing import Placement

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
