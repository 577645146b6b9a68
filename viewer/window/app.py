"""Starting the window: from the command line to the first picture."""

import os
import signal
import sys
from pathlib import Path

from PyQt6.QtCore import QMessageLogContext, QTimer, QtMsgType, qInstallMessageHandler
from PyQt6.QtWidgets import QApplication, QWidget

from viewer.console import note
from viewer.endings import BAD_INPUT, STOPPED
from viewer.rigs import DEMO
from viewer.session.kept.window_state import keep_state, recalled_state
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.work.worker import Worker
from viewer.window.faults import FaultCatcher, FaultMessage
from viewer.window.kit.theme import dress
from viewer.window.main.panels import Maker, Panels, real_panels
from viewer.window.main.window import MainWindow

FIRST_RIG = "long-legged-trail-wagon"
"""What is shown where no rig is named: one that binds."""


def run(name: str | None, worker: Worker) -> int:
    """Show the window on a rig file, or `demo:NAME`, until it is closed; the exit code.

    Raises RigError when the rig cannot be opened.
    """
    document = document_of(name)
    app = _application(worker)
    app.setApplicationName("bindpoint")
    app.setApplicationDisplayName("Bindpoint")
    dress(app)
    catcher = FaultCatcher()
    catcher.install()
    window = open_window(document, worker, catcher)
    QTimer.singleShot(0, window.files.offer_lost)
    catcher.display_lost.connect(lambda: _leave(window, worker))
    signal.signal(signal.SIGINT, lambda *_: _stop(app, window))
    return app.exec()


def _application(worker: Worker) -> QApplication:
    """The application; where there is nothing to show it on, the program ends with one line.

    Qt itself would end it with a fault of the system and lines of its own.
    """

    def hear(kind: QtMsgType, _where: QMessageLogContext, text: str | None) -> None:
        if kind == QtMsgType.QtFatalMsg:
            worker.close()
            reason = " ".join((text or "").split()).partition(". ")[0]
            note(f"bindpoint: the window finds no display ({reason}); expected a desktop")
            os._exit(BAD_INPUT)

    before = qInstallMessageHandler(hear)
    try:
        app = QApplication.instance() or QApplication(sys.argv[:1])
    finally:
        qInstallMessageHandler(before)
    if not isinstance(app, QApplication):
        raise RuntimeError("Qt runs already, without widgets")
    return app


def _leave(window: MainWindow, worker: Worker) -> None:
    """End where the display is gone, before Qt does with a code that means something else."""
    _keep(window)
    worker.close()
    note("bindpoint: the window lost its display; what was not saved is offered at the next start")
    os._exit(BAD_INPUT)


def _keep(window: MainWindow) -> None:
    """Keep what is not saved, as against a crash."""
    window.files.autosave.write()
    window.files.autosave.wait()


def _stop(app: QApplication, window: MainWindow) -> None:
    """End on Ctrl+C; what is not saved is offered at the next start."""
    _keep(window)
    note("bindpoint: stopped")
    app.exit(STOPPED)


def document_of(name: str | None) -> Document:
    """The document that a name on the command line means. Raises RigError."""
    if name is None:
        return Document.demo(FIRST_RIG)
    if name.startswith(DEMO):
        return Document.demo(name.removeprefix(DEMO))
    return Document.open(Path(name))


def open_window(
    document: Document,
    worker: Worker,
    catcher: FaultCatcher,
    panels: Panels[Maker] | None = None,
) -> MainWindow:
    """Show a main window, arranged as the last time."""
    session = Session(document, worker)
    window = MainWindow(session, panels or real_panels())
    window.message = FaultMessage(catcher, window)
    window.closing.connect(lambda: keep_state(window.arrangement()))
    window.arrange(recalled_state().on(_screens(window)))
    window.show()
    return window


def _screens(widget: QWidget) -> list[tuple[int, int, int, int]]:
    frames = [screen.availableGeometry() for screen in QApplication.screens()]
    mine = widget.screen()
    frames.sort(key=lambda frame: mine is None or frame != mine.availableGeometry())
    return [(f.x(), f.y(), f.width(), f.height()) for f in frames]
