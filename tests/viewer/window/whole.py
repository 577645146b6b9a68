"""The main window with all its panels but a stand-in for the view, for tests of the whole."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.viewer.window.scripted import Scripted
from viewer.session.kept.window_state import recalled_state
from viewer.session.session import Session
from viewer.window.main.panels import Maker, Panels, real_panels
from viewer.window.main.window import MainWindow

Opening = Callable[..., Session]
Widget = TypeVar("Widget", bound=QWidget)

RIG = "long-legged-trail-wagon"
CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


class StubView(QWidget):
    """In the place of the view: takes the focus, and knows whether it was let go."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.was_shut = 0
        self.looked: list[str] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def look_at(self, view: str) -> None:
        self.looked.append(view)

    def shut(self) -> None:
        self.was_shut += 1


def shown(qtbot: QtBot, panel: Widget, wide: int, high: int) -> Widget:
    """A panel by itself, on the screen and as large as that, px."""
    qtbot.addWidget(panel)
    panel.resize(wide, high)
    panel.show()
    return panel


def panels() -> Panels[Maker]:
    return replace(real_panels(), view=StubView)


@pytest.fixture
def make(qtbot: QtBot, open_rig: Opening) -> Iterator[Callable[..., MainWindow]]:
    made: list[MainWindow] = []

    def making(*answers: str | Path | None, rig: str = RIG, **more: object) -> MainWindow:
        window = MainWindow(open_rig(rig), panels(), Scripted(*answers), **more)  # type: ignore[arg-type]
        made.append(window)
        window.arrange(recalled_state())
        window.show()
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        return window

    yield making
    for window in made:
        window.session.document.undo()
        window.files._ask = Scripted(*9 * ["throw away"])
        window.close()
        window.deleteLater()


def wanting(window: MainWindow, droop: str = "6 in") -> None:
    window.session.document.set({"travel.droop": droop}, "less droop")
