"""Moving the axle: every control moves the model, and the model moves every control."""

from collections.abc import Callable
from math import degrees, pi, radians, tau

import pytest
from PyQt6.QtCore import QEvent, QPoint, QPointF, Qt
from PyQt6.QtGui import QKeyEvent, QKeySequence, QWheelEvent
from PyQt6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sim.vehicle import TravelRegion
from tests.viewer.session.conftest import RIGS
from viewer.session.moving.drives import DRIVES
from viewer.session.moving.motion import AXES, Motion
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.kit.pieces import at_a_word
from viewer.window.motion.panel import MotionPanel
from viewer.words.axes import FINE, axis_text, end_words

Opening = Callable[..., Session]


@pytest.fixture
def panel(qtbot: QtBot, open_rig: Opening) -> MotionPanel:
    made = MotionPanel(open_rig())
    qtbot.addWidget(made)
    made.resize(900, 200)
    made.show()
    return made


def shown(panel: MotionPanel) -> dict[str, str]:
    return {axis: row.field.text() for axis, row in panel.rows.items()}


def wheel(panel: MotionPanel, axis: str, notches: float, fine: bool = False) -> None:
    row = panel.rows[axis]
    middle = QPointF(row.rect().center())
    keys = Qt.KeyboardModifier.ControlModifier if fine else Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(
        row,
        QWheelEvent(
            middle,
            middle,
            QPoint(),
            QPoint(0, round(120 * notches)),
            Qt.MouseButton.NoButton,
            keys,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        ),
    )


def test_the_model_moves_every_control(panel: MotionPanel) -> None:
    panel.session.motion.go(travel=-101.6, roll=radians(3), wrap=radians(-2), spin=radians(90))
    assert shown(panel) == {
        "travel": "4 in droop",
        "roll": "3.0 deg left up",
        "wrap": "2.0 deg nose down",
        "spin": "90.0 deg",
    }
    assert panel.rows["travel"].slider.value() == -64
    assert panel.rows["roll"].slider.value() == 30
    assert panel.rows["wrap"].slider.value() == -20
    assert panel.rows["spin"].slider.value() == 900


@pytest.mark.parametrize("axis", AXES)
def test_a_slider_moves_the_model_in_fine_steps(panel: MotionPanel, axis: str) -> None:
    row, motion = panel.rows[axis], panel.session.motion
    row.slider.setValue(7)
    assert motion.value(axis) == pytest.approx(7 * FINE[axis], abs=1e-12)
    row.slider.setValue(row.slider.maximum())
    if axis != "spin":
        assert motion.value(axis) == motion.bounds(axis)[1]
        row.slider.setValue(row.slider.minimum())
        assert motion.value(axis) == motion.bounds(axis)[0]


@pytest.mark.parametrize("axis", AXES)
def test_showing_a_value_does_not_round_it(panel: MotionPanel, axis: str) -> None:
    """A pose between two fine steps stays as it is when the slider shows it."""
    motion = panel.session.motion
    motion.go(**{axis: 3.37 * FINE[axis]})
    panel.refresh()
    assert motion.value(axis) == pytest.approx(3.37 * FINE[axis], abs=1e-12)


def test_an_end_between_two_fine_steps_can_be_reached(panel: MotionPanel) -> None:
    motion = panel.session.motion
    motion.bound(TravelRegion(bump=10.1, droop=20.3, roll=0.1, nose_up=0.0513, nose_down=0.0))
    row = panel.rows["travel"]
    row.slider.setValue(row.slider.maximum())
    assert motion.value("travel") == 10.1
    assert row.slider.value() == row.slider.maximum()
    row.slider.setValue(row.slider.minimum())
    assert motion.value("travel") == -20.3


def test_keys_step_finely_and_the_turn_goes_round(panel: MotionPanel, qtbot: QtBot) -> None:
    motion = panel.session.motion
    qtbot.keyClick(panel.rows["travel"].slider, Qt.Key.Key_Left)
    assert motion.value("travel") == pytest.approx(-25.4 / 16.0, abs=1e-12)
    qtbot.keyClick(panel.rows["travel"].slider, Qt.Key.Key_PageUp)
    assert motion.value("travel") == pytest.approx(3 * 25.4 / 16.0, abs=1e-12)
    qtbot.keyClick(panel.rows["spin"].slider, Qt.Key.Key_Left)
    assert degrees(motion.spin) == pytest.approx(359.9, abs=1e-9)
    qtbot.keyClick(panel.rows["spin"].slider, Qt.Key.Key_Right)
    assert motion.spin == 0.0


def test_the_wheel_steps_an_axis(panel: MotionPanel) -> None:
    motion = panel.session.motion
    wheel(panel, "travel", -2.0)
    assert motion.value("travel") == pytest.approx(-12.7, abs=1e-12)
    wheel(panel, "travel", 1.0, fine=True)
    assert motion.value("travel") == pytest.approx(-12.7 + 6.35 / 8.0, abs=1e-12)
    wheel(panel, "wrap", 1.0)
    assert degrees(motion.value("wrap")) == pytest.approx(0.5, abs=1e-9)


@pytest.mark.parametrize(
    ("axis", "text", "value"),
    [
        ("travel", "6 in droop", -152.4),
        ("travel", "ride", 0.0),
        ("roll", "7.5 deg left up", radians(7.5)),
        ("wrap", "3 1/2 deg nose down", radians(-3.5)),
        ("spin", "405 deg", pi / 4.0),
    ],
)
def test_typing_moves_the_model(
    panel: MotionPanel, qtbot: QtBot, axis: str, text: str, value: float
) -> None:
    field = panel.rows[axis].field
    panel.session.motion.go(**{axis: 0.01})
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert panel.session.motion.value(axis) == pytest.approx(value, abs=1e-12)
    assert not panel.rows[axis].fault.isVisible()


def test_bad_text_says_one_line_and_loses_nothing(panel: MotionPanel, qtbot: QtBot) -> None:
    row, motion = panel.rows["travel"], panel.session.motion
    motion.go(travel=-25.4)
    row.field.selectAll()
    qtbot.keyClicks(row.field, "6 cubits droop")
    qtbot.keyClick(row.field, Qt.Key.Key_Return)
    assert motion.value("travel") == -25.4
    assert row.field.text() == "6 cubits droop"
    assert row.fault.isVisible()
    assert row.fault.text() == 'Type "6 in droop", "4 in bump" or "ride".'
    said = row.fault.toolTip()
    assert said.startswith('It came "6 cubits droop"')
    assert "--" not in said
    motion.go(roll=0.02)
    assert row.field.text() == "6 cubits droop"
    qtbot.keyClick(row.field, Qt.Key.Key_Escape)
    assert row.field.text() == "1 in droop"
    assert not row.fault.isVisible()


def test_being_told_moves_nothing_on_the_panel(panel: MotionPanel, qtbot: QtBot) -> None:
    row = panel.rows["travel"]
    places = {axis: panel.rows[axis].geometry() for axis in AXES}
    row.field.selectAll()
    qtbot.keyClicks(row.field, "banana")
    qtbot.keyClick(row.field, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert row.fault.isVisible()
    assert {axis: panel.rows[axis].geometry() for axis in AXES} == places


def test_undo_is_the_documents_while_a_pose_is_typed(panel: MotionPanel) -> None:
    keys = QKeySequence("Ctrl+Z")[0]
    event = QKeyEvent(QEvent.Type.ShortcutOverride, keys.key(), keys.keyboardModifiers())
    event.accept()
    panel.rows["travel"].field.event(event)
    assert not event.isAccepted(), "the menu has it"


@pytest.mark.parametrize(
    ("axis", "typed", "says"),
    [
        (
            "travel",
            "10 in droop",
            "Out of reach: the axle would hang 10 in down, droop ends at 9 in.",
        ),
        ("roll", "9 deg left up", "Out of reach: it would roll 9.0 deg, 8.0 deg is the most."),
    ],
)
def test_a_pose_typed_outside_is_shown_and_called_out_of_reach(
    panel: MotionPanel, qtbot: QtBot, axis: str, typed: str, says: str
) -> None:
    row, session = panel.rows[axis], panel.session
    row.field.selectAll()
    qtbot.keyClicks(row.field, typed)
    qtbot.keyClick(row.field, Qt.Key.Key_Return)
    assert axis_text(axis, session.motion.value(axis)).startswith(typed.replace("9 deg", "9.0 deg"))
    assert row.fault.text() == says
    session.motion.step("spin", 1.0)
    assert not session.motion.box.contains(
        session.motion.at.travel, session.motion.at.roll, session.motion.at.wrap
    ), "turning the shaft leaves the axle where it was typed to"
    row.step(-1.0 if axis == "roll" else 1.0)
    at = session.motion.at
    assert session.motion.box.contains(at.travel, at.roll, at.wrap), "moved, it is held again"


def test_typing_farther_than_can_be_shown_says_so(panel: MotionPanel, qtbot: QtBot) -> None:
    row = panel.rows["travel"]
    row.field.selectAll()
    qtbot.keyClicks(row.field, "40 in droop")
    qtbot.keyClick(row.field, Qt.Key.Key_Return)
    assert "40 in droop is farther" in row.fault.text()


def test_the_ends_are_in_words(panel: MotionPanel) -> None:
    marks = panel.rows["travel"].marks
    assert (marks.low, marks.high) == ("full droop 9 in", "full bump 4 in")
    for axis in AXES:
        assert end_words(axis, panel.session.motion.box)[0]


@pytest.mark.parametrize("axis", AXES)
def test_the_words_of_a_value_can_be_typed_back(axis: str) -> None:
    motion = Motion(TravelRegion(200.0, 200.0, 0.3, 0.3, 0.3))
    for steps in (0, 3, 17):
        motion.type(axis, axis_text(axis, steps * FINE[axis]))
        assert motion.value(axis) == pytest.approx(steps * FINE[axis], abs=1e-9)


def test_an_axis_that_does_not_move_says_so(panel: MotionPanel) -> None:
    panel.session.motion.bound(TravelRegion(50.0, 50.0, 0.0, 0.0, 0.0))
    for axis in ("roll", "wrap"):
        row = panel.rows[axis]
        assert not row.slider.isEnabled()
        assert not row.field.isEnabled()
        assert "This rig has no" in row.marks.low
    assert panel.rows["travel"].slider.isEnabled()
    panel.grab()


def test_a_drive_plays_and_ends(panel: MotionPanel, qtbot: QtBot) -> None:
    bar, motion = panel.bar, panel.session.motion
    bar.choice.setCurrentIndex(bar.choice.findData("droop"))
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert motion.playing
    assert bar.timer.isActive()
    assert bar.play.text() == "Pause"
    motion.advance(3.0)
    bar.refresh_progress()
    assert bar.progress.value() == 500
    assert motion.value("travel") == pytest.approx(motion.bounds("travel")[0], abs=1e-9)
    assert panel.rows["travel"].slider.value() == panel.rows["travel"].slider.minimum()
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert not bar.timer.isActive()
    assert bar.play.text() == "Go on"
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    motion.advance(99.0)
    assert motion.drive is None
    assert not bar.timer.isActive()
    assert bar.play.text() == "Play"
    assert motion.value("travel") == pytest.approx(0.0, abs=1e-9)


def test_the_drive_to_the_bind_stands_first_stops_and_is_pushed_on(
    panel: MotionPanel, qtbot: QtBot
) -> None:
    bar, motion = panel.bar, panel.session.motion
    names = [bar.choice.itemText(row) for row in range(bar.choice.count())]
    assert names[0] == bar.choice.currentText()
    assert names[0] == "to the bind: pinion joint binds at 3 11/16 in droop"
    assert names[-len(DRIVES) :] == list(DRIVES)
    assert len(names) == len(panel.session.binds) + len(DRIVES)
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    motion.advance(99.0)
    assert bar.play.text() == bar.play.accessibleName() == "Push on"
    assert bar.end.isEnabled()
    assert not bar.timer.isActive()
    said = "Stopped: the bolt of the pinion strap yoke meets the shaft's weld yoke at 3 11/16 in"
    for said_by in (bar.told.accessibleDescription(), bar.told.toolTip(), motion.said):
        assert said_by.startswith(said)
    assert bar.told.text()[:20] == said[:20]
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert motion.playing
    motion.advance(99.0)
    assert bar.play.text() == "Play"
    assert not bar.end.isEnabled()
    assert bar.told.toolTip().startswith("The worst, at 9 in droop, nose down: pinion joint 8.4")
    panel.rows["travel"].slider.setValue(0)
    assert not bar.told.toolTip().startswith("The worst"), "moved by hand it says so no more"


def test_what_a_drive_leaves_out_stands_beside_it(panel: MotionPanel) -> None:
    bar = panel.bar
    bar.choice.setCurrentIndex(bar.choice.findData("bump"))
    said = "This drive leaves out: 3 11/16 in droop, crossed up, 4.0 deg nose down."
    assert bar.told.accessibleDescription().startswith(said)
    bar.choice.setCurrentIndex(bar.choice.findData("droop"))
    assert bar.told.accessibleDescription() == "Droop: hangs out and comes back."


def test_drives_of_an_old_answer_are_there_no_more(panel: MotionPanel, qtbot: QtBot) -> None:
    bar, session = panel.bar, panel.session
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert session.motion.playing
    session.document.set({"travel.droop": "8 in"})
    assert session.motion.drive is None
    names = [bar.choice.itemText(row) for row in range(bar.choice.count())]
    assert names == list(DRIVES)
    assert not bar.timer.isActive()


def test_another_finding_can_be_chosen_while_one_is_driven_to(
    panel: MotionPanel, qtbot: QtBot
) -> None:
    bar, session = panel.bar, panel.session
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    session.motion.advance(1.0)
    bar.choice.setCurrentIndex(1)
    assert session.motion.drive is session.binds[1]
    assert session.strip_joint == "output"


def test_the_clock_drives_the_motion(panel: MotionPanel, qtbot: QtBot) -> None:
    panel.session.motion.play(DRIVES["bump"])
    with qtbot.waitSignal(panel.bar.timer.timeout, timeout=2000):
        pass
    qtbot.waitUntil(lambda: panel.session.motion.progress > 0.0, timeout=2000)


def test_speed_is_that_of_the_model(panel: MotionPanel) -> None:
    panel.bar.speed.setCurrentIndex(0)
    assert panel.session.motion.speed == 0.25
    panel.session.motion.speed = 2.0
    panel.refresh()
    assert panel.bar.speed.currentText() == "twice as fast"


def test_moving_by_hand_ends_the_drive(panel: MotionPanel) -> None:
    panel.session.motion.play(DRIVES["bump"])
    panel.rows["roll"].slider.setValue(5)
    assert panel.session.motion.drive is None


def test_back_to_ride_height(panel: MotionPanel, qtbot: QtBot) -> None:
    motion = panel.session.motion
    motion.go(travel=20.0, roll=0.02, wrap=0.02, spin=1.0)
    qtbot.mouseClick(panel.bar.ride, Qt.MouseButton.LeftButton)
    assert (motion.at.travel, motion.at.roll, motion.at.wrap) == (0.0, 0.0, 0.0)
    assert motion.spin == 1.0


def test_another_rig_is_moved_by_the_same_controls(panel: MotionPanel) -> None:
    panel.session.motion.go(travel=-12.0)
    document = Document.open(RIGS / "marsh-runner.toml")
    panel.session.open(document)
    assert panel.session.motion.value("travel") == 0.0
    panel.rows["travel"].slider.setValue(-16)
    assert panel.session.motion.value("travel") == pytest.approx(-25.4, abs=1e-9)
    assert document.rig.travel.droop.mm == -panel.session.motion.bounds("travel")[0]


def test_a_closed_panel_hears_nothing(panel: MotionPanel) -> None:
    panel.close()
    panel.session.motion.go(travel=-25.4)
    assert panel.rows["travel"].slider.value() == 0


def test_every_control_has_a_name_and_keys_of_its_own(panel: MotionPanel) -> None:
    for row in panel.rows.values():
        assert row.slider.accessibleName()
        assert row.field.accessibleName()
        assert row.slider.accessibleDescription()
    letters = [row.label.text().split("&")[1][0] for row in panel.rows.values()]
    assert len(set(letters)) == len(letters)
    assert not set("".join(letters).lower()) & set("reashmw")


@pytest.mark.parametrize(("width", "height"), [(300, 220), (700, 200), (1400, 140)])
def test_it_draws_at_any_size(panel: MotionPanel, width: int, height: int) -> None:
    panel.resize(width, height)
    panel.session.motion.go(travel=-12.0, spin=tau / 3)
    assert not panel.grab().isNull()


def test_a_name_without_room_ends_at_a_word(panel: MotionPanel) -> None:
    letters = panel.fontMetrics()
    name = "to the bind: pinion joint binds at 3 11/16 in droop"
    whole = letters.horizontalAdvance(name)
    assert at_a_word(name, letters, whole) == name
    for room in range(letters.horizontalAdvance("to ..."), whole):
        kept = at_a_word(name, letters, room)
        assert letters.horizontalAdvance(kept) <= room
        assert kept.endswith(" ...")
        assert name.startswith(kept.removesuffix("...")), "whole words"
