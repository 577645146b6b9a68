"""A rig's shaft as its critical speed sees it: pieces as they are cut, the slip as it is set."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from geometry.errors import BindpointError
from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.remark import Remark
from sim.rig import Rig
from sim.ticket.cut_list import SLIP, Cut
from sim.ticket.shaft_parts import SLEEVE, STUB, TUBE, YOKE
from sim.ticket.slip_plan import SlipPlan
from sim.whirl import Piece, shaft_speed, slip_stretches


def tube_of(rig: Rig) -> TubeSection:
    """Section of the rig's tube."""
    return TubeSection.of_wall(rig.shaft.tube.outside.mm, rig.shaft.tube.wall.mm)


@dataclass(frozen=True)
class WhirlSaid:
    """The critical speed of a shaft as it is cut; rad/s.

    Attributes
    ----------
    pieces : as the critical speed sees them; None for one that is not known.
    critical, critical_open : as set at ride height, and as far open as the travel pulls the slip;
        None where a piece is not known.
    missing, assumed : what is not known; what the numbers rest on.
    """

    pieces: tuple[Piece | None, ...]
    critical: float | None
    critical_open: float | None
    missing: tuple[Remark, ...]
    assumed: tuple[Remark, ...]

    @property
    def mass(self) -> float | None:
        """Kg of the whole shaft; None where not known."""
        known = [piece.mass for piece in self.pieces if piece is not None]
        return sum(known) if len(known) == len(self.pieces) else None


def whirl_of(rig: Rig, cuts: tuple[Cut, ...], plan: SlipPlan) -> WhirlSaid:
    """Find the critical speed of a rig's shaft, as far as its pieces are known."""
    pieces = tuple(whirl_piece(rig, cut, plan) for cut in cuts)
    critical, carrier = whirl_speed(rig, pieces), rig.carrier
    missing = []
    if any(cut.piece.last.beyond and cut.piece.last.land is None for cut in cuts):
        missing.append(Remark("stub-for-whirl", "carrier.bearing_stub"))
    assumed = []
    if critical is not None and carrier is not None:
        assumed.append(Remark("bearing-stiff"))
    if critical is not None and any(piece is not None and piece.slip for piece in pieces):
        assumed.append(Remark("slip-without-play"))
    opened = None if critical is None else _opened(rig, cuts, plan)
    return WhirlSaid(pieces, critical, opened, tuple(missing), tuple(assumed))


def whirl_piece(rig: Rig, cut: Cut, plan: SlipPlan, opened: float = 0.0) -> Piece | None:
    """A piece as its critical speed sees it; None where yokes and slip leave no tube or spline.

    opened : mm by which a slip in it is pulled out from where it is at ride height.
    """
    forged = material(YOKE)
    piece = cut.piece
    first, last = piece.first.to_tube, piece.last.to_tube
    if not cut.parts or first is None or last is None:
        return None
    plain = partial(
        Piece,
        section=tube_of(rig),
        made_of=material(TUBE),
        first_land=first,
        last_land=last,
        first_mass=piece.first.mass(forged),
        last_mass=piece.last.mass(forged),
    )
    try:
        return _with_slip(plain, cut, plan, opened)
    except BindpointError:  # no tube or no spline is left, which cut list and slip tell
        return None


def _with_slip(plain: Callable[..., Piece], cut: Cut, plan: SlipPlan, opened: float) -> Piece:
    """A piece with its slip as set, the way round in which it whirls sooner."""
    length = cut.piece.length
    if cut.slip_set is None or plan.built_part is None:
        return plain(length=length)
    part = plan.built_part
    slip = slip_stretches(
        part.shape.build(),
        part.stroke - plan.built.closes - opened,
        material(SLEEVE),
        material(STUB),
        length=cut.slip_set + opened,
    )
    names = [each.name for each in cut.parts]
    start = sum(each.length for each in cut.parts[: names.index(SLIP)])
    ways = [plain(length=length + opened, slip=way, slip_from=start) for way in (slip, slip[::-1])]
    return min(ways, key=lambda way: shaft_speed([way]))


def whirl_speed(rig: Rig, pieces: Sequence[Piece | None]) -> float | None:
    """Critical speed (rad/s) of all pieces together; None where one is not known."""
    known = [piece for piece in pieces if piece is not None]
    if len(known) < len(pieces):
        return None
    return shaft_speed(known, 0.0 if rig.carrier is None else rig.carrier.middle_joint_beyond.mm)


def _opened(rig: Rig, cuts: tuple[Cut, ...], plan: SlipPlan) -> float | None:
    """The same with the slip in the shaft as far open as the travel pulls it.

    None without such a slip, where the travel opens it no further than ride height, or where it
    leaves no spline inside.
    """
    if plan.at != "shaft" or not plan.opening > 0.0:
        return None
    return whirl_speed(rig, tuple(whirl_piece(rig, cut, plan, plan.opening) for cut in cuts))
