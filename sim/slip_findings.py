"""What a check says of the slip: judged where it was measured, asked where nobody did."""

from collections.abc import Iterator
from math import inf, isfinite, nan
from typing import Any, Literal

from geometry.errors import BindpointError
from sim.findings import Finding, Measure, judged
from sim.line import line
from sim.rests_on import Basis, Number, Stand, slip
from sim.rig import Rig
from sim.search.envelope import Envelope
from sim.ticket.slip_plan import Split, generic_slip
from sim.ticket.slips import slip_parts
from sim.travel.what_it_takes import WhatItTakes, what_it_takes
from sim.vehicle import Pose, Vehicle


def slip_findings(rig: Rig, vehicle: Vehicle, swept: Envelope, basis: Basis) -> Iterator[Finding]:
    """One finding for each side that was measured, and one for what nobody measured.

    A side that nobody measured is `inf` in the vehicle: no verdict is spoken on it.
    """
    moved, reserve = swept.slip, rig.wanted.slip.mm
    detail = {"reserve_mm": reserve, "place": moved.has.at}
    if isfinite(moved.has.closes):
        verdict = judged(moved.closes_left, reserve)
        yield Finding(
            "slip-closes",
            verdict,
            "slip",
            Measure(moved.closes_left, "mm"),
            Measure(moved.has.closes, "mm"),
            Measure(max(0.0, -moved.shortest.value), "mm"),
            moved.shortest.at,
            detail | {"takes": _takes(vehicle, moved.has.closes, -1.0, moved.closes_left)},
            basis.of(slip(moved.shortest.at, "closes"), *_reserve(verdict == "close")),
        )
    if isfinite(moved.has.opens):
        verdict = judged(moved.opens_left, reserve)
        yield Finding(
            "slip-opens",
            verdict,
            "slip",
            Measure(moved.opens_left, "mm"),
            Measure(moved.has.opens, "mm"),
            Measure(max(0.0, moved.longest.value), "mm"),
            moved.longest.at,
            detail | {"takes": _takes(vehicle, moved.has.opens, 1.0, moved.opens_left)},
            basis.of(slip(moved.longest.at, "opens"), *_reserve(verdict == "close")),
        )
    apart = moved.apart_left
    if apart is not None and not apart > 0.0:
        yield Finding(
            "slip-comes-apart",
            "touches",
            "slip",
            Measure(apart, "mm"),
            Measure(moved.has.comes_apart or 0.0, "mm"),
            Measure(moved.longest.value, "mm"),
            moved.longest.at,
            detail,
            basis.of(slip(moved.longest.at, "opens")),
        )
    if not moved.has.measured:
        yield _asked(rig, swept, basis)


def _takes(vehicle: Vehicle, has: float, sense: float, left: float) -> WhatItTakes | None:
    """What it takes to run out of what it has (mm), opening (1) or closing (-1); None if never."""
    if left > 0.0:
        return None
    return what_it_takes(lambda t, r, w: sense * line(vehicle, t, r, w).slip - has, vehicle.travel)


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
        Measure(nan if generic is None else generic.least, "mm"),
        Measure(nan if generic is None else generic.closes + generic.opens, "mm"),
        Measure(sum(mm for mm, _ in asked.values()), "mm"),
        worst[1],
        detail,
        basis.of(*(slip(at, way) for way, (_, at) in asked.items()), *_reserve(True), _catalogue),
    )


def _generic(rig: Rig, swept: Envelope) -> Split | None:
    """The shortest generic slip that has what the travel asks with the reserve; None for none.

    What the rig measured of its own slip does not matter here.
    """
    try:
        return generic_slip(rig, swept)
    except BindpointError:  # no slip of the catalogue goes with this tube
        return None


def _reserve(counts: bool) -> tuple[Number, ...]:
    return (_wanted,) if counts else ()


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
