"""What a check has to say: one file a matter, one entry in `FINDERS`."""

from collections.abc import Callable, Iterator
from typing import Final

from sim.assessment import Assessment
from sim.finders.front_axle import front_findings
from sim.finders.joints import joint_findings, turn_findings
from sim.finders.near import near_findings
from sim.finders.reach import reach_findings
from sim.finders.slip import slip_findings
from sim.finders.slip_room import slip_room_findings
from sim.findings import Finding, Verdict, by_gravity, worst_of

__all__ = ["BESIDE", "FINDERS", "all_findings", "stopped_beside", "verdict_of"]

FINDERS: Final[tuple[Callable[[Assessment], Iterator[Finding]], ...]] = (
    joint_findings,
    slip_findings,
    slip_room_findings,
    turn_findings,
    reach_findings,
    near_findings,
    front_findings,
)
"""Everything that is asked of what a rig comes to. Of findings that weigh the same those of an
earlier one come first."""


BESIDE: Final = (slip_room_findings,)
"""Those whose findings stop the shaft though each joint, the slip, the reach and things near it
have what was wanted: no remedy looks for them, so a cure has to be asked for each."""


def stopped_beside(found: Assessment) -> tuple[Finding, ...]:
    """Findings that stop the shaft, whatever `Limits` say."""
    told = (finding for finder in BESIDE for finding in finder(found))
    return tuple(finding for finding in told if finding.verdict == "touches")


def verdict_of(found: Assessment) -> tuple[Verdict, bool]:
    """The worst verdict of `all_findings`, without all else they say, and whether metal has part.

    That is, whether it is not the slip alone that ends the travel. What is near the shaft is looked
    at only where that can still tell.
    """
    apart = found.swept.slip.apart_left
    parts = apart is not None and not apart > 0.0
    short = [finding.verdict for finder in BESIDE for finding in finder(found)]
    metal = "touches" in short or not found.reaches or min(found.margins.values()) <= 0.0
    verdict = worst_of([found.verdict, *short, "touches" if parts else "clear"])
    if verdict == "touches" and metal:
        return verdict, metal
    near = found.near_verdict
    return worst_of([verdict, near]), metal or near == "touches"


def all_findings(found: Assessment) -> tuple[Finding, ...]:
    """Every finding, worst first."""
    return by_gravity([finding for finder in FINDERS for finding in finder(found)])
