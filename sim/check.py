"""The main job: sweep everything a rig can do and say what stops it first."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import degrees, inf
from time import perf_counter
from types import MappingProxyType

import numpy as np

from geometry.contact.gap import Gap
from geometry.contact.touch import Contact as Meeting
from geometry.contact.touch import TouchCurve
from sim.around.outline import CASE, SNOUT, TUBES
from sim.around.surroundings import SurroundingGap, Tell, surrounding_gaps
from sim.cardan import Chain
from sim.derive import Derivation, derive
from sim.findings import Finding, Measure, Verdict, by_gravity, judged, worst_of
from sim.front_axle import front_findings
from sim.head.hardware import EndHardware, end_hardware
from sim.joint_room import JointRoom
from sim.line import FreeTurn, free_turn, limit_by_spin, running
from sim.remark import Remark
from sim.rests_on import Basis, Number, Stand, bend, centres, housing, shapes, thickness
from sim.ride_doubts import touching_at_ride
from sim.rig import Rig
from sim.rig.generic import generic_parts
from sim.search.envelope import Envelope, JointSweep, envelope
from sim.search.first_contact import Contact, FirstContact, earlier, first_contact, past_touching
from sim.search.worst import Extreme, extreme
from sim.slip_findings import slip_findings
from sim.slip_room import slip_room_findings
from sim.travel.what_it_takes import WhatItTakes, what_it_takes
from sim.vehicle import RIDE, Joint, Pose, Vehicle

Progress = Callable[[str, float], None]
"""Told what is being done and which share of the whole is done."""


@dataclass(frozen=True)
class JointCheck:
    """One joint over the whole travel.

    Attributes
    ----------
    hardware : its parts.
    room : how far it may bend.
    sweep : the bends it meets.
    gap : smallest gap over a turn at the worst bend.
    down, up : where it first touches as the axle leaves ride height, this joint alone.
    takes : what the axle has to do for it to touch; None where it does not, or never moves.
    """

    hardware: EndHardware
    room: JointRoom
    sweep: JointSweep
    gap: Gap
    down: FirstContact
    up: FirstContact
    takes: WhatItTakes | None = None

    @property
    def curve(self) -> TouchCurve:
        """When they touch."""
        return self.room.touch

    @property
    def margin(self) -> float:
        """Bend (rad) left between the worst pose and the certified clear bend."""
        return self.room.left(self.sweep.most.value)

    @property
    def meeting(self) -> Gap | Meeting:
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
    joints : "output", "pinion", and "middle" on a two-piece shaft.
    envelope : the extremes over the travel.
    down, up : where the first joint touches as the axle leaves ride height.
    turn : the room over a whole turn at ride height.
    surroundings : the smallest gap to each thing near the shaft.
    running : how evenly the pinion turns at ride height, over one even turn of the output.
    give : the most (mm) that a bush of the links has to give; None where nothing binds.
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
    running: Chain
    give: Extreme | None
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
    built = _built(rig, vehicle, tell)
    tell("sweeping the travel", 0.8)
    swept = envelope(vehicle)
    joints = {joint: _joint_check(vehicle, swept, joint, *parts) for joint, parts in built.items()}
    first, second = (joints[name] for name in vehicle.joint_names)
    still = joints["output"].down if vehicle.section is not None else None
    tell("looking at what is near the shaft", 0.9)
    parts = {joint: found.hardware for joint, found in joints.items()}
    near = surrounding_gaps(rig, vehicle, parts, _looking(tell), takes=True)
    turn = _turn_at_ride(vehicle, joints)
    even = running(vehicle)
    basis = Basis(rig, vehicle)
    return Check(
        rig=rig,
        derivation=replace(derivation, notes=(*derivation.notes, *_ride_doubts(joints))),
        joints=MappingProxyType(joints),
        envelope=swept,
        down=_sooner(still, earlier(first.down, second.down)),
        up=_sooner(still, earlier(first.up, second.up)),
        turn=turn,
        surroundings=near,
        running=even,
        give=_bush_give(vehicle),
        findings=by_gravity(
            [
                *_findings(rig, vehicle, joints, swept, turn, basis),
                *_surrounding_findings(rig, near, basis),
                *front_findings(rig, even, basis),
            ]
        ),
    )


def _built(
    rig: Rig, vehicle: Vehicle, tell: Progress
) -> dict[Joint, tuple[EndHardware, JointRoom]]:
    """Parts and limits of every joint of the rig, from the output to the pinion."""
    names: tuple[Joint, ...] = vehicle.joint_names
    if vehicle.section is not None:
        names = ("output", *names)
    built: dict[Joint, tuple[EndHardware, JointRoom]] = {}
    for number, joint in enumerate(names):
        start = 0.8 * number / len(names)
        tell(f"{joint} joint: building the yokes", start)
        hardware = end_hardware(rig, joint)
        tell(f"{joint} joint: finding where it touches", start + 0.1)
        built[joint] = hardware, JointRoom.of(hardware, rig.wanted)
    return built


def _joint_check(
    vehicle: Vehicle, swept: Envelope, joint: Joint, hardware: EndHardware, room: JointRoom
) -> JointCheck:
    """One joint over the whole travel; the output joint of a two-piece shaft never moves."""
    clear = room.touch.certified_clear
    takes = None
    if joint in vehicle.joint_names:
        sweep = swept.pinion if joint == "pinion" else swept.output
        alone = (inf, clear) if joint == "pinion" else (clear, inf)
        down = first_contact(vehicle, *alone, "down")
        up = first_contact(vehicle, *alone, "up")
        if sweep.most.value >= clear:
            takes = _takes(vehicle, joint, clear)
    else:
        bend = vehicle.section.bend if vehicle.section is not None else 0.0
        still = Extreme(bend, RIDE)
        sweep = JointSweep(still, still, bend)
        down = up = FirstContact(Contact(RIDE, joint) if bend >= clear else None, ())
    gap = hardware.smallest_gap(min(sweep.most.value, room.touch.limit))
    return JointCheck(hardware, room, sweep, gap, down, up, takes)


def _takes(vehicle: Vehicle, joint: Joint, clear: float) -> WhatItTakes:
    """What it takes for a joint to bend past the bend to which it is clear."""
    number = vehicle.joint_names.index(joint)
    past = past_touching(vehicle, np.full(2, clear))
    return what_it_takes(lambda t, r, w: past(t, r, w)[number], vehicle.travel)


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
        yield from touching_at_ride(joint, found.sweep.ride, found.curve.certified_clear)


def _turn_at_ride(vehicle: Vehicle, joints: Mapping[Joint, JointCheck]) -> FreeTurn:
    """The room over a whole turn at ride height: that of the tightest joint, at its tightest spin.

    Which spin that is comes from the sampled curves; how much room, from the certificate.
    """
    rooms = {name: each.curve.certified_clear - each.sweep.ride for name, each in joints.items()}
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


def _sooner(static: FirstContact | None, moving: FirstContact) -> FirstContact:
    """The first contact of the whole shaft: a joint that never moves touches at ride or never."""
    if static is None or static.first is None:
        return moving
    return FirstContact(static.first, moving.by_wrap)


def _findings(
    rig: Rig,
    vehicle: Vehicle,
    joints: Mapping[Joint, JointCheck],
    swept: Envelope,
    turn: FreeTurn,
    basis: Basis,
) -> Iterator[Finding]:
    for joint, result in joints.items():
        yield from _joint_findings(rig, joint, result, basis)
    yield from slip_findings(rig, vehicle, swept, basis)
    parts = {joint: result.hardware for joint, result in joints.items()}
    yield from slip_room_findings(rig, vehicle, parts, swept, basis)
    yield Finding(
        "turns-at-ride",
        judged(turn.margin, 0.0),
        "axle",
        _deg(turn.margin),
        _deg(joints[turn.joint].curve.certified_clear),
        _deg(joints[turn.joint].sweep.ride),
        RIDE,
        {
            "joint": turn.joint,
            "spin_deg": degrees(turn.spin),
            "generic": generic_parts(rig, turn.joint),
        },
        basis.of(shapes(turn.joint), bend(turn.joint, RIDE)),
    )
    if swept.unreachable is not None:
        nothing = _mm(0.0)
        yield Finding(
            "out-of-reach",
            "touches",
            "axle",
            nothing,
            nothing,
            nothing,
            swept.unreachable,
            rests_on=basis.of(centres(_halfway(swept.unreachable))),
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


def _halfway(at: Pose) -> Pose:
    """On the way to a pose that has no line of the shaft: what decides the line there too."""
    return Pose(0.5 * at.travel, 0.5 * at.roll, 0.5 * at.wrap)


def _joint_findings(rig: Rig, joint: Joint, result: JointCheck, basis: Basis) -> Iterator[Finding]:
    most = result.sweep.most
    verdict = judged(result.margin, rig.wanted.bend.rad)
    meeting = result.meeting
    detail = {
        "reserve_deg": degrees(rig.wanted.bend.rad),
        "surfaces": meeting.surfaces,
        "bodies": result.hardware.names(meeting),
        "first": result.first,
        "gap_mm": result.gap.distance,
        "takes": result.takes,
        "generic": generic_parts(rig, joint),
    }
    numbers = [shapes(joint), bend(joint, most.at, is_worst=True)]
    if verdict == "touches" and result.first is not None:
        numbers.append(bend(joint, result.first))
    yield Finding(
        "joint-bend",
        verdict,
        joint,
        _deg(result.margin),
        _deg(result.curve.certified_clear),
        _deg(most.value),
        most.at,
        detail,
        basis.of(*numbers, *_if(verdict == "close", _wanted_bend)),
    )
    # A bend just past where the gap is certified may leave it by the last hundredths of a mm.
    wanted = rig.wanted.gap.mm
    gap = min(result.gap.distance, wanted)
    if result.room.short_of(most.value) == "gap":
        yield Finding(
            "joint-gap",
            "close",
            joint,
            _mm(gap - wanted),
            _mm(wanted),
            _mm(gap),
            most.at,
            detail,
            basis.of(*numbers, _wanted_gap),
        )


def _surrounding_findings(
    rig: Rig, near: tuple[SurroundingGap, ...], basis: Basis
) -> Iterator[Finding]:
    wanted = rig.wanted.clearance.mm
    for gap in near:
        yield Finding(
            "surroundings" if gap.finished else "surroundings-unfinished",
            gap.verdict(wanted),
            gap.name,
            _mm(gap.certified_mm - wanted),
            _mm(wanted),
            _mm(gap.gap_mm),
            gap.at,
            {
                "part": gap.part,
                "called": gap.called,
                "yields": gap.yields,
                "certified_mm": gap.certified_mm,
                "unseen": gap.unseen,
                "takes": gap.takes,
            },
            basis.of(
                housing(gap.at) if gap.part == TUBES else centres(gap.at, gap.fixed_to_axle),
                # Whose size the rig tells has it from no joint and no slip.
                *_if(gap.part not in (SNOUT, TUBES, CASE), thickness(gap.joint)),
                _wanted_clearance,
            ),
        )


def _if(counts: bool, number: Number) -> tuple[Number, ...]:
    return (number,) if counts else ()


def _wanted_bend(stand: Stand) -> float:
    return stand.rig.wanted.bend.deg


def _wanted_gap(stand: Stand) -> float:
    return stand.rig.wanted.gap.mm


def _wanted_clearance(stand: Stand) -> float:
    return stand.rig.wanted.clearance.mm


def _deg(rad: float) -> Measure:
    return Measure(degrees(rad), "deg")


def _mm(length: float) -> Measure:
    return Measure(length, "mm")
