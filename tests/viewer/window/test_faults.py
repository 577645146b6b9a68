"""A fault in a slot is told once and written down, and the window works on."""

import logging
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from psygnal import Signal
from PyQt6.QtCore import qWarning
from PyQt6.QtWidgets import QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from viewer.window.faults import LOG_FILES, LOG_SIZE, FaultCatcher, FaultMessage


class Speaker:
    said = Signal()


class Faulty(QWidget):
    """A window with one slot that works and others that do not."""

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        self.good, self.bad, self.worse = (QPushButton(text) for text in ("good", "bad", "worse"))
        for each in (self.good, self.bad, self.worse):
            column.addWidget(each)
        self.count = 0
        self.speaker = Speaker()
        self.speaker.said.connect(self._fail)
        self.good.clicked.connect(self._work)
        self.bad.clicked.connect(self._fail)
        self.worse.clicked.connect(self._fail_differently)

    def _work(self) -> None:
        self.count += 1

    def _fail(self) -> None:
        raise ValueError("the slot is out of order \N{EM DASH} really")

    def _fail_differently(self) -> None:
        raise KeyError("another")


@pytest.fixture
def window(qtbot: QtBot) -> Faulty:
    widget = Faulty()
    qtbot.addWidget(widget)
    widget.show()
    return widget


@pytest.fixture
def catcher(qtbot: QtBot, tmp_path: Path) -> Iterator[FaultCatcher]:  # noqa: ARG001
    before = sys.excepthook, threading.excepthook
    made = FaultCatcher(tmp_path / "log")
    made.install()
    yield made
    made.uninstall()
    assert (sys.excepthook, threading.excepthook) == before


def test_a_slot_that_raises_is_told_and_the_window_works(
    window: Faulty, catcher: FaultCatcher
) -> None:
    message = FaultMessage(catcher, window)
    window.bad.click()
    assert message.box is not None
    assert message.box.isVisible()
    assert "the slot is out of order" in message.box.text()
    assert str(catcher.file) in message.box.informativeText()
    window.good.click()
    assert window.count == 1, "the message does not hold up the window"
    log = catcher.file.read_text(encoding="utf-8")
    assert "ValueError: the slot is out of order \N{EM DASH} really" in log
    assert "_fail" in log, "the way to the fault"
    message.box.accept()
    assert message.box is None


def test_many_faults_make_one_message(window: Faulty, catcher: FaultCatcher) -> None:
    message = FaultMessage(catcher, window)
    for _ in range(50):
        window.bad.click()
    box = message.box
    window.worse.click()
    assert message.box is box
    assert box is not None
    assert "1 more" in box.informativeText()
    box.accept()
    window.bad.click()
    assert message.box is None, "a known fault is not told again"
    assert catcher.file.read_text(encoding="utf-8").count("Traceback") == 52


def test_a_fault_behind_a_signal_of_the_session_is_told_by_its_own_name(
    window: Faulty, catcher: FaultCatcher
) -> None:
    message = FaultMessage(catcher, window)
    window.good.clicked.connect(window.speaker.said.emit)
    window.good.click()
    assert message.box is not None
    assert "ValueError: the slot is out of order" in message.box.text()


def test_a_fault_in_a_thread_is_told_in_the_window(
    window: Faulty, catcher: FaultCatcher, qtbot: QtBot
) -> None:
    message = FaultMessage(catcher, window)
    thread = threading.Thread(target=window._fail)
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: message.box is not None)
    assert message.box is not None
    assert message.box.thread() == window.thread(), "widgets belong to the window's own thread"
    assert "out of order" in catcher.file.read_text(encoding="utf-8")


def test_messages_of_qt_go_to_the_log(catcher: FaultCatcher) -> None:
    qWarning("a warning of the toolkit")
    assert "a warning of the toolkit" in catcher.file.read_text(encoding="utf-8")


def test_the_log_turns_over(catcher: FaultCatcher) -> None:
    for _ in range(12):
        qWarning("x" * (LOG_SIZE // 2))
    files = sorted(catcher.file.parent.iterdir())
    assert len(files) == 1 + LOG_FILES
    assert all(file.stat().st_size < 1.1 * LOG_SIZE for file in files)


def test_a_log_that_cannot_be_written_is_done_without(
    window: Faulty,
    tmp_path: Path,
) -> None:
    (tmp_path / "file").touch()
    catcher = FaultCatcher(tmp_path / "file" / "log")
    catcher.install()
    message = FaultMessage(catcher, window)
    window.bad.click()
    catcher.uninstall()
    assert message.box is not None


def test_it_uses_a_log_of_its_own(catcher: FaultCatcher) -> None:
    assert catcher._log not in logging.Logger.manager.loggerDict.values()
