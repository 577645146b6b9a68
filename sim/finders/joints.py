"""Findings on joints: bend and gap left over the travel, a turn by hand at ride height."""

from collections.abc import Iterator
from math import degrees

from sim.assessment import Assessment, JointAssessment
from sim.findings import Finding, deg, judged, mm
from sim.rests_on import Stand, bend, shapes, where
from sim.rig.typed_joints import generic_parts
from sim.vehicle import RIDE


def joint_findings(whole: Assessment) -> Iterator[Finding]:
    """The bend left at each joint, and the gap where that and not the bend is short."""
    for found in whole.joints.values():
        yield from _joint(whole, found)


def _joint(whole: Assessment, found: JointAssessment) -> Iterator[Finding]:
    rig, joint, basis = whole.rig, found.joint, whole.basis
    verdict = judged(found.margin, rig.wanted.bend.rad)
    meeting = found.meeting
    detail = {
        "reserve_deg": degrees(rig.wanted.bend.rad),
        "surfaces": meeting.surfaces,
        "bodies": found.hardware.names(meeting),
        "first": found.first,
        "gap_mm": found.gap.distance,
        "takes": found.takes,
        "generic": generic_parts(rig, joint),
        "fitted": found.hardware.fitted,
    }
    numbers = [shapes(joint), bend(joint, found.where, is_worst=True)]
    if verdict == "touches" and found.first is not None:
        numbers.append(bend(joint, found.first))
    yield Finding(
        "joint-bend",
        verdict,
        joint,
        deg(found.margin),
        deg(found.clear),
        deg(found.most),
        found.where,
        detail,
        basis.of(*numbers, *where(verdict == "close", _wanted_bend)),
    )
    # A bend just past where the gap is certified may leave it by the last hundredths of a mm.
    wanted = rig.wanted.gap.mm
    gap = min(found.gap.distance, wanted)
    if found.room.short_of(found.most) == "gap":
        yield Finding(
            "joint-gap",
            "close",
            joint,
            mm(gap - wanted),
            mm(wanted),
            mm(gap),
            found.where,
            detail,
            basis.of(*numbers, _wanted_gap),
        )


def turn_findings(whole: Assessment) -> Iterator[Finding]:
    """The room over a whole turn at ride height."""
    turn = whole.turn
    found = whole.joints[turn.joint]
    yield Finding(
        "turns-at-ride",
        judged(turn.margin, 0.0),
        "axle",
        deg(turn.margin),
        deg(found.clear),
        deg(found.ride),
        RIDE,
        {
            "joint": turn.joint,
            "spin_deg": degrees(turn.spin),
            "generic": generic_parts(whole.rig, turn.joint),
            "fitted": found.hardware.fitted,
        },
        whole.basis.of(shapes(turn.joint), bend(turn.joint, RIDE)),
    )


def _wanted_bend(stand: Stand) -> float:
    return stand.rig.wanted.bend.deg


def _wanted_gap(stand: Stand) -> float:
    return stand.rig.wanted.gap.mm
