"""Findings on the travel itself: poses out of reach, heights beyond what was read."""

from collections.abc import Iterator

from sim.assessment import Assessment
from sim.findings import Finding, mm
from sim.rests_on import centres
from sim.vehicle import Pose


def reach_findings(found: Assessment) -> Iterator[Finding]:
    """Poses that suspension and shaft cannot reach; travel beyond the readings."""
    swept, travel = found.swept, found.vehicle.travel
    if swept.unreachable is not None:
        nothing = mm(0.0)
        yield Finding(
            "out-of-reach",
            "touches",
            "axle",
            nothing,
            nothing,
            nothing,
            swept.unreachable,
            rests_on=found.basis.of(centres(_halfway(swept.unreachable))),
        )
    low, high = swept.extrapolated
    beyond = max(low, high)
    if beyond > 0.0:
        end = -travel.droop if low >= high else travel.bump
        yield Finding(
            "beyond-readings",
            "close",
            "axle",
            mm(-beyond),
            mm(abs(end) - beyond),
            mm(abs(end)),
            Pose(travel=end),
        )


def _halfway(at: Pose) -> Pose:
    """On the way to a pose that has no line of the shaft: what decides the line there too."""
    return Pose(0.5 * at.travel, 0.5 * at.roll, 0.5 * at.wrap)
