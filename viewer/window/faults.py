"""Faults of the program itself: told once, written down, and the window lives on.

Without a hook of our own, an exception in a slot ends the whole program.
"""

import logging
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from logging.handlers import RotatingFileHandler
from pathlib import Path
from traceback import extract_tb
from types import TracebackType

from psygnal import EmitLoopError
from PyQt6.QtCore import (
    QMessageLogContext,
    QObject,
    Qt,
    QtMsgType,
    pyqtSignal,
    qInstallMessageHandler,
)
from PyQt6.QtWidgets import QMessageBox, QWidget

from viewer.fault_log import LOG, log_folder

LOG_SIZE, LOG_FILES = 500_000, 3
"""Bytes of a log file, and how many older ones are kept."""

_LEVELS = {
    QtMsgType.QtDebugMsg: logging.DEBUG,
    QtMsgType.QtInfoMsg: logging.INFO,
    QtMsgType.QtWarningMsg: logging.WARNING,
    QtMsgType.QtCriticalMsg: logging.ERROR,
    QtMsgType.QtFatalMsg: logging.CRITICAL,
}

_BROKE = "connection broke"
"""What Qt says before it ends a program whose X or Wayland server is gone."""

Fault = tuple[type[BaseException], BaseException, TracebackType | None]


class FaultCatcher(QObject):
    """Catches exceptions nobody caught, in slots and in threads, and messages of Qt.

    Signals
    -------
    found : a fault, in words; each fault of the program only the first time it happens.
    display_lost : there is no screen any more; Qt ends the program as soon as this is over.
    """

    found = pyqtSignal(str)
    display_lost = pyqtSignal()

    def __init__(self, folder: Path | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.file = (folder or log_folder()) / LOG
        self._log = logging.Logger("bindpoint.window")
        self._log.addHandler(_handler(self.file))
        self._known: set[tuple[str, str, int]] = set()
        self._before: tuple[Callable[..., object], Callable[..., object]] | None = None

    def install(self) -> None:
        """Catch from now on, until `uninstall`."""
        if self._before is None:
            self._before = (sys.excepthook, threading.excepthook)
            sys.excepthook = self._on_exception
            threading.excepthook = self._on_thread
            qInstallMessageHandler(self._on_message)

    def uninstall(self) -> None:
        """Let others catch as before, and close the log."""
        if self._before is not None:
            sys.excepthook, threading.excepthook = self._before
            self._before = None
            qInstallMessageHandler(None)
        for handler in list(self._log.handlers):
            self._log.removeHandler(handler)
            handler.close()

    def _on_exception(
        self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None
    ) -> None:
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, fault, trace)
            return
        self._log.error("a fault of the program", exc_info=(kind, fault, trace))
        root = _root(fault)
        place = _place(root)
        if place not in self._known:
            self._known.add(place)
            self.found.emit(f"{type(root).__name__}: {root}" if str(root) else type(root).__name__)

    def _on_thread(self, told: threading.ExceptHookArgs) -> None:
        if told.exc_value is not None and not issubclass(told.exc_type, SystemExit):
            self._on_exception(told.exc_type, told.exc_value, told.exc_traceback)

    def _on_message(self, kind: QtMsgType, where: QMessageLogContext, text: str | None) -> None:
        category = where.category or "default"
        self._log.log(_LEVELS.get(kind, logging.WARNING), "Qt (%s): %s", category, text)
        if _BROKE in (text or ""):
            self.display_lost.emit()


class FaultMessage:
    """Tells of faults over a window: one message at a time, which does not hold the program up."""

    def __init__(self, catcher: FaultCatcher, window: QWidget) -> None:
        self._window = window
        self._file = catcher.file
        self._more = 0
        self.box: QMessageBox | None = None
        # Faults of other threads come through the event loop, as `found` belongs to this one.
        catcher.found.connect(self.show)

    def show(self, fault: str) -> None:
        """Show a fault, or count it while a message is up."""
        if self.box is not None:
            self._more += 1
            self.box.setInformativeText(f"{self._advice()} And {self._more} more like it.")
            return
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("A fault in the program")
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setText(f"Bindpoint made a mistake and goes on.\n{fault}")
        box.setInformativeText(self._advice())
        box.setModal(False)
        box.finished.connect(self._on_closed)
        self.box, self._more = box, 0
        box.show()

    def _advice(self) -> str:
        return (
            "What is on the screen may be out of step: save your work and open the rig again. "
            "Do not rely on a result until it has been computed again. "
            f"The details are in {self._file}."
        )

    def _on_closed(self) -> None:
        if self.box is not None:
            self.box.deleteLater()
            self.box = None


class _Quiet(RotatingFileHandler):
    """A log that cannot be written must not become a fault of its own."""

    def handleError(self, record: logging.LogRecord) -> None:
        """Let the line be lost."""


def _handler(file: Path) -> logging.Handler:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handler: logging.Handler = _Quiet(
            file, maxBytes=LOG_SIZE, backupCount=LOG_FILES, encoding="utf-8", errors="replace"
        )
    except OSError:
        handler = logging.NullHandler()
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    return handler


def _root(fault: BaseException) -> BaseException:
    """The fault itself, where a signal of the session has wrapped it."""
    while isinstance(fault, EmitLoopError) and fault.__cause__ is not None:
        fault = fault.__cause__
    return fault


def _place(fault: BaseException) -> tuple[str, str, int]:
    """What makes two faults the same one: their kind and the line they come from."""
    with suppress(IndexError):
        last = extract_tb(fault.__traceback__)[-1]
        return type(fault).__name__, last.filename, last.lineno or 0
    return type(fault).__name__, str(fault), 0
