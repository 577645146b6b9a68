"""Whether a slip fits between the yokes of the shaft at all.

At ride height the shaft is as long as its two yokes, its slip as it is set, and some tube. Where
yokes and slip alone are longer, no tube can be cut, however much bend and stroke there is.
"""

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.derive import measured_slip
from sim.findings import Finding, mm
from sim.hardware.head import EndHardware
from sim.head.bend import reach_of
from sim.line import line
from sim.rests_on import Stand, centres
from sim.rig import Rig
from sim.ticket.slip_plan import SlipPlan, slip_plan
from sim.ticket.slips import slip_parts
from sim.vehicle import RIDE, Joint, Vehicle


def slip_room_findings(found: Assessment) -> Iterator[Finding]:
    """One finding where no slip fits, or not the one described; none where one does.

    None either where a yoke of the shaft has no weld that is known, or nothing is known of a slip.
    """
    rig, room = found.rig, room_for_slip(found.vehicle, found.parts)
    if rig.shaft.slip.at != "shaft" or room is None:
        return
    try:
        plan = slip_plan(rig, found.swept)
    except BindpointError:  # no slip of the catalogue goes with this tube
        return
    built = _built(rig, plan)
    home = rig.shaft.slip.pushed_home
    least = built if home is not None else min(built, _shortest(rig, plan))
    if room > built:
        return
    fits = room > least
    need = built if fits else least
    yield Finding(
        "no-room-for-slip",
        "close" if fits else "touches",
        "slip",
        mm(room - need),
        mm(room),
        mm(need),
        RIDE,
        {"other_fits": fits, "measured": home is not None},
        found.basis.of(centres(RIDE), _slips),
    )


def room_for_slip(vehicle: Vehicle, hardware: Mapping[Joint, EndHardware]) -> float | None:
    """From weld land to weld land of the shaft with the slip, at ride height, mm; None if unknown.

    That is what slip and tube have together.
    """
    first, second = vehicle.ends
    near, far = hardware[first].driven_from.tube_from, hardware[second].driving_from.tube_from
    if near is None or far is None:
        return None
    state = line(vehicle, RIDE.travel, RIDE.roll, RIDE.wrap)
    heads = reach_of(vehicle.output_head, state.output_bend)
    heads = heads + reach_of(vehicle.pinion_head, state.pinion_bend)
    return float(state.length - heads) - near - far


def _built(rig: Rig, plan: SlipPlan) -> float:
    """What the slip that is built takes up, weld land to weld land as it is set, mm."""
    home, part = rig.shaft.slip.pushed_home, plan.built_part
    if home is not None:
        return home.mm + plan.built.closes
    return part.pushed_home + plan.built.closes if part is not None else 0.0


def _shortest(rig: Rig, plan: SlipPlan) -> float:
    """The same of the generic slip that takes up least of those that do for the travel, mm."""
    parts = zip(slip_parts(rig), plan.choices, strict=True)
    return min(
        (part.pushed_home + split.closes for part, split in parts if split.fits), default=inf
    )


def _slips(stand: Stand) -> Any:
    """What decides how long a slip is: what was measured of it, else the generic ones."""
    measured = measured_slip(stand.rig)
    try:
        return measured, tuple(part.pushed_home for part in slip_parts(stand.rig))
    except BindpointError:
        return measured
