"""Moves the axle through the touch in a whole window; prints how long each step took, s."""

import json
import sys
from pathlib import Path
from time import perf_counter, process_time

import numpy as np
from PyQt6.QtCore import QEvent, QObject
from PyQt6.QtWidgets import QApplication

from tests.viewer.session.at_once import AtOnce
from tests.viewer.window.gl_child import settle
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.main.panels import real_panels
from viewer.window.main.window import MainWindow
from viewer.window.view.late_view import LateView
from viewer.window.view.view3d import View3D

STEPS = 24


class Painted(QObject):
    """Notes whether the drawing of a view was painted."""

    def __init__(self, program: QApplication, view: View3D) -> None:
        super().__init__()
        self._view, self.done = view, False
        program.installEventFilter(self)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Note it."""
        if event is not None and event.type() == QEvent.Type.Paint:
            self.done |= watched is self._view._widget
        return False


def main(rig: Path) -> None:
    program = QApplication([])
    session = Session(Document.open(rig), AtOnce())
    window = MainWindow(session, real_panels(), Scripted())
    window.resize(1600, 1000)
    window.show()
    session.tick()
    late = window.panels.view
    assert isinstance(late, LateView)
    while late.view is None or late.view.scene.has_work or session.idle():
        program.processEvents()
    settle(program)
    painted = Painted(program, late.view)
    low = session.motion.bounds("travel")[0]
    took, used = [], []
    for share in np.linspace(0.3, 1.0, STEPS):
        painted.done = False
        start, before = perf_counter(), process_time()
        session.motion.go(travel=share * low, spin=0.4)
        while not painted.done:
            program.processEvents()
        took.append(perf_counter() - start)
        used.append(process_time() - before)
    program.removeEventFilter(painted)
    told = {"seconds": took, "of all cores": used, "size": list(late.view.drawing.stage.size)}
    sys.stdout.write(json.dumps(told) + "\n")
    window.close()
    settle(program)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
