"""What a rig says is shown as it is, never as a page."""

from collections.abc import Callable

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QLabel, QMessageBox, QWidget
from pytestqt.qtbot import QtBot

from viewer.window.kit.asker import Dialogs
from viewer.window.kit.plain_label import PlainLabel, plain_tip
from viewer.window.main.window import MainWindow


def test_no_label_of_the_window_guesses_at_its_format(make: Callable[..., MainWindow]) -> None:
    window = make()
    window.session.document.set({"name": "<h1>CLEAR</h1><img src='x'>"})
    guessing = [
        label.text()
        for label in window.findChildren(QLabel)
        if label.textFormat() == Qt.TextFormat.AutoText and label.text()
    ]
    assert guessing == []
    rich = [
        label.text()
        for label in window.findChildren(QLabel)
        if label.textFormat() == Qt.TextFormat.RichText
    ]
    assert not any("<h1>" in text for text in rich)


def test_a_label_and_a_tip_show_what_they_are_given(qtbot: QtBot) -> None:
    label = PlainLabel("<b>CLEAR</b>")
    qtbot.addWidget(label)
    assert label.textFormat() == Qt.TextFormat.PlainText
    assert plain_tip("3 deg & more") == "3 deg & more"
    assert plain_tip("<b>CLEAR</b>") == "<qt>&lt;b&gt;CLEAR&lt;/b&gt;</qt>"


def test_a_question_shows_what_it_is_given(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    seen = []

    def look(box: QMessageBox) -> int:
        seen.append((box.text(), box.textFormat()))
        return 0

    monkeypatch.setattr(QMessageBox, "exec", look)
    Dialogs(window).tell("Told", "<b>CLEAR</b>")
    Dialogs(window).choose("Asked", "<b>CLEAR</b>", (), "back")
    assert seen == [("<b>CLEAR</b>", Qt.TextFormat.PlainText)] * 2
