"""What lives near the shaft: doses are not chosen for it, but what a cure does to it is told."""

from sim.around.surroundings import SurroundingGap, surrounding_gaps
from sim.assessment import Assessor
from sim.derive import vehicle_of
from sim.rig import Rig


def short_of_clearance(rig: Rig, assessor: Assessor) -> tuple[SurroundingGap, ...]:
    """What the shaft of a rig touches, or comes nearer to than is wanted, over its travel.

    Raises BindpointError for parts and vehicles that cannot be, and for mesh files that cannot be
    read.
    """
    if not rig.surroundings:
        return ()
    wanted = rig.wanted.clearance.mm
    found = surrounding_gaps(rig, vehicle_of(rig), assessor.parts(rig))
    return tuple(gap for gap in found if gap.certified_mm < wanted)
