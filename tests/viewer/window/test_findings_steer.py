"""One thing is looked at: a finding brings pose, turn, strip, map, close-up and eye together.

By mouse and keys. What meets at the pose is held to `pose_of`, asked here at every degree of turn.
"""

from collections.abc import Callable
from math import degrees, radians

import numpy as np
import pytest
from PyQt6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sim.check import Check
from sim.findings import Finding
from sim.pose import pose_of
from sim.vehicle import Joint, Pose
from tests.viewer.session.conftest import checked
from tests.viewer.window.test_view3d import fake
from tests.viewer.window.whole import shown
from viewer.live.sight import SLIP, WHOLE
from viewer.session.charts.turn_strip import left_at, verdict_here
from viewer.session.session import Session
from viewer.window.map.view import MapView
from viewer.window.state.findings_list import FindingsList
from viewer.window.strip.view import StripView
from viewer.window.view.view3d import View3D

Opening = Callable[..., Session]

RIG = "long-legged-trail-wagon"


class Desk:
    """The list, the strip, the map and the view of one session."""

    def __init__(self, qtbot: QtBot, session: Session) -> None:
        self.qtbot, self.session = qtbot, session
        while session.idle():
            pass
        self.listed = shown(qtbot, FindingsList(session), 400, 900)
        self.listed.refresh()
        session.chose.connect(self.listed.keep_choice)
        self.strip = shown(qtbot, StripView(session), 500, 300)
        self.map = shown(qtbot, MapView(session), 500, 300)
        self.view = shown(qtbot, View3D(session, factory=fake), 800, 640)
        qtbot.waitUntil(lambda: not self.view.scene.has_work)

    def row_of(self, *codes: str) -> int:
        rows = range(len(self.findings))
        return next(row for row in rows if self.findings[row].code in codes)

    @property
    def findings(self) -> tuple[Finding, ...]:
        check = self.session.check
        assert check is not None
        return check.findings

    def point(self, row: int) -> QPoint:
        item = self.listed.item(row)
        assert item is not None
        return self.listed.visualItemRect(item).topLeft() + QPoint(60, 8)

    def click(self, row: int) -> None:
        port = self.listed.viewport()
        self.qtbot.mouseClick(port, Qt.MouseButton.LeftButton, pos=self.point(row))

    def double_click(self, row: int) -> None:
        port = self.listed.viewport()
        self.click(row)
        self.qtbot.mouseDClick(port, Qt.MouseButton.LeftButton, pos=self.point(row))

    @property
    def shows(self) -> tuple[object, ...]:
        """What strip, map and eye are of, as they say it."""
        sight = self.view.scene.sight
        return self.strip.choice.currentData(), self.map.choice.currentData(), sight.on, sight.view


@pytest.fixture
def desk(qtbot: QtBot, open_rig: Opening) -> Desk:
    return Desk(qtbot, open_rig(RIG))


def test_a_click_brings_pose_turn_strip_map_and_eye(desk: Desk) -> None:
    for row, finding in enumerate(desk.findings):
        if finding.subject not in ("output", "pinion"):
            continue
        desk.click(row)
        assert desk.session.motion.at == finding.at
        assert desk.shows == (finding.subject,) * 4
        assert desk.session.strip_joint == finding.subject
        assert desk.listed.chosen == row


def test_the_turn_is_where_the_joint_of_the_finding_meets(desk: Desk) -> None:
    """No whole degree of a turn has less left at that joint, though another may be tighter."""
    check = checked(RIG)
    for row, finding in enumerate(desk.findings):
        if finding.code != "joint-bend":
            continue
        desk.click(row)
        motion = desk.session.motion
        joint = desk.session.strip_joint
        left = [_left(check, motion.at, radians(turn), joint) for turn in range(360)]
        assert _left(check, motion.at, motion.spin, joint) <= min(left) + 1e-9
        now = desk.session.now
        assert now is not None
        assert verdict_here(now.joints[joint]) == finding.verdict


def _left(check: Check, at: Pose, spin: float, joint: Joint) -> float:
    posed = pose_of(check, at, spin).joints[joint]
    return float(left_at(posed.room, posed.bend, posed.spin).left)


def test_the_eye_looks_from_where_the_meeting_is_seen(desk: Desk) -> None:
    """At once, not when the gap has been found: toward the eye of the marks' own choice."""
    row = desk.row_of("joint-bend")
    desk.click(row)
    marks = desk.view.scene.marks[desk.session.strip_joint]
    side = marks.telling_side()
    assert side is not None
    np.testing.assert_allclose(desk.view.scene.sight.camera.toward, side, rtol=0.0, atol=1e-9)


def test_a_slip_is_looked_at_as_a_slip_and_a_thing_nearby_in_the_whole(desk: Desk) -> None:
    desk.click(desk.row_of("slip-opens", "slip-closes"))
    assert desk.shows[1:] == ("slip", SLIP, SLIP)
    desk.click(desk.row_of("surroundings", "surroundings-unfinished"))
    assert desk.shows[1:] == ("worst", None, WHOLE)


@pytest.mark.parametrize("key", [Qt.Key.Key_Down, Qt.Key.Key_Up])
def test_arrows_go_from_finding_to_finding(desk: Desk, key: Qt.Key) -> None:
    start = 0 if key == Qt.Key.Key_Down else 2
    desk.click(start)
    desk.qtbot.keyClick(desk.listed, key)
    assert desk.listed.chosen == 1
    assert desk.session.motion.at == desk.findings[1].at
    assert desk.session.finding is desk.findings[1]


def test_a_click_brings_the_eye_back(desk: Desk) -> None:
    row = desk.row_of("joint-bend")
    desk.click(row)
    desk.view.look_at(WHOLE)
    desk.click(row)
    assert desk.shows == (desk.findings[row].subject,) * 4


def test_strip_map_and_view_choose_the_same(desk: Desk) -> None:
    for joint in ("output", "pinion"):
        desk.strip.choice.setCurrentIndex(desk.strip.choice.findData(joint))
        assert desk.shows == (joint,) * 4
        desk.map.choice.setCurrentIndex(desk.map.choice.findData("slip"))
        assert desk.shows[1:] == ("slip", SLIP, SLIP)
        desk.map.choice.setCurrentIndex(desk.map.choice.findData(joint))
        assert desk.shows == (joint,) * 4
        desk.map.choice.setCurrentIndex(desk.map.choice.findData("worst"))
        assert desk.shows[1:] == ("worst", None, WHOLE)
        desk.view.bar.buttons[joint].click()
        assert desk.shows == (joint,) * 4
        assert desk.session.finding is None


def test_a_mark_on_the_map_chooses_its_finding_in_the_list(desk: Desk) -> None:
    for mark in desk.map.canvas.marks:
        desk.map.canvas.press(mark.point)
        assert desk.listed.chosen == mark.number - 1
        item = desk.listed.item(mark.number - 1)
        assert item is not None
        assert desk.session.finding is mark.finding is desk.findings[mark.number - 1]


@pytest.mark.parametrize("way", ["double click", "button", "space bar"])
def test_the_drive_to_a_finding_plays(desk: Desk, way: str) -> None:
    row = desk.row_of("slip-opens", "joint-bend")
    if way == "double click":
        desk.double_click(row)
    else:
        desk.click(row)
        if way == "button":
            desk.qtbot.mouseClick(desk.listed.show_me, Qt.MouseButton.LeftButton)
        else:
            desk.qtbot.keyClick(desk.listed, Qt.Key.Key_Space)
    motion = desk.session.motion
    assert motion.playing
    assert motion.drive in desk.session.binds
    assert desk.session.finding is desk.findings[row]
    motion.advance(0.5)
    desk.listed.keep_choice()
    assert desk.listed.chosen == row, "it stays chosen on the way there"
    motion.stop()
    desk.listed.keep_choice()
    assert desk.listed.chosen is None


def test_where_the_drive_stops_the_eye_goes_round_to_the_meeting(desk: Desk) -> None:
    row = desk.row_of("joint-bend")
    desk.double_click(row)
    motion = desk.session.motion
    while not motion.stands:
        motion.advance(0.2)
    marks = desk.view.scene.marks[desk.session.strip_joint]
    assert marks.gap is not None
    side = marks.telling_side()
    assert side is not None
    now = desk.session.now
    assert now is not None
    assert degrees(now.joints[desk.session.strip_joint].left) < 0.5
    np.testing.assert_allclose(desk.view.scene.sight.camera.toward, side, rtol=0.0, atol=1e-9)


def test_the_button_stands_under_its_finding(desk: Desk) -> None:
    row = desk.row_of("joint-bend")
    desk.click(row)
    box, button = desk.listed.visualItemRect(desk.listed.item(row)), desk.listed.show_me
    assert button.isVisible()
    assert box.contains(button.geometry())
    port = desk.listed.viewport()
    assert port is not None
    assert port.rect().contains(button.geometry())
