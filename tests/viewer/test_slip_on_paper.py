"""The slip on a sheet: the red is as long as what the pose check says is missing, in its place."""

from unittest.mock import Mock

import numpy as np
import pytest

from sim.pose import check_pose
from sim.vehicle import Pose
from tests.viewer.live.test_slip_in_3d import BUGGY, SCOUT, text_of
from tests.viewer.recording_stage import RecordingStage
from viewer.draw.verdict_mark import RED
from viewer.pose.picture import pose_picture
from viewer.scene.slip_mark import SlipMark
from viewer.scene.slip_place import SlipNow, slip_place
from viewer.session.text.document import Document
from viewer.words.units import format_fraction_up


def drawn(name: str, travel: float):
    """A pose of a rig, and its picture as it was drawn."""
    rig = Document(text_of(name)).rig
    found = check_pose(rig, Pose(travel), 0.4)
    paper = RecordingStage()
    pose_picture(found, rig).draw(paper, paper.region)
    return found, paper


@pytest.mark.parametrize(
    ("name", "travel", "left"),
    [(BUGGY, -203.2, "opens_left"), ("bottoms", 101.6, "closes_left")],
)
def test_the_red_is_as_long_as_what_is_missing_and_lies_on_the_axis(name, travel, left) -> None:
    found, paper = drawn(name, travel)
    missing = -getattr(found, left)
    assert missing > 5.0
    (red,) = [c.told["triangles"] for c in paper.of("area") if c.told["colour"] == RED][:1]
    camera, region = paper.cameras["shaft"], paper.regions["shaft"]
    X = found.state.X_C["output yoke"]
    at, along = camera.project(np.stack([X[:3, 3], X[:3, 3] + X[:3, 0]]), region)
    way = along - at
    corners = (red.reshape(-1, 2) - at) @ way / (way @ way)
    assert np.ptp(corners) == pytest.approx(missing, abs=1e-6)
    aside = (red.reshape(-1, 2) - at) @ [-way[1], way[0]]
    assert aside.max() == pytest.approx(-aside.min(), rel=1e-6)
    thick = found.joints["output"].hardware.driving.dimensions["spline_diameter"]
    half = 0.5 * thick * camera.px_per_mm(region)
    assert aside.max() / np.hypot(*way) == pytest.approx(half, rel=1e-6)
    assert any(format_fraction_up(missing) in c.told["text"] for c in paper.of("write"))


def test_where_nothing_is_missing_it_says_what_is_left_both_ways() -> None:
    found, paper = drawn(SCOUT, -30.0)
    assert min(found.closes_left, found.opens_left) > 10.0
    said = [c.told["text"] for c in paper.of("write")]
    assert any("left to close" in line for line in said)
    assert any("left to open" in line for line in said)
    assert RED not in [c.told["colour"] for c in paper.of("area")]


@pytest.mark.parametrize(("left", "is_red"), [(0.0, True), (1e-6, False)])
def test_exactly_at_its_limit_it_is_told_in_red_with_nothing_to_hatch(left, is_red) -> None:
    found, _ = drawn(BUGGY, 0.0)
    tube = found.rig.shaft.tube
    hardware = {joint: each.hardware for joint, each in found.joints.items()}
    place = slip_place(found.vehicle, hardware, (tube.outside.mm, tube.wall.mm))
    for tip in (place.limit - left, place.bottom + left):
        figure = Mock(px_per_mm=1.0, at=lambda points: np.asarray(points)[..., :2])
        SlipMark(SlipNow(place, tip), np.eye(4)).draw(figure)
        assert (figure.tell.called, figure.say.called) == (is_red, not is_red)
        assert not figure.paper.area.called
