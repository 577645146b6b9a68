"""The views of the whole: straight from below, straight along the shaft, and which way is forward.

A view is judged by where its camera puts known points, not by the numbers it was made from.
"""

from math import radians

import numpy as np
import pytest

from tests.viewer.live.test_live_scene import NAMES, settled
from tests.viewer.recording_stage import RecordingStage
from viewer.live.floor import ARROW, ARROW_SIZE, WORD
from viewer.live.scene import LiveScene
from viewer.live.sight import ABOVE, ALONG, BELOW, FRONT, REAR, RIGHT, SIDE, WHOLE


@pytest.fixture
def looking(open_rig):
    """A rig seen in one of the views, once everything is built."""

    def look(name: str, view: str):
        session = open_rig(name)
        scene = settled(LiveScene(RecordingStage((800, 600)), session))
        scene.look_at(view)
        return session, scene, scene.stage

    return look


def seen(stage, *points):
    """Where points (3,) mm in C are seen, px."""
    return stage.project(np.array(points, dtype=float))


@pytest.mark.parametrize("name", NAMES)
def test_from_below_is_a_plan_with_forward_to_the_left_and_the_left_side_on_top(
    looking, name: str
) -> None:
    _, _, stage = looking(name, BELOW)
    assert not stage.perspective
    at, ahead, left, above = seen(stage, [0, 0, 0], [100, 0, 0], [0, 100, 0], [0, 0, 100])
    np.testing.assert_allclose(above, at, rtol=0.0, atol=1e-9)
    assert ahead[0] < at[0]
    assert ahead[1] == pytest.approx(at[1], abs=1e-9)
    assert left[1] > at[1]
    assert left[0] == pytest.approx(at[0], abs=1e-9)
    assert stage.camera.toward[2] < 0.0


@pytest.mark.parametrize(
    ("view", "right", "up"),
    [
        (SIDE, [-1, 0, 0], [0, 0, 1]),
        (RIGHT, [1, 0, 0], [0, 0, 1]),
        (FRONT, [0, 1, 0], [0, 0, 1]),
        (REAR, [0, -1, 0], [0, 0, 1]),
        (ABOVE, [-1, 0, 0], [0, -1, 0]),
        (BELOW, [-1, 0, 0], [0, 1, 0]),
    ],
)
def test_plain_views_are_straight(looking, view: str, right: list[int], up: list[int]) -> None:
    """As one stands there: x forward, y to the left, z up [ISO8855]; plans have forward left."""
    _, _, stage = looking("long-legged-trail-wagon", view)
    assert not stage.perspective
    for way, sign in ((right, (1, 0)), (up, (0, 1))):
        moved = np.diff(seen(stage, [0, 0, 0], 100.0 * np.array(way)), axis=0)[0]
        scale = np.linalg.norm(moved)
        assert scale > 1.0
        np.testing.assert_allclose(moved / scale, sign, rtol=0.0, atol=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_along_the_shaft_its_two_joints_are_one_behind_the_other_also_when_it_moves(
    looking, name: str
) -> None:
    session, scene, stage = looking(name, ALONG)
    assert not stage.perspective
    places = []
    for travel, wrap in ((0.0, 0.0), (-60.0, 0.0), (25.0, radians(2.0))):
        session.motion.go(travel=travel, wrap=wrap)
        scene.posed()
        output, pinion = scene.line.p_C_output, scene.line.p_C_pinion
        places.extend(seen(stage, output, pinion))
        depths = stage.camera.depth([output, pinion])
        assert depths[1] > depths[0], "the pinion joint is in front"
    np.testing.assert_allclose(places, [places[0]] * len(places), rtol=0.0, atol=1e-6)


def test_along_the_shaft_the_housing_before_it_is_looked_through_as_long_as_one_stays(
    looking,
) -> None:
    _, scene, stage = looking("long-legged-trail-wagon", ALONG)
    assert stage.things["housing"].opacity < 0.2
    scene.bodies.fade("housing", 0.9)
    assert stage.things["housing"].opacity < 0.2
    scene.orbit(0.2, 0.1)
    assert stage.things["housing"].opacity < 0.2
    scene.look_at(WHOLE)
    assert stage.things["housing"].opacity == 0.9
    scene.look_at("pinion")
    assert stage.things["housing"].opacity == 0.9


@pytest.mark.parametrize("name", [*NAMES, "goat-path-buggy"])
@pytest.mark.parametrize("view", [SIDE, RIGHT, ABOVE, BELOW])
def test_the_arrow_forward_is_seen_whole_with_its_word(looking, name: str, view: str) -> None:
    _, _, stage = looking(name, view)
    arrow, word = stage.things[ARROW], stage.things[WORD]
    X = arrow.X_CP
    np.testing.assert_array_equal(word.X_CP, X)
    corners = np.stack(np.meshgrid(*ARROW_SIZE.T), axis=-1).reshape(-1, 3)
    places = seen(stage, *(corners @ X[:3, :3].T + X[:3, 3]))
    assert (places >= 0.0).all()
    assert (places <= stage.size).all()
    # Its area as it is seen, so that it is never edge on.
    for mesh, _, _ in arrow.solids:
        low, high = mesh.bounds
        assert ((low >= ARROW_SIZE[0]) & (high <= ARROW_SIZE[1])).all()
    skin = np.concatenate(
        [seen(stage, *(m.vertices + X[:3, 3]))[m.faces] for m, _, _ in arrow.solids]
    )
    sides = skin[:, 1:] - skin[:, :1]
    area = 0.25 * np.abs(sides[:, 0, 0] * sides[:, 1, 1] - sides[:, 0, 1] * sides[:, 1, 0]).sum()
    size = places.max(axis=0) - places.min(axis=0)
    assert area > 0.3 * size.prod()


def test_end_on_there_is_no_arrow_and_it_comes_back(looking) -> None:
    _, scene, stage = looking("long-legged-trail-wagon", ALONG)
    assert not {ARROW, WORD} & set(stage.seen())
    scene.orbit(0.3, 0.0)
    assert {ARROW, WORD} <= set(stage.seen())
    scene.look_at(ALONG)
    scene.look_at(WHOLE)
    assert {ARROW, WORD} <= set(stage.seen())
    scene.look_at("pinion")  # close up the arrow is mostly behind something
    assert WORD not in stage.seen()


@pytest.mark.parametrize("view", [WHOLE, SIDE, BELOW, ALONG])
@pytest.mark.parametrize("name", NAMES)
def test_a_view_chosen_before_the_parts_are_there_is_about_the_one_that_stays(
    open_rig, name: str, view: str
) -> None:
    session = open_rig(name)
    session.motion.go(travel=-60.0)
    scene = LiveScene(RecordingStage((800, 600)), session)
    scene.answered()
    scene.look_at(view)
    early = scene.sight.camera
    for _ in range(3):
        scene.work()
        scene.look_at(view)
    half_built = scene.sight.camera
    while scene.work():
        pass
    scene.look_at(view)
    late = scene.sight.camera
    for soon in (early, half_built):
        assert np.linalg.norm(soon.focus - late.focus) < 0.12 * late.span
        assert 0.8 < soon.span / late.span < 1.25
