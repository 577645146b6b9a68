"""The session: what follows from what, and that it says what a check says."""

from collections.abc import Callable
from math import degrees

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.findings import Code
from sim.line import margins
from sim.pose import PosedJoint, check_pose, pose_of
from sim.vehicle import Pose
from tests.viewer.every import examples
from tests.viewer.session.conftest import RIGS, Scripted, checked
from viewer.session.charts.travel_map import HEIGHTS
from viewer.session.charts.turn_strip import StripWork, coarse_first, left_at
from viewer.session.moving.drives import DRIVES
from viewer.session.session import COARSE, Session, about
from viewer.session.text.document import Document
from viewer.words.now import now_says

Opening = Callable[..., Session]

LAYOUTS = (
    "long-legged-trail-wagon",
    "short-tailed-scout",
    "timber-crew-carrier",
    "ridge-crawler",
)


def finish(session: Session) -> None:
    while session.idle():
        pass


def left_here(joint: PosedJoint) -> float:
    """Bend (rad) left at the very turn of a joint."""
    return float(left_at(joint.room, joint.bend, joint.spin).left)


@pytest.mark.slow
@pytest.mark.parametrize("name", LAYOUTS)
def test_a_pose_says_what_a_pose_check_says(name: str) -> None:
    """Bends, slip and the gap against `check_pose`, which computes each from the rig anew."""
    result = checked(name)
    box = result.derivation.vehicle.travel
    at, spin = Pose(-0.4 * box.droop, 0.3 * box.roll, 0.5 * box.nose_up), 0.7
    now, slow = pose_of(result, at, spin), check_pose(result.rig, at, spin)
    assert list(now.joints) == list(slow.joints)
    assert now.closes_left == pytest.approx(slow.closes_left, abs=1e-9)
    assert now.opens_left == pytest.approx(slow.opens_left, abs=1e-9)
    for joint, found in slow.joints.items():
        assert now.joints[joint].bend == pytest.approx(found.bend, abs=1e-12)
        gap = now.joints[joint].gap
        assert gap.distance == pytest.approx(found.gap.distance, abs=1e-9)
        assert gap.overlaps == found.gap.overlaps


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(shares=st.tuples(*[st.floats(-1, 1)] * 3), spin=st.floats(0, 6.28))
def test_a_pose_that_touches_is_one_that_the_check_calls_so(
    shares: tuple[float, float, float], spin: float
) -> None:
    """The verdict of a pose, in the window, against the margins the check's table is made of."""
    result = checked("long-legged-trail-wagon")
    vehicle, box = result.derivation.vehicle, result.derivation.vehicle.travel
    low, high = box.low, box.high
    values = [high[i] * s if s > 0 else -low[i] * s for i, s in enumerate(shares)]
    at = Pose(*map(float, values))
    now = pose_of(result, at, spin)
    clear = {name: found.curve.certified_clear for name, found in result.joints.items()}
    left = margins(vehicle, at.travel, at.roll, at.wrap, clear)
    least = min(float(v) for v in (*left.joints.values(), left.closes, left.opens))
    assert (now.verdict == "touches") == (not least > 0.0)
    for name, joint in now.joints.items():
        assert left_here(joint) >= joint.left - 1e-9, name


def test_the_worst_pose_of_a_finding_shows_its_margin(open_rig: Opening) -> None:
    session = open_rig()
    for finding in session.check.findings:
        if finding.code != "joint-bend":
            continue
        session.go_to(finding)
        joint = session.now.joints[finding.subject]
        assert session.now.at == finding.at
        assert degrees(joint.left) == pytest.approx(finding.margin.value, abs=1e-6)


def test_going_to_a_finding_turns_the_shaft_to_its_tightest_spot(open_rig: Opening) -> None:
    session = open_rig()
    session.go_to(session.check.findings[0])
    tight = session.now.joints[session.now.tightest]
    assert left_here(tight) == pytest.approx(tight.left, abs=np.radians(0.1))


def test_the_map_is_the_margins(open_rig: Opening) -> None:
    session = open_rig()
    finish(session)
    found = session.map
    vehicle = session.check.derivation.vehicle
    clear = session.check.joints["pinion"].curve.certified_clear
    for row, column in ((0, 0), (10, 3), (48, 96)):
        left = margins(vehicle, found.travel[column], 0.0, found.wrap[row], {"pinion": clear})
        assert found.room["pinion"][row, column] == pytest.approx(
            degrees(float(left.joints["pinion"])), abs=1e-9
        )
        shares = [found.room[layer][row, column] / found.reserve[layer] for layer in found.reserve]
        assert found.room["worst"][row, column] == pytest.approx(min(shares), abs=1e-12)


@pytest.mark.slow
def test_the_map_follows_the_roll(open_rig: Opening) -> None:
    session = open_rig()
    finish(session)
    level = session.map
    session.motion.go(roll=0.05)
    finish(session)
    assert session.map.roll == pytest.approx(0.05, abs=1e-12)
    assert not np.allclose(session.map.room["pinion"], level.room["pinion"])


@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "timber-crew-carrier"])
def test_a_strip_holds_the_gaps_of_its_pose(name: str) -> None:
    result = checked(name)
    at = Pose(-40.0)
    for joint in result.joints:
        work = StripWork(result, joint, at, spins=8)
        while work.run():
            pass
        for i in (0, 3):
            now = pose_of(result, at, float(work.strip.spin[i]))
            gap = now.joints[joint].gap
            assert work.strip.gap[i] == pytest.approx(gap.distance, abs=1e-9)
            assert work.strip.left[i] == pytest.approx(left_here(now.joints[joint]), abs=1e-9)


@given(count=st.integers(1, 200))
def test_every_place_of_a_strip_is_asked_once(count: int) -> None:
    assert sorted(coarse_first(count)) == list(range(count))


def test_the_answer_follows_the_rig(open_rig: Opening, worker: Scripted) -> None:
    session = open_rig()
    heard = []
    session.answered.connect(lambda: heard.append(session.answers.state))
    session.document.set({"travel.droop": "6 in"})
    assert session.answers.state == "computing"
    assert session.check is not None
    assert worker.jobs[-1][1] == session.document.text
    worker.say(what="finding", share=0.5)
    session.tick()
    assert (session.answers.what, session.answers.share) == ("finding", 0.5)
    session.document.set({"travel.droop": "nonsense"})
    assert session.answers.state == "stale"
    session.document.undo()
    assert session.answers.state == "computing"
    worker.say(fault="ears overlap")
    session.tick()
    assert session.answers.state == "failed"
    assert session.answers.fault == "ears overlap"
    assert heard == ["computing", "stale", "computing", "failed"]


def test_an_answer_to_an_older_rig_is_not_taken(open_rig: Opening, worker: Scripted) -> None:
    session = open_rig()
    session.document.set({"travel.droop": "6 in"})
    worker.say(answer=checked("marsh-runner"))
    session.document.set({"travel.droop": "5 in"})
    session.tick()
    assert session.answers.state == "computing"
    assert session.check is checked("long-legged-trail-wagon")


def test_computing_can_be_stopped(open_rig: Opening, worker: Scripted) -> None:
    session = open_rig()
    session.document.set({"travel.droop": "6 in"})
    session.answers.cancel()
    assert session.answers.state == "stopped"
    assert worker.cancelled == 1
    session.document.set({"travel.droop": "5 in"})
    assert session.answers.state == "computing"


def test_two_versions_can_be_compared_and_swapped(open_rig: Opening, worker: Scripted) -> None:
    session = open_rig()
    first = session.document.text
    session.put_aside("as it came")
    session.document.set({"travel.droop": "6 in"})
    second = session.document.text
    worker.say(answer=checked("marsh-runner"))
    session.tick()
    assert session.other.text == first
    session.swap()
    assert session.document.text == first
    assert session.other.text == second
    session.document.undo()
    assert session.document.text == second
    session.drop_other()
    assert session.other is None


def test_out_of_reach_is_said_and_nothing_breaks(open_rig: Opening) -> None:
    session = open_rig("ridge-crawler")
    vehicle = session.check.derivation.vehicle
    far = pose_of(session.check, Pose(-20.0 * vehicle.travel.droop), 0.0)
    if far.state is None:
        assert now_says(far).startswith("Out of reach")
        assert far.tightest is None


def test_opening_another_rig_forgets_the_first(open_rig: Opening, worker: Scripted) -> None:
    session = open_rig()
    finish(session)
    other = open_rig("marsh-runner").document
    heard = []
    session.opened.connect(lambda: heard.append(session.document.name))
    session.motion.go(travel=5.0)
    session.open(other)
    assert session.motion.at == Pose()
    assert heard == ["marsh-runner.toml"]
    assert session.check is None
    assert session.map is None
    worker.say(answer=checked("marsh-runner"))
    session.tick()
    assert session.check.rig.name == other.rig.name


def test_a_drive_that_rolls_has_a_coarse_map_until_it_ends(open_rig: Opening) -> None:
    session = open_rig()
    session.motion.play(DRIVES["crossed up"])
    session.motion.advance(1.0)
    session.idle()
    assert session.map.travel.size == COARSE[0]
    assert session.map.roll == session.motion.at.roll
    session.motion.stop()
    assert session.has_work
    session.idle()
    assert session.map.travel.size == HEIGHTS


def test_computing_that_was_stopped_can_be_asked_for_again(
    open_rig: Opening, worker: Scripted
) -> None:
    session = open_rig()
    session.document.set({"travel.droop": "6 in"})
    session.answers.cancel()
    session.ask_again()
    assert session.answers.is_computing
    assert worker.jobs[-1][1] == session.document.text
    session.document.set({"travel.droop": "nonsense"})
    session.ask_again()
    assert session.answers.state == "stale"


def test_the_strip_is_always_that_of_the_pose(open_rig: Opening) -> None:
    session = open_rig("long-legged-trail-wagon")
    while session.idle():
        pass
    assert session.strip is not None
    assert np.isfinite(session.strip.gap).all()
    session.motion.play(DRIVES["droop"])
    for _ in range(20):
        session.motion.advance(0.1)
        strip = session.strip
        assert strip is not None
        assert strip.at == session.motion.at
        assert not np.isfinite(strip.gap).all(), "its gaps are found anew"
    session.motion.stop()
    session.motion.go(spin=2.0)
    assert session.strip is strip, "turning the shaft is the same strip"


def test_the_strip_is_of_the_tightest_joint_until_one_is_chosen(open_rig: Opening) -> None:
    session = open_rig("timber-crew-carrier")
    check = session.check
    assert check is not None
    margins = {name: joint.margin for name, joint in check.joints.items()}
    assert session.strip is not None
    assert session.strip_joint == session.strip.joint == min(margins, key=margins.__getitem__)
    other = max(margins, key=margins.__getitem__)
    session.choose(other)
    assert session.strip.joint == other, "at once, before anything moves"
    session.motion.go(travel=-20.0)
    assert session.strip is not None
    assert session.strip_joint == session.strip.joint == other
    session.open(Document.open(RIGS / "timber-crew-carrier.toml"))
    assert session.strip_joint == "pinion", "nothing is known of it yet"


ABOUT = {"joint-bend": "pinion", "joint-gap": "output", "turns-at-ride": "pinion"}
"""The joints of the examples; one of them names it in its detail alone."""


@pytest.mark.parametrize("code", list(examples.EXAMPLES))
def test_a_finding_is_about_its_joint_or_the_slip_or_neither(code: Code) -> None:
    assert about(examples.found(code)) == ABOUT.get(code, "slip" if "slip" in code else "worst")
