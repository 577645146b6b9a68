"""Drives to findings of invented vehicles: they never jump, stay in reach and stop at contact.

The bends, slips and bores come from `sim.line`, sampled densely: nothing of the drives' own search.
"""

from dataclasses import replace
from itertools import pairwise
from math import pi, tau

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.contact.touch import TouchCurve
from sim.assessment import JointAssessment, JointRoom
from sim.check import Check
from sim.findings import Code, Finding, deg, judged, mm
from sim.line import line, turn
from sim.search.envelope import envelope
from sim.vehicle import RIDE, Pose, Vehicle
from tests.sim.vehicles import vehicles
from tests.viewer.session.conftest import checked
from viewer.session.charts.turn_strip import left_at
from viewer.session.moving.bind import BindDrive, _shorter, bind_drives, still_turn
from viewer.session.moving.drives import TURNS_A_SECOND, Course
from viewer.session.moving.motion import Motion

STEP = 1.0 / 30.0
"""s between two looks."""

AT_CONTACT = 1e-5
"""rad. Bend past contact within which a drive has to stop: a drive is found to 1e-6 of a leg."""


def lowered(curve: TouchCurve, clear: float) -> TouchCurve:
    """A curve of the same shape that is clear up to another bend (rad)."""
    by = curve.certified_clear - clear
    course = np.stack([curve.course[0], curve.course[1] - by])
    return replace(curve, touch_min=curve.touch_min - by, certified_clear=clear, course=course)


def invented(vehicle: Vehicle, bends: tuple[float, float], slips: tuple[float, float]) -> Check:
    """An answer for a vehicle whose joints and slip touch at shares of what they meet.

    The shapes are those of a demo rig, so that curves look like curves.
    """
    base, swept = checked("long-legged-trail-wagon"), envelope(vehicle)
    assume(swept.unreachable is None)
    joints, findings = {}, []
    for share, joint in zip(bends, vehicle.ends, strict=True):
        sweep, plain = swept.joints[joint], base.joints[joint].room
        assume(sweep.most.value < plain.clear)
        clear = sweep.ride + share * (sweep.most.value - sweep.ride) + 1e-6
        room = JointRoom(plain.hardware, plain.wanted)
        room.__dict__["touch"] = lowered(plain.touch, clear)
        room.__dict__["keeps"] = lowered(plain.keeps, clear - 0.01)
        found = joints[joint] = JointAssessment(room, sweep, joint, vehicle)
        findings.append(
            Finding(
                "joint-bend", judged(found.margin, 0.0), joint, deg(found.margin), deg(clear),
                deg(found.most), found.where, {"first": found.first, "reserve_deg": 1.0},
            )
        )  # fmt: skip
    ends = (swept.slip.shortest, swept.slip.longest)
    closes, opens = (abs(end.value) * share + 0.01 for end, share in zip(ends, slips, strict=True))
    vehicle = replace(vehicle, slip=replace(vehicle.slip, closes=closes, opens=opens))
    codes: tuple[Code, Code] = ("slip-closes", "slip-opens")
    for code, end, has in zip(codes, ends, (closes, opens), strict=True):
        left = has - abs(end.value)
        findings.append(
            Finding(code, judged(left, 0.0), "slip", mm(left), mm(has), mm(end.value), end.at)
        )
    whole = replace(base.found, vehicle=vehicle, joints=joints, swept=swept)
    derivation = replace(base.derivation, vehicle=vehicle)
    return replace(base, derivation=derivation, found=whole, findings=tuple(findings))


def played(check: Check, drive: BindDrive, at: Pose, spin: float) -> tuple[Motion, Course]:
    """A motion of the vehicle of an answer, and the drive from a pose and a turn."""
    vehicle = check.found.vehicle
    motion = Motion(vehicle.travel, vehicle.front)
    motion.still = lambda there: still_turn(vehicle, there)
    return motion, drive.course(at, spin, vehicle.travel, vehicle.front)


def past(check: Check, finding: Finding, poses: list[Pose]) -> np.ndarray:
    """How far past its limit a finding is in poses, rad or mm."""
    state = line(check.found.vehicle, *np.array([(p.travel, p.roll, p.wrap) for p in poses]).T)
    if finding.code == "joint-bend":
        return state.bends[finding.subject] - check.joints[finding.subject].clear
    slip = check.found.vehicle.slip
    if finding.code == "slip-closes":
        return -state.slip - slip.closes
    return state.slip - slip.opens


shares = st.floats(0.02, 1.3)


@st.composite
def answers(draw) -> Check:
    vehicle = draw(vehicles())
    region = replace(
        vehicle.travel,
        stops_apart=draw(st.sampled_from((0.0, 900.0))),
        wrap_at_droop=draw(st.sampled_from((1.0, 0.3))),
    )
    vehicle = replace(vehicle, travel=region)
    return invented(vehicle, draw(st.tuples(shares, shares)), draw(st.tuples(shares, shares)))


@pytest.mark.slow
@settings(max_examples=25)
@given(
    check=answers(),
    away=st.tuples(*[st.floats(-1.0, 1.0)] * 3),
    spin=st.floats(0.0, 6.2),
    home=st.booleans(),
)
def test_every_drive_to_a_finding_keeps_its_word(
    check: Check, away: tuple[float, float, float], spin: float, home: bool
) -> None:
    region = check.found.vehicle.travel
    start = RIDE if home else region.at_shares(*away)
    for drive in bind_drives(check):
        motion, course = played(check, drive, start, spin)
        assert course.arrives is not None
        assert 6.0 - 1e-9 <= course.seconds - (0.8 if start != RIDE else 0.0) <= 12.0
        count = round(course.seconds / STEP)
        times = np.linspace(0.0, course.seconds, count + 1)
        frames = [motion.on(course, (start, spin), float(time)) for time in times]
        poses = [at for at, _ in frames]
        stays_in_reach_and_never_jumps(check, frames)
        turns_steadily(course)
        stops_where_it_first_happens(check, drive, course, motion, (start, spin))
        worst = drive.finding.at or RIDE
        for name in ("travel", "roll", "wrap"):
            assert getattr(poses[-1], name) == pytest.approx(getattr(worst, name), abs=1e-9)


def stays_in_reach_and_never_jumps(check: Check, frames: list[tuple[Pose, float]]) -> None:
    """What is seen of the yoke is its bores, so those must not jump, whatever counts as zero."""
    vehicle = check.found.vehicle
    region = vehicle.travel
    listed = np.array([(at.travel, at.roll, at.wrap) for at, _ in frames])
    assert region.contains(*listed.T).all()
    most = 4.0 * STEP * np.maximum(np.ptp(listed, axis=0), 1e-6)
    assert (np.abs(np.diff(listed, axis=0)) <= most).all()
    state = turn(vehicle, *listed.T, np.array([spin for _, spin in frames]))
    bores = state.X_C["output yoke"][:, :3, 1]
    # The yoke of an axle that slides or stands still turns about one line in the chassis.
    along = np.clip((bores[1:] * bores[:-1]).sum(axis=1), -1.0, 1.0)
    assert np.arccos(along).max() <= 2.0 * tau * TURNS_A_SECOND * STEP


def turns_steadily(course: Course) -> None:
    """One pace up to the stop, and one from there on."""
    assert course.arrives is not None
    for start, end in pairwise((0.0, course.arrives, course.seconds)):
        if end - start < 0.1:
            continue
        turned = [course.turned(float(t)) for t in np.linspace(start, end - 1e-9, 9)]
        assert np.ptp(np.diff(turned)) < 1e-6
    pace = course.turned(course.arrives) / course.arrives / (tau * TURNS_A_SECOND)
    assert abs(pace - 1.0) <= 0.5 / (TURNS_A_SECOND * course.arrives) + 1e-9


def stops_where_it_first_happens(
    check: Check, drive: BindDrive, course: Course, motion: Motion, begun: tuple[Pose, float]
) -> None:
    """Nothing before the stop; there it happens; what never does is never driven into."""
    finding = drive.finding
    assert course.arrives is not None
    lead = 0.8 if begun[0] != RIDE else 0.0
    before = [course.at(begun[0], t) for t in np.linspace(lead, course.arrives, 2001)]
    beyond = past(check, finding, before)
    at, spin = motion.on(course, begun, course.arrives)
    if finding.verdict != "touches":
        assert course.arrives == course.seconds
        assert (beyond < 0.0).all()
        return
    tolerance = AT_CONTACT if finding.code == "joint-bend" else 1e-3
    assert beyond[-1] >= 0.0, "it is reached"
    assert beyond.max() <= tolerance, "and not passed"
    # In between it may come free again, where what it is about rises and falls on the way.
    assert past(check, finding, [course.at(begun[0], course.seconds)])[0] >= 0.0
    if drive.joint is not None:
        room = check.joints[drive.joint].room
        state = turn(check.found.vehicle, at.travel, at.roll, at.wrap, spin)
        left = float(left_at(room, *state.turns[drive.joint]).left)
        assert left == pytest.approx(0.0, abs=2.0 * AT_CONTACT), "at this very turn"
    if drive.joint is not None:
        at, spin = motion.on(course, begun, course.seconds)
        every = np.append(np.linspace(0.0, tau, 361), spin)
        room, state = check.joints[drive.joint].room, turn(check.found.vehicle, *_of(at), every)
        left = left_at(room, *state.turns[drive.joint]).left
        assert left[-1] <= left.min() + 1e-4, "it ends where it is deepest in the turn"


def _of(at: Pose) -> tuple[float, float, float]:
    return at.travel, at.roll, at.wrap


@given(turned=st.floats(-50.0, 50.0))
def test_the_shorter_way_ends_where_the_longer_one_does(turned: float) -> None:
    """By sine and cosine; half a turn off would look right, since a yoke is alike after it."""
    short = _shorter(turned)
    assert -pi <= short < pi
    assert np.cos(short - turned) == pytest.approx(1.0, abs=1e-12)
    assert np.sin(short - turned) == pytest.approx(0.0, abs=1e-9)


def test_a_yoke_that_is_not_turned_stands_still() -> None:
    """Its bores in the chassis, from every part's own place, while the axle goes everywhere."""
    check = checked("marsh-runner")
    vehicle = check.found.vehicle
    poses = np.array([[-150.0, 0.1, -0.1], [80.0, -0.1, 0.2], [0.0, 0.0, 0.0], [-50.0, 0.05, 0.0]])
    spins = np.array([still_turn(vehicle, Pose(*map(float, pose))) for pose in poses])
    bores = turn(vehicle, *poses.T, spins).X_C["output yoke"][:, :3, 1]
    np.testing.assert_allclose(bores - bores[0], 0.0, rtol=0.0, atol=1e-9)
    turned = turn(vehicle, *poses.T, spins + pi / 3).X_C["output yoke"][:, :3, 1]
    np.testing.assert_allclose((turned * bores).sum(axis=1), np.cos(pi / 3), rtol=0.0, atol=1e-9)
