"""The main job: sweep everything a rig can do and say what stops it first."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import degrees, inf
from types import MappingProxyType

from geometry.gap import Gap, smallest_gap
from geometry.touch import Contact, TouchCurve
from sim.derive import Derivation, derive
from sim.envelope import Envelope, JointSweep, envelope
from sim.findings import Finding, Measure, Verdict, by_gravity, judged, worst_of
from sim.first_contact import JOINTS, FirstContact, Joint, first_contact
from sim.hardware import JointHardware, joint_hardware
from sim.line import FreeTurn, free_turn, limit_by_spin
from sim.rig import Rig
from sim.surroundings import SurroundingGap, surrounding_gaps
from sim.touch_cache import cached_touch
from sim.vehicle import RIDE, Pose, Vehicle

Progress = Callable[[str, float], None]
"""Told what is being done and which share of the whole is done."""


@dataclass(frozen=True)
class JointCheck:
    """One joint over the whole travel.

    Attributes
    ----------
    hardware : its parts.
    curve : when they touch.
    sweep : the bends it meets.
    gap : smallest gap over a turn at the worst bend.
    down, up : where it first touches as the axle leaves ride height, this joint alone.
    """

    hardware: JointHardware
    curve: TouchCurve
    sweep: JointSweep
    gap: Gap
    down: FirstContact
    up: FirstContact

    @property
    def margin(self) -> float:
        """Bend (rad) left between the worst pose and the certified clear bend."""
        return self.curve.certified_clear - self.sweep.most.value

    @property
    def meeting(self) -> Gap | Contact:
        """What meets: at first touch where it touches, else what is nearest at the worst bend."""
        first = self.curve.first
        return first if first is not None and self.margin <= 0.0 else self.gap

    @property
    def first(self) -> Pose | None:
        """The pose of first contact nearest to ride height, on the way down or up."""
        firsts = [way.first.at for way in (self.down, self.up) if way.first is not None]
        return min(firsts, key=lambda at: abs(at.travel), default=None)


@dataclass(frozen=True)
class Check:
    """Everything found out about a rig.

    Attributes
    ----------
    rig, derivation : what was asked, and what it rests on besides what was typed.
    joints : "output" and "pinion".
    envelope : the extremes over the travel box.
    down, up : where the first joint touches as the axle leaves ride height.
    turn : the room over a whole turn at ride height.
    surroundings : the smallest gap to each thing near the shaft.
    findings : worst first.
    """

    rig: Rig
    derivation: Derivation
    joints: Mapping[Joint, JointCheck]
    envelope: Envelope
    down: FirstContact
    up: FirstContact
    turn: FreeTurn
    surroundings: tuple[SurroundingGap, ...]
    findings: tuple[Finding, ...]

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
    tell = progress or _silent
    derivation = derive(rig)
    vehicle = derivation.vehicle
    curves: dict[Joint, tuple[JointHardware, TouchCurve]] = {}
    for number, joint in enumerate(JOINTS):
        tell(f"{joint} joint: building the yokes", 0.4 * number)
        hardware = joint_hardware(rig, joint)
        tell(f"{joint} joint: finding where it touches", 0.4 * number + 0.1)
        curves[joint] = hardware, touch_of(hardware)
    tell("sweeping the travel", 0.8)
    swept = envelope(vehicle)
    limits = {joint: curve.certified_clear for joint, (_, curve) in curves.items()}
    joints: dict[Joint, JointCheck] = {}
    for joint, (hardware, curve) in curves.items():
        sweep = swept.output if joint == "output" else swept.pinion
        alone = {other: limits[other] if other == joint else inf for other in JOINTS}
        joints[joint] = JointCheck(
            hardware,
            curve,
            sweep,
            smallest_gap(hardware.closing, min(sweep.most.value, curve.limit)),
            first_contact(vehicle, alone["output"], alone["pinion"], "down"),
            first_contact(vehicle, alone["output"], alone["pinion"], "up"),
        )
    tell("looking at what is near the shaft", 0.9)
    built = {joint: hardware for joint, (hardware, _) in curves.items()}
    near = surrounding_gaps(rig, vehicle, built)
    turn = _turn_at_ride(vehicle, joints)
    return Check(
        rig=rig,
        derivation=derivation,
        joints=MappingProxyType(joints),
        envelope=swept,
        down=first_contact(vehicle, limits["output"], limits["pinion"], "down"),
        up=first_contact(vehicle, limits["output"], limits["pinion"], "up"),
        turn=turn,
        surroundings=near,
        findings=by_gravity(
            [*_findings(rig, joints, swept, turn), *_surrounding_findings(rig, near)]
        ),
    )


def _silent(_what: str, _share: float) -> None:
    """Nobody wants to know."""


def touch_of(hardware: JointHardware) -> TouchCurve:
    """Touch curve of one joint, from the cache where it is known."""
    return cached_touch(hardware.parts, lambda: hardware.closing)


def _turn_at_ride(vehicle: Vehicle, joints: Mapping[Joint, JointCheck]) -> FreeTurn:
    by_spin = {j: limit_by_spin(c.curve.spin, c.curve.clear) for j, c in joints.items()}
    return free_turn(vehicle, RIDE, by_spin["output"], by_spin["pinion"])


def _findings(
    rig: Rig, joints: Mapping[Joint, JointCheck], swept: Envelope, turn: FreeTurn
) -> Iterator[Finding]:
    for joint, result in joints.items():
        yield from _joint_findings(rig, joint, result)
    yield from _slip_findings(rig, swept)
    yield Finding(
        "turns-at-ride",
        judged(turn.margin, 0.0),
        "axle",
        _deg(turn.margin),
        _deg(joints["output" if turn.joint == "output" else "pinion"].curve.certified_clear),
        _deg(joints["output" if turn.joint == "output" else "pinion"].sweep.ride),
        RIDE,
        {"joint": turn.joint, "spin_deg": degrees(turn.spin)},
    )
    if swept.unreachable is not None:
        nothing = _mm(0.0)
        yield Finding(
            "out-of-reach", "touches", "axle", nothing, nothing, nothing, swept.unreachable
        )
    beyond = max(swept.extrapolated)
    if beyond > 0.0:
        low, high = swept.extrapolated
        travel = -rig.travel.droop.mm if low >= high else rig.travel.bump.mm
        yield Finding(
            "beyond-readings",
            "close",
            "axle",
            _mm(-beyond),
            _mm(abs(travel) - beyond),
            _mm(abs(travel)),
            Pose(travel=travel),
        )


def _joint_findings(rig: Rig, joint: Joint, result: JointCheck) -> Iterator[Finding]:
    most = result.sweep.most
    verdict = judged(result.margin, rig.wanted.bend.rad)
    meeting = result.meeting
    detail = {
        "reserve_deg": degrees(rig.wanted.bend.rad),
        "surfaces": meeting.surfaces,
        "bodies": tuple(result.hardware.yoke_name(body) for body in meeting.bodies),
        "first": result.first,
        "gap_mm": result.gap.distance,
    }
    yield Finding(
        "joint-bend",
        verdict,
        joint,
        _deg(result.margin),
        _deg(result.curve.certified_clear),
        _deg(most.value),
        most.at,
        detail,
    )
    gap, wanted = result.gap.distance, rig.wanted.gap.mm
    if verdict == "clear" and gap < wanted:
        yield Finding(
            "joint-gap", "close", joint, _mm(gap - wanted), _mm(wanted), _mm(gap), most.at, detail
        )


def _slip_findings(rig: Rig, swept: Envelope) -> Iterator[Finding]:
    slip, reserve = swept.slip, rig.wanted.slip.mm
    detail = {"reserve_mm": reserve, "place": slip.has.at}
    yield Finding(
        "slip-closes",
        judged(slip.closes_left, reserve),
        "slip",
        _mm(slip.closes_left),
        _mm(slip.has.closes),
        _mm(max(0.0, -slip.shortest.value)),
        slip.shortest.at,
        detail,
    )
    yield Finding(
        "slip-opens",
        judged(slip.opens_left, reserve),
        "slip",
        _mm(slip.opens_left),
        _mm(slip.has.opens),
        _mm(max(0.0, slip.longest.value)),
        slip.longest.at,
        detail,
    )
    apart = slip.apart_left
    if apart is not None and not apart > 0.0:
        yield Finding(
            "slip-comes-apart",
            "touches",
            "slip",
            _mm(apart),
            _mm(slip.has.comes_apart or 0.0),
            _mm(slip.longest.value),
            slip.longest.at,
            detail,
        )


def _surrounding_findings(rig: Rig, near: tuple[SurroundingGap, ...]) -> Iterator[Finding]:
    wanted = rig.wanted.clearance.mm
    for gap in near:
        verdict = "touches" if gap.touches else judged(gap.certified_mm, wanted)
        yield Finding(
            "surroundings",
            verdict,
            gap.name,
            _mm(gap.certified_mm - wanted),
            _mm(wanted),
            _mm(gap.gap_mm),
            gap.at,
            {"part": gap.part},
        )


def _deg(rad: float) -> Measure:
    return Measure(degrees(rad), "deg")


def _mm(length: float) -> Measure:
    return Measure(length, "mm")
