"""The labels of real scenes as VTK puts them: apart, whole, off what they speak of, and steady.

Boxes and rounds are read from the actors and the eye, not from what placed them.
"""

import numpy as np
import pytest
import pyvista as pv

from tests.viewer.live.test_live_scene import measured, settled
from viewer.draw.camera import Region
from viewer.draw.pyvista_stage import PyVistaStage
from viewer.live.scene import LiveScene
from viewer.live.sight import ALONG, views

pytestmark = [pytest.mark.needs_gl, pytest.mark.slow]

SIZES = (((1000, 700), 1.0), ((640, 420), 1.0), ((900, 600), 1.5))
"""px of the view with its close-up, and px of the screen for each of a letter's."""


@pytest.fixture
def staged():
    """Opens stages and closes them."""
    open_ones = []

    def opening(size, scale):
        plotter = pv.Plotter(off_screen=True, window_size=list(size), lighting="none")
        stage = PyVistaStage(plotter)
        stage.scale = scale
        open_ones.append((stage, plotter))
        return stage

    yield opening
    for stage, plotter in open_ones:
        stage.close()
        plotter.close()


def shown(stage):
    """Of all words that are seen: name, box, middle and radius of what they speak of, px."""
    low = stage.part.corners[0]
    right = stage._seen.R_VC[0]
    for name, thing in stage.things.items():
        words = thing.words
        if words is None or not words.actor.GetVisibility():
            continue
        middle = thing.pose[:3, 3]
        radius = words.clear * np.linalg.norm(thing.pose[:3, 0])
        points = np.stack([words.actor.GetPosition(), middle, middle + radius * right])
        put, about, rim = stage.project(points) - low
        box = Region.between(*(put + words.box)).moved(*words.actor.GetDisplayOffset())
        yield name, box, about, float(np.linalg.norm(rim - about))


@pytest.mark.parametrize(("size", "scale"), SIZES)
@pytest.mark.parametrize("rig", ["goat-path-buggy", "short-tailed-scout", "timber-crew-carrier"])
def test_in_every_view_labels_are_apart_whole_and_off_what_they_speak_of(
    open_rig, staged, rig: str, size, scale: float
) -> None:
    session, stage = open_rig(rig), staged(size, scale)
    scene = settled(LiveScene(stage, session))
    measured(session, scene)
    view_size = stage.part.corners[1] - stage.part.corners[0]
    for view in views(scene.vehicle):
        scene.look_at(view)
        stage.settle()
        there = list(shown(stage))
        assert there
        for number, (name, box, _, _) in enumerate(there):
            low, high = box.corners
            assert (low >= -1.0).all(), (view, name)
            assert (high <= view_size + 1.0).all(), (view, name)
            for other, its_box, about, radius in there:
                if other in {each for each, *_ in there[:number]}:
                    assert not box.grown(-1.0).meets(its_box.grown(-1.0)), (view, name, other)
                # Along the shaft all joints lie on each other, and large words have no room.
                if view != ALONG:
                    away = np.linalg.norm(np.clip(about, low, high) - about)
                    assert away >= radius - 1.5, (view, name, other)


def test_while_a_drive_plays_labels_go_along(open_rig, staged) -> None:
    session, stage = open_rig("timber-crew-carrier"), staged((640, 420), 1.0)
    scene = settled(LiveScene(stage, session))
    travel = session.check.derivation.vehicle.travel
    jumps, frames, before = 0, 0, {}
    for number, height in enumerate(np.linspace(-travel.droop, travel.bump, 80)):
        session.motion.go(travel=float(height), spin=0.1 * number)
        scene.posed()
        stage.settle()
        now = {
            name: np.array(thing.words.actor.GetDisplayOffset())
            for name, thing in stage.things.items()
            if thing.words is not None and thing.words.actor.GetVisibility()
        }
        for name in set(now) & set(before):
            frames += 1
            jumps += bool(np.hypot(*(now[name] - before[name])) > 15.0)
        before = now
    assert frames > 200
    assert jumps <= 0.02 * frames
