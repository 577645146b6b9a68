"""Opens the customer view over the whole window a few times; prints how long each took, s."""

import json
import sys
from pathlib import Path
from time import perf_counter

from PyQt6.QtCore import QEvent, QObject
from PyQt6.QtWidgets import QApplication

from tests.viewer.session.at_once import AtOnce
from tests.viewer.window.gl_child import settle
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.customer.view import CustomerView
from viewer.window.main.panels import real_panels
from viewer.window.main.window import MainWindow
from viewer.window.view.late_view import LateView

TIMES = 3


class Seen(QObject):
    """Notes when the picture was painted with everything in it."""

    def __init__(self, program: QApplication, view: CustomerView) -> None:
        super().__init__()
        self._view, self.at = view, 0.0
        program.installEventFilter(self)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Note it."""
        view = self._view.pictures.view
        if event is not None and event.type() == QEvent.Type.Paint and watched is view._widget:
            whole = view.width() > 0.5 * self._view.width() and not view.scene.has_work
            self.at = perf_counter() if whole else 0.0
        return False


def opened(program: QApplication, window: MainWindow) -> float:
    """s from when it is asked for until all of it is seen."""
    start = perf_counter()
    window._show_customer()
    shown = window._shown
    assert isinstance(shown, CustomerView)
    seen = Seen(program, shown)
    while not seen.at:
        program.processEvents()
    took = perf_counter() - start  # with the drawing, which follows the event
    program.removeEventFilter(seen)
    shown.close()
    settle(program)
    return took


def main(rig: Path) -> None:
    program = QApplication([])
    session = Session(Document.open(rig), AtOnce())
    window = MainWindow(session, real_panels(), Scripted())
    window.resize(1400, 900)
    window.show()
    session.tick()
    view = window.panels.view
    assert isinstance(view, LateView)
    while view.view is None or view.view.scene.has_work or session.idle():
        program.processEvents()
    settle(program)
    took = [opened(program, window) for _ in range(TIMES)]
    sys.stdout.write(json.dumps({"seconds": took}) + "\n")
    window.close()
    settle(program)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
