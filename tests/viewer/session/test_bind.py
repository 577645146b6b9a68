"""Drives made of an answer: they stop at first contact, say what met, and may be pushed on."""

from collections.abc import Callable

import pytest

from sim.pose import pose_of
from viewer.session.session import Session

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
