"""The pages of help tell the cautions whole and every key of the window."""

from pathlib import Path

import pytest
from PyQt6.QtCore import Qt, QUrl
from PyQt6.QtGui import QAction, QDesktopServices
from PyQt6.QtWidgets import QMainWindow, QMenu
from pytestqt.qtbot import QtBot

from viewer.window.main.about import CAUTIONS, LICENCE, NOT_DONE, show_about, show_keys
from viewer.words.verdicts import CAUTION


@pytest.fixture
def window(qtbot: QtBot) -> QMainWindow:
    window = QMainWindow()
    qtbot.addWidget(window)
    bar = window.menuBar()
    assert bar is not None
    menu = bar.addMenu("&Rig")
    assert menu is not None
    for text, keys in (("&Open ...", "Ctrl+O"), ("Bump && droop", "Ctrl+1"), ("&Plain", "")):
        action = QAction(text, window)
        action.setShortcut(keys)
        menu.addAction(action)
    aside = QMenu("&Parts of the view", window)
    aside.addAction("Hidden")
    loose = QAction("&Elsewhere known", window)
    loose.setShortcut("F9")
    window.addAction(loose)
    return window


def test_the_cautions_are_told_in_full(
    window: QMainWindow, qtbot: QtBot, state_here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = show_about(window)
    text = " ".join(page.page.toPlainText().split())
    assert CAUTION in text
    for each in (*CAUTIONS, *NOT_DONE, LICENCE):
        assert each in text
    assert str(state_here / "log") in text
    opened: list[QUrl] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url) or True)
    buttons = [each for each in page.buttons.buttons() if "log" in each.text()]
    buttons[0].click()
    assert opened == [QUrl.fromLocalFile(str(state_here / "log"))]
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert not page.isVisible()


def test_every_action_is_listed_with_its_key(window: QMainWindow) -> None:
    page = show_keys(window)
    lines = page.page.toPlainText().split("\n")
    text = " ".join(lines)
    for keys, what in (("Ctrl+O", "Open"), ("Ctrl+1", "Bump & droop"), ("F9", "Elsewhere known")):
        assert keys in text
        assert what in text
    assert "in the menu" in text
    assert "Turn the view" in text
    assert "..." not in text
    assert "Hidden" not in text, "what a panel offers by its own menu"
    page.close()
