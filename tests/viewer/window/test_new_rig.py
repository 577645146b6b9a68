"""A new rig comes from a demo or from the questions; dialogs answer what was clicked."""

from collections.abc import Callable

import pytest
from PyQt6.QtCore import Qt, QTimer
from PyQt6.QtWidgets import QApplication, QDialog, QMessageBox, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sim.rig import Problem
from sim.rig.demos import demo_names
from viewer.window.kit.asker import BACK, Answer, Dialogs, ProblemsDialog
from viewer.window.rig import new_rig
from viewer.window.rig.new_rig import QUESTIONS, NewRig, ask_new_rig
from viewer.window.rig.questions import Questions, ask_questions


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()
    return widget


def soon(act: Callable[[QWidget], None]) -> None:
    """Act on the dialog that opens next."""

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if dialog is None:
            QTimer.singleShot(5, look)
        else:
            act(dialog)

    QTimer.singleShot(0, look)


def button(dialog: QWidget, word: str) -> QPushButton:
    return next(each for each in dialog.findChildren(QPushButton) if word in each.text())


ANSWERS = (Answer("save", "&Save", "Writes it."), Answer("lose", "&Lose it", "Gone."), BACK)


@pytest.mark.parametrize(("word", "key"), [("Save", "save"), ("Lose", "lose"), ("back", "back")])
def test_the_button_clicked_is_the_answer(window: QWidget, word: str, key: str) -> None:
    soon(lambda dialog: button(dialog, word).click())
    assert Dialogs(window).choose("Title", "What now?", ANSWERS, "back") == key


@pytest.mark.parametrize(
    ("key", "answer"), [(Qt.Key.Key_Escape, "back"), (Qt.Key.Key_Return, "save")]
)
def test_escape_goes_back_and_enter_takes_the_first(
    window: QWidget, qtbot: QtBot, key: Qt.Key, answer: str
) -> None:
    soon(lambda dialog: qtbot.keyClick(dialog, key))
    assert Dialogs(window).choose("Title", "What now?", ANSWERS, "back") == answer


def test_enter_that_meets_a_question_nobody_called_for_changes_nothing(
    window: QWidget, qtbot: QtBot
) -> None:
    soon(lambda dialog: qtbot.keyClick(dialog, Qt.Key.Key_Return))
    assert Dialogs(window).choose("Title", "What now?", ANSWERS, "back", uncalled=True) == "back"


def test_telling_waits_until_it_is_read(window: QWidget) -> None:
    read: list[str] = []

    def close(dialog: QWidget) -> None:
        assert isinstance(dialog, QMessageBox)
        read.append(dialog.text())
        dialog.accept()

    soon(close)
    Dialogs(window).tell("Title", "It could not be written.")
    assert read == ["It could not be written."]


def test_problems_are_listed_with_all_there_is_to_know(window: QWidget) -> None:
    problems = [
        Problem(f"travel.row{n}", '"8 parsecs"', "a length", "an unknown unit", "/a/b/bad.toml")
        for n in range(60)
    ]
    seen: list[list[str]] = []

    def read(dialog: QWidget) -> None:
        assert isinstance(dialog, ProblemsDialog)
        table = dialog.table
        for row in range(table.rowCount()):
            cells = [table.item(row, place) for place in range(4)]
            seen.append([cell.text() for cell in cells if cell is not None])
        dialog.reject()

    soon(read)
    Dialogs(window).list_problems("Title", "Everything wrong:", problems)
    assert len(seen) == 60
    assert seen[7] == ["bad.toml", "travel.row7", '"8 parsecs" (an unknown unit)', "a length"]


def test_every_demo_rig_can_be_started_from(window: QWidget) -> None:
    for row, name in enumerate(demo_names()):

        def start(dialog: QWidget, row: int = row) -> None:
            assert isinstance(dialog, NewRig)
            assert dialog.list.count() == len(demo_names())
            dialog.list.setCurrentRow(row)
            assert "(invented)" in dialog.list.item(row).text()  # type: ignore[union-attr]
            button(dialog, "Start").click()

        soon(start)
        document = ask_new_rig(window)
        assert document is not None
        assert (document.name, document.path, document.is_dirty) == (name, None, False)


def test_going_back_starts_nothing(window: QWidget, monkeypatch: pytest.MonkeyPatch) -> None:
    soon(lambda dialog: button(dialog, "back").click())
    assert ask_new_rig(window) is None
    monkeypatch.setattr(new_rig, "ask_questions", lambda _: None)
    soon(lambda dialog: button(dialog, "questions").click())
    assert ask_new_rig(window) is None
    assert QUESTIONS not in (QDialog.DialogCode.Accepted, QDialog.DialogCode.Rejected)


def ready(dialog: Questions, asked: str) -> bool:
    return dialog.next.isEnabled() and asked in dialog.question.text()


def test_questions_can_be_answered_stepped_back_and_explained(qtbot: QtBot) -> None:
    dialog = Questions()
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.waitUntil(lambda: ready(dialog, "What is the rig called?"))
    assert "weight on its wheels" in dialog.help.text()
    assert "quit" not in dialog.help.text(), "there are buttons"
    assert "[" not in dialog.question.text()
    assert dialog.line.placeholderText() == "Unnamed rig"
    qtbot.keyClicks(dialog.line, "Old wagon")
    qtbot.keyClick(dialog.line, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: ready(dialog, "Who measured it"))
    dialog.back.click()
    qtbot.waitUntil(lambda: ready(dialog, "What is the rig called?"))
    dialog.more.click()
    qtbot.waitUntil(lambda: ready(dialog, "What is the rig called?"))
    for _ in range(4):
        asked = dialog.question.text()
        dialog.next.click()
        qtbot.waitUntil(lambda asked=asked: ready(dialog, "") and dialog.question.text() != asked)
    dialog.line.setText("four shoes")
    dialog.next.click()
    qtbot.waitUntil(lambda: ready(dialog, "shaft's length"))
    assert "four shoes" in dialog.page.toPlainText()
    assert "What is the rig called?  Old wagon" in dialog.page.toPlainText()
    dialog.reject()
    assert dialog.rig is None
    assert not dialog._talk._thread.is_alive()


ANSWERED = {
    "called": "Old wagon",
    "How does the output point": "3 deg down",
    "How long is the shaft": "36 5/16 in",
    "How does the shaft point": "14 deg down",
    "How does the pinion point": "1 deg up",
}


def test_answers_make_a_rig(window: QWidget, qtbot: QtBot) -> None:
    """Whatever has no default is answered; the rest is taken as the line shows it."""

    def talk(dialog: QWidget) -> None:
        assert isinstance(dialog, Questions)
        for _ in range(200):
            qtbot.waitUntil(lambda: dialog.next.isEnabled() or not dialog.isVisible())
            if not dialog.isVisible():
                return
            asked = dialog.question.text()
            known = [answer for words, answer in ANSWERED.items() if words in asked]
            default = "" if dialog._usual else "4 in"
            dialog.line.setText(known[0] if known else default)
            dialog.next.click()

    soon(talk)
    rig = ask_questions(window)
    assert rig is not None
    assert rig.name == "Old wagon"
    assert rig.travel.droop.mm == pytest.approx(101.6, abs=1e-9)
