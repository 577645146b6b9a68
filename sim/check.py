"""The main job: sweep everything a rig can do and say what stops it first."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from time import perf_counter

from sim.around.surroundings import Tell
from sim.assessment import Assessment, Assessor, JointAssessment
from sim.derive import Derivation, derive
from sim.finders import all_findings
from sim.findings import Finding, Verdict, worst_of
from sim.progress import Progress, silent
from sim.remark import Remark
from sim.ride_doubts import touching_at_ride
from sim.rig import Rig
from sim.rig.typed_joints import typed_joint
from sim.search.worst import Extreme, extreme
from sim.vehicle import Joint, Vehicle

__all__ = ["Check", "check"]


@dataclass(frozen=True)
class Check:
    """Everything found out about a rig.

    Attributes
    ----------
    derivation : what it rests on besides what was typed.
    found : what the rig comes to over its travel.
    give : the most (mm) that a bush of the links has to give; None where nothing binds.
    findings : worst first.
    """

    derivation: Derivation
    found: Assessment
    give: Extreme | None
    findings: tuple[Finding, ...]

    @property
    def rig(self) -> Rig:
        """What was asked."""
        return self.found.rig

    @property
    def joints(self) -> Mapping[Joint, JointAssessment]:
        """Each joint from the output to the pinion."""
        return self.found.joints

    @property
    def verdict(self) -> Verdict:
        """The worst verdict of all findings."""
        return worst_of([finding.verdict for finding in self.findings])

    @property
    def tightest(self) -> Joint:
        """The joint with the least bend left."""
        return min(self.joints, key=lambda joint: self.joints[joint].margin)


def check(rig: Rig, progress: Progress | None = None) -> Check:
    """Sweep a rig's travel, roll and wrap and compare with what its parts allow.

    Raises
    ------
    BindpointError
        When the rig's parts cannot be built or clash as they stand.
    """
    tell, assessor = progress or silent, Assessor()
    derivation = derive(rig)
    vehicle = derivation.vehicle
    _build(rig, vehicle, assessor, tell)
    tell("sweeping the travel", 0.8)
    found = assessor.assess(rig)
    tell("checking what is near the shaft", 0.9)
    found.look_around(_looking(tell))
    notes = (*derivation.notes, *_ride_doubts(found))
    return Check(
        derivation=replace(derivation, notes=notes),
        found=found,
        give=_bush_give(vehicle),
        findings=all_findings(found),
    )


def _build(rig: Rig, vehicle: Vehicle, assessor: Assessor, tell: Progress) -> None:
    """Build the parts of every joint and find their limits, which takes longest."""
    for number, joint in enumerate(vehicle.joints):
        start = 0.8 * number / len(vehicle.joints)
        tell(f"{joint} joint: building the yokes", start)
        if typed_joint(rig, joint).typed.bench:
            _fit(rig, joint, start, tell)
        room = assessor.room(rig, joint)
        tell(f"{joint} joint: finding where it touches", start + 0.1)
        _ = room.touch, room.keeps


def _fit(rig: Rig, joint: Joint, start: float, tell: Progress) -> None:
    """Find the yokes that agree with bench readings; they are kept."""
    # Slow to read, and most rigs have no readings.
    from sim.bench.fit import fitted_joint  # noqa: PLC0415

    says = f"{joint} joint: finding yokes that agree with its readings"
    fitted_joint(rig, joint, lambda share: tell(says, start + 0.1 * share))


def _looking(tell: Progress) -> Tell:
    """Progress over the things near the shaft, with the time that is left when they are many."""
    began = perf_counter()

    def told(name: str, number: int, count: int) -> None:
        says = f"checking what is near the shaft: {name}, {number + 1} of {count}"
        left = (perf_counter() - began) / number * (count - number) if number else 0.0
        if left > LONG_WAIT:
            says += f", about {left:.0f} s left"
        tell(says, 0.9 + 0.1 * number / count)

    return told


LONG_WAIT = 5.0
"""s. Longer waits are told."""


def _ride_doubts(whole: Assessment) -> Iterator[Remark]:
    for joint, found in whole.joints.items():
        yield from touching_at_ride(joint, found.ride, found.clear)


def _bush_give(vehicle: Vehicle) -> Extreme | None:
    """The most a bush gives over travel and roll, where the suspension is a set that binds."""
    give = vehicle.suspension.bushes_give
    if give is None:
        return None
    return extreme(lambda t, r, w: give(t, r + 0.0 * w), vehicle.travel, "most")
