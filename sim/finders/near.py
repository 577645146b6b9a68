"""Findings on what lives near the shaft."""

from collections.abc import Iterator

from sim.around.outline import CASE, SNOUT, TUBES
from sim.around.surroundings import touch_takes
from sim.assessment import Assessment
from sim.findings import Finding, mm
from sim.rests_on import Stand, centres, housing, thickness, where


def near_findings(found: Assessment) -> Iterator[Finding]:
    """The smallest gap to each thing near the shaft."""
    rig, wanted = found.rig, found.rig.wanted.clearance.mm
    for thing, gap in zip(rig.surroundings, found.near, strict=True):
        asked = (rig, found.vehicle, found.parts, thing)
        yield Finding(
            "surroundings" if gap.finished else "surroundings-unfinished",
            gap.verdict(wanted),
            gap.name,
            mm(gap.certified_mm - wanted),
            mm(wanted),
            mm(gap.gap_mm),
            gap.at,
            {
                "part": gap.part,
                "called": gap.called,
                "yields": gap.yields,
                "certified_mm": gap.certified_mm,
                "unseen": gap.unseen,
                "takes": touch_takes(*asked) if gap.touches else None,
            },
            found.basis.of(
                housing(gap.at) if gap.part == TUBES else centres(gap.at, gap.fixed_to_axle),
                # Whose size the rig tells has it from no joint and no slip.
                *where(gap.part not in (SNOUT, TUBES, CASE), thickness(gap.joint)),
                _wanted_clearance,
            ),
        )


def _wanted_clearance(stand: Stand) -> float:
    return stand.rig.wanted.clearance.mm
