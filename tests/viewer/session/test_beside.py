"""Two versions of a rig beside each other: one pose, one turn, each as far as its axle goes."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import radians

import pytest

from sim.check import Check, check
from sim.pose import pose_of
from sim.rig import load_rig
from sim.rig.change import changed
from sim.vehicle import RIDE, Pose
from tests.kept import kept
from tests.viewer.session.conftest import RIGS, checked
from viewer.session.beside import Beside
from viewer.session.session import Session, Version

RIG = "long-legged-trail-wagon"


@kept
def strapped() -> Check:
    """The same wagon with straps that end its droop at 4 in."""
    return check(changed(load_rig(RIGS / f"{RIG}.toml"), {"travel.droop": "4 in"}))


@pytest.fixture
def both(open_rig: Callable[[str], Session]) -> Iterator[Beside]:
    session = open_rig(RIG)
    made = Beside(session, Version("before", session.document.text, strapped()), RIDE, 0.0)
    yield made
    made.close()


def test_each_is_what_pose_of_its_own_check_says(both: Beside) -> None:
    for travel, roll, wrap, spin in ((-60.0, 0.05, -0.03, 1.0), (40.0, 0.0, 0.04, 5.0)):
        both.go(travel=travel, roll=roll, wrap=wrap, spin=spin)
        for session, answer in ((both.before, strapped()), (both.session, checked(RIG))):
            motion, now = session.motion, session.now
            assert session.check is answer
            assert now is not None
            own = pose_of(answer, motion.at, motion.spin)
            assert (now.verdict, now.at, now.spin) == (own.verdict, motion.at, motion.spin)
            assert {name: each.bend for name, each in now.joints.items()} == {
                name: each.bend for name, each in own.joints.items()
            }
    assert both.apart is None


def test_each_goes_as_far_as_it_can_and_that_is_said(both: Beside) -> None:
    both.go(travel=-152.4)
    assert both.session.motion.at.travel == -152.4
    assert both.before.motion.at.travel == pytest.approx(-101.6, abs=1e-9)
    assert both.value("travel") == -152.4
    assert both.bounds("travel") == (pytest.approx(-228.6), pytest.approx(101.6))
    assert both.apart == ("4 in droop", "6 in droop")
    both.go(travel=0.0)
    assert both.apart is None
    both.go(travel=-500.0)
    both.go_home()
    assert both.before.motion.at == both.session.motion.at == RIDE


def test_whatever_moves_one_moves_the_other(both: Beside) -> None:
    both.session.motion.go(travel=-150.0, roll=radians(2.0), spin=2.0)
    assert both.before.motion.at.travel == pytest.approx(-101.6, abs=1e-9)
    assert both.session.motion.at.travel == -150.0, "one that cannot follow holds nobody back"
    assert both.before.motion.spin == 2.0
    both.before.motion.go(travel=30.0, spin=3.0)
    assert both.session.motion.at == both.before.motion.at
    assert both.session.motion.spin == 3.0


def test_it_begins_in_a_pose_and_lets_go(open_rig: Callable[[str], Session]) -> None:
    session = open_rig(RIG)
    at = Pose(-60.0, 0.02, 0.01)
    made = Beside(session, Version("before", "", strapped()), at, 1.5)
    assert (made.before.motion.at, made.before.motion.spin) == (at, 1.5)
    assert (session.motion.at, session.motion.spin) == (at, 1.5)
    made.close()
    session.motion.go(travel=0.0)
    assert made.before.motion.at == at
    assert made.before.check is strapped()


def test_what_is_put_aside_is_not_computed_again(both: Beside) -> None:
    """The answer comes with the version, by identity, and is fresh at once."""
    assert both.before.answers.state == "fresh"
    assert both.before.check is strapped()
    both.before.tick()
    for asking in (both.before.cures, both.before.ticket):
        both.before.look_for(asking)
        both.before.tick()
        assert asking.answer is None, "a check is no answer to anything else"
    other = replace(strapped())
    again = Beside(both.session, Version("before", "", other), RIDE, 0.0)
    assert again.before.check is other
    again.close()
