"""Two scenes side by side are seen by one eye: equal to the bit, whoever turns it."""

from collections.abc import Callable, Iterator

import numpy as np
import pytest

from sim.vehicle import RIDE
from tests.viewer.live.test_live_scene import settled
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.test_beside import strapped
from viewer.live.scene import LiveScene
from viewer.live.sight import WHOLE
from viewer.scene.joint_bodies import joint_frame
from viewer.session.beside import Beside
from viewer.session.session import Session, Version


@pytest.fixture
def both(open_rig: Callable[[str], Session]) -> Iterator[tuple[Beside, LiveScene, LiveScene]]:
    session = open_rig("long-legged-trail-wagon")
    beside = Beside(session, Version("before", "", strapped()), RIDE, 0.0)
    scenes = [
        settled(LiveScene(RecordingStage((500, 400)), each)) for each in (session, beside.before)
    ]
    now, before = scenes
    now.look_at("pinion")
    before.see_with(now)
    for one, other in ((now, before), (before, now)):
        one.aimed.connect(other.aim_again)
    session.posed.connect(now.posed)
    beside.before.posed.connect(before.posed)
    yield beside, now, before
    beside.close()


def same(one: LiveScene, other: LiveScene) -> bool:
    a, b = one.stage.camera, other.stage.camera
    pairs = ((a.focus, b.focus), (a.toward, b.toward), (a.up, b.up), (a.span, b.span))
    return all(np.array_equal(left, right) for left, right in pairs)


def test_turning_moving_or_zooming_either_moves_both_eyes_to_the_bit(both) -> None:
    _, now, before = both
    assert same(now, before)
    for scene in (before, now):
        for does in (
            lambda s: s.orbit(0.3, 0.1),
            lambda s: s.pan(0.1, -0.2),
            lambda s: s.zoom(1.4),
            lambda s: s.look_at(WHOLE),
            lambda s: s.look_at("output"),
        ):
            was = scene.stage.camera
            does(scene)
            assert same(now, before)
            assert scene.stage.camera is not was


def test_the_eye_goes_along_with_one_of_them(both) -> None:
    """Were it carried by both, it would go twice as far."""
    beside, now, before = both
    start = now.stage.camera.focus
    at = joint_frame(now.vehicle, now.line, "pinion").centre
    beside.go(travel=-90.0, wrap=0.05)
    moved = joint_frame(now.vehicle, now.line, "pinion").centre - at
    assert np.linalg.norm(moved) > 50.0
    np.testing.assert_allclose(now.stage.camera.focus - start, moved, rtol=0.0, atol=1e-9)
    assert same(now, before)


def test_both_joints_are_in_sight_where_one_axle_hangs_lower(both) -> None:
    beside, now, before = both
    beside.go(travel=-228.6)
    now.look_at("pinion")
    for scene in (now, before):
        centre = joint_frame(scene.vehicle, scene.line, "pinion").centre
        seen = scene.stage.project(centre[None])[0] / np.array(scene.stage.region.corners[1])
        assert (seen > 0.1).all()
        assert (seen < 0.9).all()
    apart = [joint_frame(s.vehicle, s.line, "pinion").centre for s in (now, before)]
    assert np.linalg.norm(apart[0] - apart[1]) > 100.0


def test_the_same_meshes_are_shown_in_every_scene_of_an_answer(both) -> None:
    beside, now, _ = both
    again = settled(LiveScene(RecordingStage((500, 400)), beside.session))
    for name, part in now.bodies.parts.items():
        assert again.bodies.parts[name] is part
