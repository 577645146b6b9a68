"""What a joint got against what it holds, as signs of its cause."""

from sim.overload import Overload, how_failed, overload
from sim.seen import Inspection
from sim.why.case import Case
from sim.why.evidence import Computed


def pulled(case: Case, inspection: Inspection) -> Overload:
    """Hold what the joint gets against what it takes, by how it failed."""
    return overload(case.found, case.joint, how_failed(inspection))


def from_the_pulls(found: Overload) -> tuple[Computed, ...]:
    """Its signs."""
    return tuple(Computed(code, says, why) for code, (says, why) in found.signs.items())
