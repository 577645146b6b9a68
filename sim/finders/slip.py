"""What a check says of the slip: judged where it was measured, asked where nobody did."""

from collections.abc import Iterator
from math import inf, isfinite, nan
from typing import Any, Literal

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.findings import Code, Finding, judged, mm
from sim.line import line
from sim.rests_on import Basis, Stand, slip, where
from sim.rig import Rig
from sim.search.envelope import Envelope
from sim.search.first_past import DIRECTIONS, FirstPast, closest
from sim.search.what_it_takes import WhatItTakes, what_it_takes
from sim.search.worst import Extreme, PoseFunction
from sim.ticket.slip_plan import Split, generic_slip
from sim.ticket.slips import slip_parts
from sim.vehicle import Pose, Vehicle


def slip_findings(found: Assessment) -> Iterator[Finding]:
    """One finding for each side that was measured, and one for what nobody measured.

    A side that nobody measured is `inf` in the vehicle: no verdict is spoken on it.
    """
    moved, basis = found.swept.slip, found.basis
    reserve = found.rig.wanted.slip.mm
    detail = {"reserve_mm": reserve, "place": moved.has.at}
    sides: tuple[tuple[Code, Literal["closes", "opens"], float, Extreme, float, float], ...] = (
        ("slip-closes", "closes", moved.has.closes, moved.shortest, -1.0, moved.closes_left),
        ("slip-opens", "opens", moved.has.opens, moved.longest, 1.0, moved.opens_left),
    )
    for code, way, has, end, sense, left in sides:
        if not isfinite(has):
            continue
        verdict = judged(left, reserve)
        first = _first(found.vehicle, has, sense, left)
        numbers = [slip(end.at, way)]
        if first is not None:
            numbers.append(slip(first, way))
        yield Finding(
            code,
            verdict,
            "slip",
            mm(left),
            mm(has),
            mm(max(0.0, sense * end.value)),
            end.at,
            detail | {"first": first, "takes": _takes(found.vehicle, has, sense, left)},
            basis.of(*numbers, *where(verdict == "close", _wanted)),
        )
    apart = moved.apart_left
    if apart is not None and not apart > 0.0:
        yield Finding(
            "slip-comes-apart",
            "touches",
            "slip",
            mm(apart),
            mm(moved.has.comes_apart or 0.0),
            mm(moved.longest.value),
            moved.longest.at,
            detail | {"first": _first(found.vehicle, moved.has.comes_apart or 0.0, 1.0, apart)},
            basis.of(slip(moved.longest.at, "opens")),
        )
    if not moved.has.measured:
        yield _asked(found.rig, found.swept, basis)


def _takes(vehicle: Vehicle, has: float, sense: float, left: float) -> WhatItTakes | None:
    """What it takes to run out of what it has (mm), opening (1) or closing (-1); None if never."""
    if left > 0.0:
        return None
    return what_it_takes(_past(vehicle, has, sense), vehicle.travel)


def _first(vehicle: Vehicle, has: float, sense: float, left: float) -> Pose | None:
    """The pose nearest to ride height, over all roll and wrap, at which it runs out of it."""
    if left > 0.0:
        return None
    past = _past(vehicle, has, sense)
    return closest(FirstPast(past, vehicle.travel, way).nearest() for way in DIRECTIONS)


def _past(vehicle: Vehicle, has: float, sense: float) -> PoseFunction:
    return lambda t, r, w: sense * line(vehicle, t, r, w).slip - has


def _asked(rig: Rig, swept: Envelope, basis: Basis) -> Finding:
    """What the travel asks of a slip that nobody measured, and which generic one has it."""
    moved, has = swept.slip, swept.slip.has
    asked: dict[Literal["closes", "opens"], tuple[float, Pose]] = {}
    if not isfinite(has.closes):
        asked["closes"] = max(0.0, -moved.shortest.value), moved.shortest.at
    if not isfinite(has.opens):
        asked["opens"] = max(0.0, moved.longest.value), moved.longest.at
    generic = _generic(rig, swept)
    detail = {
        "asked": asked,
        "wanted_mm": rig.wanted.slip.mm,
        "place": has.at,
        "generic": None if generic is None else generic.name,
        "set": None if generic is None else (generic.closes, generic.opens),
    }
    worst = max(asked.values(), key=lambda each: each[0])
    return Finding(
        "slip-not-measured",
        "clear",
        "slip",
        mm(nan if generic is None else generic.least),
        mm(nan if generic is None else generic.closes + generic.opens),
        mm(sum(far for far, _ in asked.values())),
        worst[1],
        detail,
        basis.of(*(slip(at, way) for way, (_, at) in asked.items()), _wanted, _catalogue),
    )


def _generic(rig: Rig, swept: Envelope) -> Split | None:
    """The shortest generic slip that has what the travel asks with the reserve; None for none.

    What the rig measured of its own slip does not matter here.
    """
    try:
        return generic_slip(rig, swept)
    except BindpointError:  # no slip of the catalogue goes with this tube
        return None


def _wanted(stand: Stand) -> float:
    return stand.rig.wanted.slip.mm


def _catalogue(stand: Stand) -> Any:
    """The slips of the catalogue as they are for this tube and cross."""
    if stand.rig.shaft.slip.at != "shaft":
        return stand.rig.shaft.output_end.output_yoke
    try:
        return tuple(part.usable for part in slip_parts(stand.rig))
    except BindpointError:
        return inf
