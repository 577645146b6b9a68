"""The picture is of what was chosen: where a thing near the shaft is hit, or the slip, or a joint.

Where the crossmember is comes from the rig's own numbers by hand: a box 3 in high at 10.6 in has
its lower face at 9.1 in, and a tube 3 in thick has its axis 1.5 in from what it touches.
"""

import re

import numpy as np
import pytest

from sim.check import check
from sim.vehicle import RIDE
from tests.kept import kept
from tests.viewer.live.test_live_scene import settled
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS, Scripted
from viewer.draw.camera import Region
from viewer.live.looks import LIGHT
from viewer.live.scene import LiveScene
from viewer.live.sight import NEAR
from viewer.scene.mount import SHAFT
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.words.now import now_limit, slip_words

INCH = 25.4
RING, WORDS, LINE = (f"{NEAR} crossmember {what}" for what in ("ring", "words", "gap"))
WHOLE_STAGE = Region(0.0, 0.0, 1000.0, 640.0)


def lowered() -> str:
    """The wagon with its crossmember lower, so that the tube comes up against it."""
    text = (RIGS / "long-legged-trail-wagon.toml").read_text(encoding="utf-8")
    return re.sub(r'(box = \{ at = \["30 in", "0 in", )"13 in"', r'\1"10.6 in"', text)


@kept
def answer():
    """The answer to it."""
    return check(Document(lowered()).rig)


def scene_of(session) -> LiveScene:
    return settled(LiveScene(RecordingStage((1000, 640)), session))


@pytest.fixture
def hit():
    """The lowered crossmember in a scene, with the finding of it and the drive there."""
    worker = Scripted()
    session = Session(Document(lowered()), worker)
    worker.say(answer=answer(), share=1.0)
    session.tick()
    finding = next(each for each in session.check.findings if each.code == "surroundings")
    drive = next(each for each in session.binds if each.finding is finding)
    yield session, scene_of(session), finding, drive
    session.close()


def stand_at(session, scene, pose, finding) -> None:
    """Put the axle somewhere with a finding chosen, as at the end of a drive, and look."""
    session.motion.go_to(pose)
    scene.posed()
    session.choose("worst", finding)
    scene.measured()
    scene.look_at(NEAR)


def test_at_the_stop_the_hit_is_ringed_and_named_where_it_is(hit) -> None:
    session, scene, finding, drive = hit
    stage = scene.stage
    stand_at(session, scene, drive.stop, finding)
    place = stage.things[RING].X_CP[:3, 3]
    assert abs(place[0] - 30.0 * INCH) <= 1.5 * INCH + 1e-6
    assert abs(place[1]) <= 15.0 * INCH
    assert place[2] == pytest.approx(9.1 * INCH, abs=0.05)
    X = scene.frames[SHAFT]
    off = np.linalg.norm(np.cross(place - X[:3, 3], X[:3, 0]))
    assert off == pytest.approx(1.5 * INCH, abs=0.1)
    red = LIGHT.verdicts["touches"]
    assert red in [pen.colour for _, pen, _ in stage.things[RING].segments]
    assert all(on_top for *_, on_top in stage.things[RING].segments)
    told = [call.told for call in stage.of("words") if call.told["name"] == WORDS][-1]
    assert told["text"] == "shaft's tube\nhits the crossmember"
    assert told["plate"].frame == red
    assert not stage.things[LINE].shown


def test_the_eye_is_on_it_from_the_side_that_nothing_hides(hit) -> None:
    session, scene, finding, drive = hit
    stand_at(session, scene, drive.stop, finding)
    camera = scene.stage.camera
    np.testing.assert_allclose(
        scene.stage.project(scene.stage.things[RING].X_CP[:3, 3]), WHOLE_STAGE.middle, atol=1.0
    )
    assert camera.toward[2] < 0.0  # the tube is below the box
    assert camera.toward[1] > 0.5  # from the left, where shaft and box are seen from the side


def test_no_close_up_of_a_joint_beside_it_until_one_is_chosen(hit) -> None:
    session, scene, finding, drive = hit
    stage = scene.stage
    assert not stage.second.folded
    stand_at(session, scene, drive.stop, finding)
    assert stage.second.folded
    assert stage.region.corners.tolist() == WHOLE_STAGE.corners.tolist()
    assert not scene.has_work
    session.choose("output")
    scene.measured()
    assert not stage.second.folded
    assert scene.closeup.joint == "output"
    assert stage.region.width < WHOLE_STAGE.width


def test_short_of_it_the_gap_is_measured_and_what_is_clear_has_no_mark(hit) -> None:
    session, scene, finding, drive = hit
    stand_at(session, scene, RIDE, finding)
    (gap,) = session.now.surroundings
    stage, thing = scene.stage, scene.stage.things[LINE]
    ends = np.array([[0.0, 0.0, 0.0, 1.0], [1.0, 0.0, 0.0, 1.0]]) @ thing.X_CP.T
    assert thing.shown
    assert np.linalg.norm(ends[1] - ends[0]) == pytest.approx(gap.gap_mm, abs=0.01)
    assert ends[1, 2] == pytest.approx(9.1 * INCH, abs=1e-6)
    (text,) = (text for text, _ in stage.things[WORDS].texts)
    assert text == "gap 1.93 in (49 mm)\nweld behind the slip to the crossmember"
    session.choose("worst")
    scene.measured()
    assert not {RING, WORDS, LINE} & set(stage.things)
    session.motion.go_to(drive.stop)
    scene.posed()
    assert {RING, WORDS} <= set(stage.things)  # a hit is marked whatever was chosen


def test_the_slip_has_the_picture_and_one_way_to_say_nothing(open_rig) -> None:
    session = open_rig("goat-path-buggy")
    scene = scene_of(session)
    finding = next(each for each in session.check.findings if each.code == "slip-opens")
    drive = next(each for each in session.binds if each.finding is finding)
    session.motion.go_to(drive.stop)
    scene.posed()
    session.choose("slip", finding)
    scene.measured()
    scene.look_at("slip")
    stage = scene.stage
    assert stage.second.folded
    assert stage.region.corners.tolist() == WHOLE_STAGE.corners.tolist()
    words = "\n".join([*stage.said(), slip_words(session.now), now_limit(session.now)])
    assert words.count("nothing left to open") == 4
    assert not re.search(r"\b0 in|0\.0 mm", words)
    session.choose("pinion")
    scene.measured()
    assert not stage.second.folded
    assert scene.closeup.joint == "pinion"
