"""Typing on the sheet changes the rig file, and the rig file changes the sheet."""

from collections.abc import Callable

import pytest
from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QWheelEvent
from PyQt6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QMainWindow,
    QPushButton,
)
from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted
from tests.viewer.window.keys import press, write
from viewer.session.session import Session
from viewer.session.sheet.edits import add
from viewer.session.sheet.sheet import sheet
from viewer.session.text.document import Document
from viewer.window.rig.field_row import FieldRow
from viewer.window.rig.panel import RigPanel

WAGON = "long-legged-trail-wagon"


@pytest.fixture
def opened(qtbot: QtBot, worker: Scripted) -> Callable[..., RigPanel]:
    """Opens the panel on a demo rig; nothing is computed."""

    def opening(name: str = WAGON, alone: bool = True) -> RigPanel:
        panel = RigPanel(Session(Document.demo(name), worker))
        if alone:
            qtbot.addWidget(panel)
        panel.resize(420, 900)
        panel.show()
        return panel

    return opening


def editor(panel: RigPanel, key: str) -> QLineEdit:
    found = panel.row(key).findChildren(QLineEdit)
    return found[0]


def type_text(panel: RigPanel, key: str, text: str) -> QLineEdit:
    line = editor(panel, key)
    line.setFocus()
    line.selectAll()
    write(line, text)
    return line


def test_what_is_typed_is_taken_after_a_pause(
    opened: Callable[..., RigPanel], qtbot: QtBot
) -> None:
    panel = opened()
    document = panel.session.document
    line = type_text(panel, "travel.droop", "7 1/2 in")
    assert document.typed("travel.droop") == "9 in"
    with qtbot.waitSignal(panel.row("travel.droop").typed):
        pass
    assert document.typed("travel.droop") == "7 1/2 in"
    assert line.text() == "7 1/2 in"
    assert line is editor(panel, "travel.droop")


def test_enter_takes_it_at_once(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    press(type_text(panel, "travel.droop", '7 1/2"'), Qt.Key.Key_Return)
    assert panel.session.document.typed("travel.droop") == '7 1/2"'


def test_a_refresh_leaves_the_cursor_where_it_is(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    line = type_text(panel, "travel.droop", "7 1/2 in")
    line.setCursorPosition(1)
    panel.session.document.set({"travel.bump": "3 in"})
    assert line.text() == "7 1/2 in"
    assert line.cursorPosition() == 1
    assert panel.focusWidget() is line
    panel.flush()
    assert line.cursorPosition() == 1
    assert panel.session.document.typed("travel.droop") == "7 1/2 in"
    assert editor(panel, "travel.bump").text() == "3 in"


def test_what_is_wrong_stands_beside_it_and_the_old_answer_is_stale(
    opened: Callable[..., RigPanel],
) -> None:
    panel = opened()
    type_text(panel, "travel.droop", "6 furlongs")
    panel.flush()
    row = panel.row("travel.droop")
    assert row.wrong.isVisible()
    assert "6 furlongs" in row.wrong.text()
    assert "furlongs" in editor(panel, "travel.droop").accessibleDescription()
    assert panel.session.answers.state == "none"
    assert not panel.row("travel.bump").wrong.isVisible()
    panel.session.document.undo()
    assert not row.wrong.isVisible()
    assert editor(panel, "travel.droop").text() == "9 in"


def test_pauses_while_typing_make_one_step_and_leaving_the_row_ends_it(
    opened: Callable[..., RigPanel],
) -> None:
    panel = opened()
    document = panel.session.document
    line = type_text(panel, "travel.droop", "8")
    row = panel.row("travel.droop")
    row._on_pause()
    write(line, " in")
    row._on_pause()
    assert document.typed("travel.droop") == "8 in"
    press(line, Qt.Key.Key_Return)
    type_text(panel, "travel.droop", "7 in")
    row.flush()
    document.undo()
    assert document.typed("travel.droop") == "8 in"
    document.undo()
    assert document.typed("travel.droop") == "9 in"
    assert not document.is_dirty


def test_what_says_something_for_other_rigs_only_is_not_asked(
    opened: Callable[..., RigPanel],
) -> None:
    panel = opened()

    def keys() -> set[str]:
        return {key for row in panel._rows.values() for key in (row.field.key,)}

    only_in_front = {"axle.caster", "axle.hubs"}
    assert not keys() & {*only_in_front, "shaft.output_end.head"}
    panel.session.document.set({"axle.position": "front"})
    assert only_in_front <= keys()
    panel.session.document.set({"axle.position": "rear", "axle.caster": "5 deg"})
    assert keys() & only_in_front == {"axle.caster"}, "what is typed is shown, and told wrong"
    panel.session.document.set({"shaft.output_end.joint": "double"})
    assert "shaft.output_end.head" in keys()


def test_wrap_worked_out_starts_with_what_is_known(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    document = panel.session.document
    add(document, next(g for g in sheet(document) if g.key == "wrap"))
    assert document.typed("wrap.before.points_up") == document.typed("axle.points_up") == "1 deg"
    assert document.typed("wrap.drive.engine_torque") == "260 lb-ft"
    assert document.typed("travel.nose_up") is None
    assert {p.key for p in document.problems} >= {"wrap.under_torque"}
    document.set({"wrap.under_torque.points_up": "4 deg", "wrap.pull": "200 lb"})
    document.set({"wrap.arm": "60 in"})
    assert document.is_right, document.problems


def test_undo_and_redo_act_on_the_document_wherever_the_focus_is(
    opened: Callable[..., RigPanel], qtbot: QtBot
) -> None:
    """As in the main window: the action has the key, the line being typed in gives it up."""
    panel = opened(alone=False)
    document = panel.session.document
    window = QMainWindow()
    qtbot.addWidget(window)
    window.setCentralWidget(panel)
    bar = window.menuBar()
    assert bar is not None
    menu = bar.addMenu("Edit")
    assert menu is not None
    for key, does in (("Ctrl+Z", document.undo), ("Ctrl+Shift+Z", document.redo)):
        action = menu.addAction(key)
        assert action is not None
        action.setShortcut(key)
        action.triggered.connect(lambda _=False, does=does: does())
    window.show()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    line = type_text(panel, "travel.droop", "7 in")
    press(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert document.typed("travel.droop") == "9 in"
    assert line.text() == "9 in"
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    press(line, Qt.Key.Key_Z, both)
    assert document.typed("travel.droop") == "7 in"
    assert line.text() == "7 in"


def test_an_assumed_value_looks_it_and_becomes_typed_by_one_press(
    opened: Callable[..., RigPanel],
) -> None:
    panel = opened()
    row = panel.row("wanted.bend")
    for fold in panel._folds:
        fold.open(True)
    line = editor(panel, "wanted.bend")
    assert line.text() == ""
    assert line.placeholderText() == "2 deg"
    assert line.font().italic()
    assert isinstance(row.name, QLabel)
    assert row.name.text().endswith("assumed")
    assert row.keep.isVisible()
    row.keep.click()
    assert panel.session.document.typed("wanted.bend") == "2 deg"
    assert line.text() == "2 deg"
    assert not line.font().italic()
    assert not row.keep.isVisible()


def test_a_point_is_typed_as_three_numbers(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    lines = panel.row("output.joint").findChildren(QLineEdit)
    assert [line.text() for line in lines] == ["47 in", "0 in", "10 in"]
    assert [line.accessibleName() for line in lines] == [
        f"joint center, {way}" for way in ("forward", "left", "up")
    ]
    lines[2].setFocus()
    lines[2].selectAll()
    write(lines[2], "9 1/2 in")
    panel.flush()
    assert panel.session.document.typed("output.joint") == ["47 in", "0 in", "9 1/2 in"]


def test_the_other_way_to_say_it_is_chosen_beside_the_number(
    opened: Callable[..., RigPanel],
) -> None:
    panel = opened()
    box = panel.row("output.points_down").name
    assert isinstance(box, QComboBox)
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert panel.session.document.typed("output.points_up") == "3 deg"
    assert panel.session.document.typed("output.points_down") is None


def test_a_choice_is_taken_at_once(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    box = panel.row("shaft.output_end.cross").findChild(QComboBox)
    assert box is not None
    assert "(1310)" in box.itemText(box.findData("27 x 82"))
    place = box.findData("30 x 92")
    box.setCurrentIndex(place)
    box.activated.emit(place)
    assert panel.session.document.typed("shaft.output_end.cross") == "30 x 92"
    assert box.currentText() == "30 x 92"


def test_another_kind_of_suspension_brings_its_own_rows(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    box = panel.row("suspension.kind").findChild(QComboBox)
    assert box is not None
    place = box.findData("links")
    box.setCurrentIndex(place)
    box.activated.emit(place)
    assert panel.session.document.is_right
    check = panel.row("suspension.links[1].mirrored").findChild(QCheckBox)
    assert check is not None
    assert check.isChecked()
    panel.session.document.undo()
    assert editor(panel, "suspension.kind").text() == "leaf"


def test_tables_are_added_and_taken_away(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    fold = next(each for each in panel._folds if each.group.key == "surroundings")
    button = next(b for b in fold.findChildren(QPushButton) if b.text() == "Add")
    button.click()
    assert len(panel.session.document.rig.surroundings) == 2
    fold = next(each for each in panel._folds if each.group.key == "surroundings[2]")
    next(b for b in fold.findChildren(QPushButton) if b.text() == "Take away").click()
    assert len(panel.session.document.rig.surroundings) == 1


def test_a_measurement_is_found_by_its_words(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    write(panel.seek, "droop")
    assert panel.row("travel.droop").isVisible()
    assert not panel.row("travel.roll").isVisible()
    assert not panel.row("shaft.tube.wall").isVisible()
    panel.seek.clear()
    assert panel.row("travel.roll").isVisible()


def test_the_wheel_chooses_nothing(opened: Callable[..., RigPanel]) -> None:
    """A box leaves the wheel to the sheet, which scrolls."""
    panel = opened()
    text = panel.session.document.text
    for box in panel.findChildren(QComboBox):
        middle = QPointF(box.rect().center())
        turned = QWheelEvent(
            middle,
            QPointF(box.mapToGlobal(box.rect().center())),
            QPoint(),
            QPoint(0, -120),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        before = box.currentText()
        QApplication.sendEvent(box, turned)
        assert not turned.isAccepted()
        assert box.currentText() == before
    assert panel.session.document.text == text


def test_groups_fold_and_stay_so(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    fold = next(each for each in panel._folds if each.group.key == "travel")
    title = fold.title
    assert fold.is_open
    press(title, Qt.Key.Key_Space)
    assert not panel.row("travel.droop").isVisible()
    panel.session.document.set({"suspension": {"kind": "vertical"}})
    assert not panel.row("travel.droop").isVisible()


def test_help_on_the_measurement_with_the_cursor_stands_at_the_foot(
    opened: Callable[..., RigPanel], qtbot: QtBot
) -> None:
    panel = opened()
    panel.activateWindow()
    with qtbot.waitActive(panel):
        pass
    panel.row("travel.droop").focus()
    assert panel.said.text().startswith("droop: How far the axle hangs down")
    for fold in panel._folds:
        fold.open(True)
    panel.row("wanted.bend").focus()
    assert "Assumed 2 deg" in panel.said.text()


def test_another_document_shows_its_own_numbers(
    opened: Callable[..., RigPanel], qtbot: QtBot
) -> None:
    panel = opened()
    panel.session.open(Document.demo("marsh-runner"))
    qtbot.waitUntil(lambda: bool(panel.findChildren(FieldRow)))
    assert editor(panel, "travel.droop").text() == "7 in"
    type_text(panel, "travel.droop", "6 in")
    panel.flush()
    assert panel.session.document.typed("travel.droop") == "6 in"


def test_what_is_being_typed_is_not_lost_on_closing(opened: Callable[..., RigPanel]) -> None:
    panel = opened()
    type_text(panel, "travel.droop", "7 in")
    panel.close()
    assert panel.session.document.typed("travel.droop") == "7 in"


def test_every_control_has_a_name(opened: Callable[..., RigPanel]) -> None:
    panel = opened("river-bend-hauler")
    for kind in (QLineEdit, QComboBox, QCheckBox, QPushButton):
        for control in panel.findChildren(kind):
            inner = isinstance(control.parent(), QComboBox)
            assert inner or control.accessibleName(), control
