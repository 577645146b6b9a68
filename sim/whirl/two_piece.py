"""The critical speed of a two-piece shaft: front section, carrier bearing, rear section."""

from dataclasses import dataclass
from math import inf

from sim.quantities import require_not_negative, require_positive
from sim.tolerances import TOL
from sim.whirl.beam import Beam, BeamError, Mass, Stretch, Support
from sim.whirl.one_piece import Piece, piece_stretches


@dataclass(frozen=True)
class CarrierBearing:
    """The bearing behind the front section and its bracket."""

    overhang: float
    """From the bearing back to the middle joint's centre, mm."""
    stiffness: float = inf
    """Across, N/mm: rubber and bracket; endless for one that does not give."""
    mass: float = 0.0
    """Of what moves with the shaft, kg."""

    def __post_init__(self) -> None:
        require_positive(BeamError, overhang=self.overhang)
        require_not_negative(BeamError, bearing_mass=self.mass)


def two_piece_beam(front: Piece, bearing: CarrierBearing, rear: Piece, shear: bool = True) -> Beam:
    """Both sections as one beam, hinged at the middle joint.

    `front` runs from the output joint to the middle joint, the bearing lies on it `overhang`
    before its end; `rear` from the middle joint to the pinion joint. The middle joint passes a
    force across and no moment, so each section shakes the other.
    """
    ahead, ahead_masses = piece_stretches(front, shear)
    at = front.length - bearing.overhang
    if not at > 0.0:
        raise BeamError(
            f"carrier bearing: got {bearing.overhang:g} mm before the middle joint of a front "
            f"section of {front.length:g} mm, expected less than that"
        )
    ahead, ahead_masses, held = _cut(ahead, ahead_masses, at)
    behind, behind_masses = piece_stretches(rear, shear)
    middle = len(ahead)
    return Beam(
        stretches=(*ahead, *behind),
        supports=(
            Support(0),
            Support(held, bearing.stiffness),
            Support(middle + len(behind)),
        ),
        masses=(
            *ahead_masses,
            Mass(held, bearing.mass),
            *(Mass(middle + lump.after, lump.mass, lump.turning) for lump in behind_masses),
        ),
        hinges=(middle,),
    )


def two_piece_speed(
    front: Piece, bearing: CarrierBearing, rear: Piece, shear: bool = True
) -> float:
    """First critical speed of the whole two-piece shaft, rad/s; see `two_piece_beam`."""
    return float(two_piece_beam(front, bearing, rear, shear).speeds(1)[0])


def _cut(
    stretches: list[Stretch], masses: list[Mass], at: float
) -> tuple[list[Stretch], list[Mass], int]:
    """Cut the stretch at a place (mm) in two, and say after which stretch the cut lies."""
    start = 0.0
    for index, stretch in enumerate(stretches):
        inside = at - start
        if abs(inside - stretch.length) < TOL.same_place:
            return stretches, masses, index + 1
        if TOL.same_place < inside < stretch.length:
            parts = [
                Stretch(length, stretch.bending, stretch.mass, stretch.shear, stretch.turning)
                for length in (inside, stretch.length - inside)
            ]
            moved = [
                Mass(lump.after + (lump.after > index), lump.mass, lump.turning) for lump in masses
            ]
            return [*stretches[:index], *parts, *stretches[index + 1 :]], moved, index + 1
        start += stretch.length
    raise BeamError(f"cut: got {at:g} mm, expected a place on the {start:g} mm of the shaft")
