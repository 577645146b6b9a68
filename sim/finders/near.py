"""Findings on what lives near the shaft."""

from collections.abc import Iterator

from sim.around.outline import CASE, SNOUT, TUBES
from sim.finders.seen import Seen, mm, where
from sim.findings import Finding
from sim.rests_on import Stand, centres, housing, thickness


def near_findings(seen: Seen) -> Iterator[Finding]:
    """The smallest gap to each thing near the shaft."""
    wanted = seen.rig.wanted.clearance.mm
    for gap in seen.near:
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
                "takes": gap.takes,
            },
            seen.basis.of(
                housing(gap.at) if gap.part == TUBES else centres(gap.at, gap.fixed_to_axle),
                # Whose size the rig tells has it from no joint and no slip.
                *where(gap.part not in (SNOUT, TUBES, CASE), thickness(gap.joint)),
                _wanted_clearance,
            ),
        )


def _wanted_clearance(stand: Stand) -> float:
    return stand.rig.wanted.clearance.mm
