"""The critical speed of a whole shaft: pieces from joint to joint, carrier bearings between."""

from collections.abc import Sequence
from dataclasses import replace

from sim.tolerances import TOL
from sim.whirl.beam import Beam, BeamError, Stretch, Support
from sim.whirl.piece import Piece


def shaft_beam(pieces: Sequence[Piece], overhang: float = 0.0) -> Beam:
    """All pieces as one beam, pinned at both ends and hinged at the joints between.

    overhang : from the carrier bearing that holds each piece but the last back to the joint
        centre behind it, mm.

    A joint passes a force across and no moment, so each piece shakes the next. Gearbox tail,
    bracket and axle give in truth, which lowers the speed; how much is known only by test.
    """
    stretches: list[Stretch] = []
    supports, hinges = [Support(0)], []
    for number, piece in enumerate(pieces, start=1):
        own = piece.stretches()
        if number < len(pieces):
            at = piece.length - overhang
            if not (overhang > 0.0 and at > 0.0):
                raise BeamError(
                    f"carrier bearing: got {overhang:g} mm before the middle joint of a front "
                    f"section of {piece.length:g} mm, expected less than that and above zero"
                )
            own, held = _cut(own, at)
            supports.append(Support(len(stretches) + held))
            hinges.append(len(stretches) + len(own))
        stretches += own
    return Beam(tuple(stretches), (*supports, Support(len(stretches))), hinges=tuple(hinges))


def shaft_speed(pieces: Sequence[Piece], overhang: float = 0.0) -> float:
    """First critical speed, rad/s; see `shaft_beam`."""
    return float(shaft_beam(pieces, overhang).speeds(1)[0])


def _cut(stretches: list[Stretch], at: float) -> tuple[list[Stretch], int]:
    """Cut the stretch at a place (mm) in two, and say after which stretch the cut lies."""
    start = 0.0
    for index, stretch in enumerate(stretches):
        inside = at - start
        if abs(inside - stretch.length) < TOL.same_place:
            return stretches, index + 1
        if TOL.same_place < inside < stretch.length:
            parts = [replace(stretch, length=part) for part in (inside, stretch.length - inside)]
            return [*stretches[:index], *parts, *stretches[index + 1 :]], index + 1
        start += stretch.length
    raise BeamError(f"cut: got {at:g} mm, expected a place on the {start:g} mm of the shaft")
