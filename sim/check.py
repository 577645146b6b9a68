"""The main job: sweep everything a rig can do and say what stops it first."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from time import perf_counter
from types import MappingProxyType

from sim.around.surroundings import SurroundingGap, Tell, surrounding_gaps
from sim.assessment import Assessment, Assessor, JointAssessment
from sim.cardan import Chain
from sim.derive import Derivation, derive
from sim.finders import JointCheck, Seen, all_findings
from sim.findings import Finding, Verdict, worst_of
from sim.line import FreeTurn, free_turn, limit_by_spin, running
from sim.remark import Remark
from sim.rests_on import Basis
from sim.ride_doubts import touching_at_ride
from sim.rig import Rig
from sim.search.envelope import Envelope
from sim.search.first_contact import (
    DIRECTIONS,
    FirstContact,
    earliest,
    first_contact,
    past_touching,
)
from sim.search.worst import Extreme, extreme
from sim.travel.what_it_takes import what_it_takes
from sim.vehicle import RIDE, Joint, Vehicle

__all__ = ["Check", "JointCheck", "check"]

Progress = Callable[[str, float], None]
"""Told what is being done and which share of the whole is done."""


@dataclass(frozen=True)
class Check:
    """Everything found out about a rig.

    Attributes
    ----------
    rig, derivation : what was asked, and what it rests on besides what was typed.
    found : what the rig comes to over its travel.
    joints : the same of each joint from the output to the pinion, with how it gets to touch.
    down, up : where the first joint touches as the axle leaves ride height.
    turn : the room over a whole turn at ride height.
    surroundings : the smallest gap to each thing near the shaft.
    running : how evenly the pinion turns at ride height, over one even turn of the output.
    give : the most (mm) that a bush of the links has to give; None where nothing binds.
    findings : worst first.
    """

    rig: Rig
    derivation: Derivation
    found: Assessment
    joints: Mapping[Joint, JointCheck]
    down: FirstContact
    up: FirstContact
    turn: FreeTurn
    surroundings: tuple[SurroundingGap, ...]
    running: Chain
    give: Extreme | None
    findings: tuple[Finding, ...]

    @property
    def envelope(self) -> Envelope:
        """The extremes over the travel."""
        return self.found.swept

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
    tell, assessor = progress or _silent, Assessor()
    derivation = derive(rig)
    vehicle = derivation.vehicle
    _build(rig, vehicle, assessor, tell)
    tell("sweeping the travel", 0.8)
    found = assessor.assess(rig)
    joints = {joint: _joint_check(vehicle, joint, each) for joint, each in found.joints.items()}
    tell("looking at what is near the shaft", 0.9)
    near = surrounding_gaps(rig, vehicle, found.parts, _looking(tell), takes=True)
    turn = _turn_at_ride(vehicle, joints)
    even = running(vehicle)
    seen = Seen(found, MappingProxyType(joints), turn, near, even, Basis(rig, vehicle))
    return Check(
        rig=rig,
        derivation=replace(derivation, notes=(*derivation.notes, *_ride_doubts(joints))),
        found=found,
        joints=seen.joints,
        down=earliest([each.down for each in joints.values()]),
        up=earliest([each.up for each in joints.values()]),
        turn=turn,
        surroundings=near,
        running=even,
        give=_bush_give(vehicle),
        findings=all_findings(seen),
    )


def _build(rig: Rig, vehicle: Vehicle, assessor: Assessor, tell: Progress) -> None:
    """Build the parts of every joint and find their limits, which takes longest."""
    for number, joint in enumerate(vehicle.joints):
        start = 0.8 * number / len(vehicle.joints)
        tell(f"{joint} joint: building the yokes", start)
        room = assessor.room(rig, joint)
        tell(f"{joint} joint: finding where it touches", start + 0.1)
        _ = room.touch, room.keeps


def _joint_check(vehicle: Vehicle, joint: Joint, found: JointAssessment) -> JointCheck:
    """How one joint gets to touch."""
    touch = {joint: found.clear}
    takes = None
    if joint in vehicle.ends and found.most >= found.clear:
        past = past_touching(vehicle, touch)
        takes = what_it_takes(lambda t, r, w: past(t, r, w)[0], vehicle.travel)
    down, up = (first_contact(vehicle, touch, way) for way in DIRECTIONS)
    return JointCheck(found.room, found.sweep, down, up, takes)


def _looking(tell: Progress) -> Tell:
    """Progress over the things near the shaft, with the time that is left when they are many."""
    began = perf_counter()

    def told(name: str, number: int, count: int) -> None:
        says = f"looking at what is near the shaft: {name}, {number + 1} of {count}"
        left = (perf_counter() - began) / number * (count - number) if number else 0.0
        if left > LONG_WAIT:
            says += f", about {left:.0f} s left"
        tell(says, 0.9 + 0.1 * number / count)

    return told


LONG_WAIT = 5.0
"""s. Longer waits are told."""


def _silent(_what: str, _share: float) -> None:
    """Nobody wants to know."""


def _ride_doubts(joints: Mapping[Joint, JointCheck]) -> Iterator[Remark]:
    for joint, found in joints.items():
        yield from touching_at_ride(joint, found.ride, found.clear)


def _turn_at_ride(vehicle: Vehicle, joints: Mapping[Joint, JointCheck]) -> FreeTurn:
    """The room over a whole turn at ride height: that of the tightest joint, at its tightest spin.

    Which spin that is comes from the sampled curves; how much room, from the certificate.
    """
    rooms = {name: each.clear - each.ride for name, each in joints.items()}
    tightest = min(rooms, key=lambda name: rooms[name])
    curve = joints[tightest].curve
    found = free_turn(vehicle, RIDE, {tightest: limit_by_spin(curve.spin, curve.clear)})
    return FreeTurn(rooms[tightest], tightest, found.spin)


def _bush_give(vehicle: Vehicle) -> Extreme | None:
    """The most a bush gives over travel and roll, where the suspension is a set that binds."""
    give = vehicle.suspension.bushes_give
    if give is None:
        return None
    return extreme(lambda t, r, w: give(t, r + 0.0 * w), vehicle.travel, "most")
