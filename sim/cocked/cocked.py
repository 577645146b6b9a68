"""Every cap of a joint: how it sits, where its trunnion is pressed, how long it lasts for that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from sim.cocked.balance import Held
from sim.cocked.cap import CapResult, cap_result
from sim.cocked.joint import CAPS, Cap, CrossAt, Crosses, cross_at
from sim.cocked.seat import STRAIGHT, Seat
from sim.cocked.slices import Row
from sim.cocked.torque import Torques, torques_of
from sim.cocked.turning import cap_turn
from sim.remark import Remark
from sim.rig import Rig
from sim.vehicle import Joint

CLEARANCE: Final = 0.02
"""mm on the diameter, between needles, trunnion and cap (from memory, generic)."""


@dataclass(frozen=True, eq=False)
class Cocked:
    """What the caps of a joint come to.

    Attributes
    ----------
    at : the cross. torques : at which it was asked. caps : by their names.
    assumed : what it rests on that nobody told.
    """

    at: CrossAt
    torques: Torques
    caps: Mapping[Cap, CapResult]
    assumed: tuple[Remark, ...]


def cocked(
    rig: Rig,
    joint: Joint,
    seats: Seat | Mapping[Cap, Seat] = STRAIGHT,
    torque: float | None = None,
    which: Crosses | None = None,
    held: Held | None = None,
) -> Cocked:
    """Ask every cap of a joint of a rig.

    seats : how they sit; one for all, or each by its name and the rest straight.
    torque : N mm that the joint gets every day, in place of what the rig tells.
    which : cross of a head. held : what holds the caps, in place of what their seats say.
    """
    at = cross_at(rig, joint, which)
    torques = torques_of(rig, at.needles, at.trunnion.arm, torque)
    found: dict[Cap, CapResult] = {}
    for cap in CAPS:
        seat = seats if isinstance(seats, Seat) else seats.get(cap, STRAIGHT)
        turn = cap_turn(
            torques.everyday,
            at.bend,
            at.trunnion.arm,
            driving=cap.startswith(at.drives),
            far=cap.endswith("b"),
        )
        row = Row(at.needles, CLEARANCE, bare=seat.out)
        straight = Row(at.needles, CLEARANCE)
        harder = torques.hardest / torques.everyday
        found[cap] = cap_result(row, straight, seat, turn, harder, held)
    return Cocked(at, torques, MappingProxyType(found), torques.assumed)
