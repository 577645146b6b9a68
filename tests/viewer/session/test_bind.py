"""Drives made of an answer: they stop at first contact, say what met, and may be pushed on."""

from collections.abc import Callable

import pytest

from sim.check import Check, check
from sim.pose import check_pose, pose_of
from sim.rig import changed
from sim.rig.demos import load_demo
from sim.vehicle import Pose
from tests.kept import kept
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
