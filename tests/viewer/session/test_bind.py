"""Drives made of an answer: they stop at first contact, say what met, and may be pushed on."""

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest

from sim.check import Check, check
from sim.findings import Code
from sim.line import line
from sim.pose import check_pose, pose_of
from sim.rig import changed
from sim.rig.demos import load_demo
from sim.vehicle import RIDE, Pose
from tests.kept import kept
from tests.viewer.every.examples import EXAMPLES, found, told
from tests.viewer.session.conftest import Scripted, checked
from viewer.session.charts.turn_strip import verdict_here
from viewer.session.moving.bind import BindDrive, still_turn
from viewer.session.moving.legs import between, slowing
from viewer.session.moving.motion import Motion
from viewer.session.session import Session
from viewer.words.now import now_limit, now_word

Opening = Callable[[str], Session]


def play(session: Session, step: float = 0.02) -> None:
    """Let a drive go on until it stops or ends."""
    while session.motion.playing:
        session.motion.advance(step)


def test_show_me_stops_at_contact_and_may_be_pushed_on(open_rig: Opening) -> None:
    session, heard = open_rig("long-legged-trail-wagon"), []
    motion = session.motion
    motion.arrived.connect(heard.append)
    session.show_me()
    play(session)
    assert session.now is not None
    assert heard == [motion.said]
    assert heard[0].startswith("Stopped: the bolt of the pinion strap yoke meets the shaft's weld")
    assert motion.stands
    assert session.strip_joint == "pinion"
    joint = session.now.joints["pinion"]
    assert session.now.verdict == "touches"
    assert joint.left == pytest.approx(0.0, abs=1e-6)
    assert 0.0 <= joint.gap.distance <= 0.05
    assert verdict_here(joint) == "touches"
    motion.push_on()
    play(session)
    worst = session.binds[0].finding.at
    assert worst is not None
    assert (motion.at.travel, motion.at.wrap) == pytest.approx((worst.travel, worst.wrap), abs=1e-9)
    assert pose_of(session.binds[0].check, motion.at, motion.spin).joints["pinion"].gap.overlaps
    assert motion.drive is None
    assert len(heard) == 2


def test_a_stale_answer_is_not_played(open_rig: Opening) -> None:
    session = open_rig("long-legged-trail-wagon")
    session.show_me()
    session.document.set({"travel.droop": "8 in"})
    assert session.motion.drive is None
    session.show_me()
    assert session.motion.drive is None
    assert session.binds == ()


@kept
def hit() -> Check:
    """The wagon with a crossmember so low that the tube meets it in bump."""
    box = {"at": ["30 in", "0 in", "11 in"], "size": ["3 in", "30 in", "3 in"]}
    rig = load_demo("long-legged-trail-wagon")
    return check(changed(rig, {"surroundings": [{"name": "crossmember", "box": box}]}))


@pytest.mark.parametrize("share", [-0.5, 0.5, 0.9, 0.97, 1.0])
def test_a_pose_of_an_answer_knows_what_is_near_the_shaft(share: float) -> None:
    """Against `check_pose`, which computes everything from the rig anew."""
    found = next(f for f in hit().findings if f.code == "surroundings")
    assert found.at is not None
    at = Pose(share * found.at.travel, 0.0, share * found.at.wrap)
    now, anew = pose_of(hit(), at, 0.4), check_pose(hit().rig, at, 0.4)
    assert now.verdict == anew.verdict == ("touches" if share == 1.0 else now.verdict)
    assert [gap.gap_mm for gap in now.surroundings] == [gap.gap_mm for gap in anew.surroundings]
    if share == 1.0:
        assert now_word(now) == "TOUCHES"
        assert now_limit(now) == "shaft's tube touches the crossmember"


@pytest.mark.parametrize("code", list(EXAMPLES))
def test_every_finding_can_be_shown(code: Code) -> None:
    """To where it happens, in time, and a sentence of what that is."""
    finding, result = found(code), told(code)
    drive = BindDrive(result, finding)
    vehicle = result.found.vehicle
    motion, heard = Motion(vehicle.travel, vehicle.front), []
    motion.still = lambda at: still_turn(vehicle, at)
    motion.arrived.connect(heard.append)
    motion.go(travel=-10.0, spin=1.0)
    motion.play(drive)
    seen = [motion.at]
    while motion.playing:
        motion.advance(0.05)
        seen.append(motion.at)
    assert 6.0 / 0.05 <= len(seen) <= 13.0 / 0.05 or motion.stands
    assert max(abs(b.travel - a.travel) for a, b in pairwise(seen)) < 12.0
    reached = line(vehicle, *np.array([(p.travel, p.roll, p.wrap) for p in seen]).T).reachable
    assert reached.all()
    assert len(heard) == 1
    assert heard[0].endswith(".")
    stops = finding.verdict == "touches" and code != "no-room-for-slip"
    assert heard[0].startswith("Stopped: ") == stops
    assert drive.name.startswith("to the bind: " if finding.verdict == "touches" else "to the ti")


def test_out_of_reach_it_stops_at_the_last_pose_that_is_reached() -> None:
    drive = BindDrive(told("out-of-reach"), found("out-of-reach"))
    (start, end), vehicle = drive.before[-2:], drive.check.found.vehicle
    beyond = between(start, end, 1.0 + 1e-4)
    assert bool(line(vehicle, end.travel, end.roll, end.wrap).reachable)
    assert not bool(line(vehicle, beyond.travel, beyond.roll, beyond.wrap).reachable)


@kept
def at_ride() -> Check:
    """The wagon with its pinion so far up that the shaft cannot be turned at ride height."""
    return check(changed(load_demo("long-legged-trail-wagon"), {"axle.points_up": "44 deg"}))


def test_metal_that_meets_at_ride_height_is_met_by_turning_the_shaft() -> None:
    """Free until the stop, by the gap itself at each turn."""
    result = at_ride()
    finding = next(f for f in result.findings if f.code == "turns-at-ride")
    drive, vehicle = BindDrive(result, finding), result.found.vehicle
    motion = Motion(vehicle.travel, vehicle.front)
    motion.still = lambda at: still_turn(vehicle, at)
    course = drive.course(RIDE, 0.3, vehicle.travel, vehicle.front)
    assert course.arrives is not None
    gaps = []
    for time in np.linspace(0.8, course.arrives, 9):
        at, spin = motion.on(course, (RIDE, 0.3), float(time))
        assert at == RIDE
        gap = pose_of(result, at, spin).joints["pinion"].gap
        gaps.append(0.0 if gap.overlaps else gap.distance)
    assert min(gaps[:-1]) > gaps[-1], "not through the metal to where it meets on the other side"
    assert 0.0 <= gaps[-1] <= 0.05
    assert gaps[0] > 1.0
    paces = np.abs(np.diff([course.turned(t) for t in np.linspace(0.8, course.arrives, 11)]))
    assert paces[-1] < 0.2 * paces.max(), "slowly at the end"


def test_the_thing_that_is_hit_is_hit_at_the_stop_and_not_before() -> None:
    """Against `check_pose`, which computes everything from the rig anew."""
    drive = BindDrive(hit(), next(f for f in hit().findings if f.code == "surroundings"))
    start, end = drive.before[-2:]
    short = between(start, end, 1.0 - 1e-3)
    assert check_pose(hit().rig, drive.stop, 0.0).surroundings[0].touches
    assert not check_pose(hit().rig, short, 0.0).surroundings[0].touches
    assert check_pose(hit().rig, drive.end, 0.0).surroundings[0].touches
    box, end = hit().found.vehicle.travel, drive.end
    assert box.contains(end.travel, end.roll, end.wrap)
    assert not box.contains(1.01 * end.travel, end.roll, 1.01 * end.wrap), "the end of the travel"


def test_the_last_half_inch_takes_longest(open_rig: Opening) -> None:
    """Within a leg the last ninth of the way takes a third of the time, by hand."""
    assert slowing(0.0) == 0.0
    assert slowing(1.0) == 1.0
    assert slowing(2.0 / 3.0) == pytest.approx(8.0 / 9.0, abs=1e-12)
    session = open_rig("goat-path-buggy")
    course = session.binds[0].course(RIDE, 0.0, session.motion.box, session.motion.front)
    assert course.arrives is not None
    assert course.pose is not None
    times = np.linspace(0.0, course.arrives, 2001)
    heights = np.array([course.pose(float(time)).travel for time in times])
    last = np.abs(heights - heights[-1]) <= 12.7
    assert last.mean() > 0.25, "of 5 13/16 in the last half inch"


def test_a_joint_that_binds_on_the_way_to_another_is_not_what_it_stops_at(
    open_rig: Opening,
) -> None:
    session = open_rig("long-legged-trail-wagon")
    session.show_me(session.binds[1].finding)
    assert session.strip_joint == "output"
    play(session)
    assert session.now is not None
    assert session.now.joints["output"].left == pytest.approx(0.0, abs=1e-6)
    assert session.now.joints["pinion"].left < 0.0
    assert "output flange yoke" in session.motion.said


def test_moving_by_hand_takes_back_what_was_said(open_rig: Opening) -> None:
    session = open_rig("long-legged-trail-wagon")
    session.show_me()
    play(session)
    assert session.motion.said
    session.motion.stop()
    session.motion.go(travel=0.0)
    assert session.motion.said == ""


@pytest.mark.parametrize("by", ["edit", "answer"])
def test_another_rig_or_answer_takes_back_what_was_said_of_the_one_before(
    open_rig: Opening, worker: Scripted, by: str
) -> None:
    """A shaft that no longer touches must not stand beside how far past contact it was."""
    session = open_rig("long-legged-trail-wagon")
    if by == "answer":
        session.ask_again()
    session.motion.said = "Too far."
    if by == "answer":
        worker.say(answer=checked("long-legged-trail-wagon"), share=1.0)
        session.tick()
        assert session.answers.state == "fresh"
    else:
        session.document.set({"shaft.slip.closes": "2 in"})
    assert session.motion.said == ""


def test_what_happens_at_the_very_end_of_the_way_stops_there(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(BindDrive, "_first_on", lambda _, poses: float(len(poses) - 1))
    drive = BindDrive(told("joint-bend"), found("joint-bend"))
    assert drive.stop == drive.end == found("joint-bend").at
    assert drive.after == []
