"""Cases of remedies for the tests."""

from sim.assessment import Assessor
from sim.cures.remedy import Case, Dose, Remedy
from sim.rig.demos import load_demo


def case_of(remedy: Remedy, name: str, dose: Dose) -> Case:
    """A remedy at a dose in a demo rig, swept."""
    rig, assessor = load_demo(name), Assessor()
    cured = remedy.applied(rig, dose)
    return Case(rig, dose, cured, assessor.assess(rig), assessor.assess(cured))
