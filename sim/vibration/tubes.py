"""A stouter tube for a shaft that whirls: the least of those a shop has that runs it safely."""

from dataclasses import dataclass
from typing import Final

from geometry.errors import BindpointError
from sim.rig import Rig
from sim.rig.change import changed
from sim.vibration.case import Case
from sim.whirl import SAFE_SHARE

OUTSIDES: Final = (2.0, 2.5, 3.0, 3.5, 4.0)
"""Outside diameters a shop has, in; common practice, no source."""

INCH: Final = 25.4
"""mm."""


@dataclass(frozen=True)
class Tube:
    """A stouter tube with the same wall.

    Attributes
    ----------
    outside : mm.
    before, after : critical speed, rad/s.
    enough : whether the speed of the symptom is then within the safe share.
    """

    outside: float
    before: float
    after: float
    enough: bool
    cured: Rig


def stouter(case: Case) -> Tube | None:
    """The least stouter tube that is enough, or the stoutest; None where nothing is known."""
    before, shaft = case.whirl.critical, case.turns.shaft
    if before is None or shaft is None:
        return None
    best = None
    for size in OUTSIDES:
        outside = size * INCH
        if outside <= case.rig.shaft.tube.outside.mm + 0.1:
            continue
        try:
            cured = changed(case.rig, {"shaft.tube.outside": f"{size:g} in"})
            after = Case(cured, case.symptom, case.assessor).whirl.critical
        except BindpointError:
            continue
        if after is None or after <= before:
            continue
        best = Tube(outside, before, after, shaft <= SAFE_SHARE * after, cured)
        if best.enough:
            break
    return best
