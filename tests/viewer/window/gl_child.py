"""Opens and closes the real view, and prints what it saw as JSON. Run in a process of its own."""

import gc
import json
import sys
from math import radians
from pathlib import Path

import numpy as np
from PyQt6.QtCore import QEvent, QObject, QPoint, Qt, QTimer
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QLabel, QMainWindow

from tests.viewer.session.at_once import AtOnce
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.view.view3d import View3D

KINDS = {"vtkGenericOpenGLRenderWindow", "vtkOpenGLRenderer", "Actor", "QtInteractor", "View3D"}

ENOUGH, PATIENCE = 12, 300
"""Numbers seen painted, and tenths of a second to wait for them on a machine that is busy."""


def held() -> int:
    """How many objects of VTK and of the view are alive."""
    gc.collect()
    return sum(type(each).__name__ in KINDS for each in gc.get_objects())


def settle(program: QApplication) -> None:
    """Let events and deletions happen."""
    for _ in range(5):
        program.processEvents()
        program.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


class Painted(QObject):
    """Notes of which pose the drawing was whenever a number was painted, and the number."""

    def __init__(self, session: Session, number: QLabel, drawing: QObject) -> None:
        super().__init__()
        self.session, self.number, self.drawing = session, number, drawing
        self.drawn = ""
        self.pairs: list[tuple[str, str]] = []
        for each in (number, drawing):
            each.installEventFilter(self)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Note it."""
        if event is not None and event.type() == QEvent.Type.Paint:
            if watched is self.drawing:
                self.drawn = says(self.session)
            else:
                self.pairs.append((self.number.text(), self.drawn))
        return False


def says(session: Session) -> str:
    """The axle height as a number."""
    return f"{session.motion.at.travel:.3f}"


def while_driving(view: View3D, number: QLabel) -> list[tuple[str, str]]:
    """Number and drawing as they are seen together while a drive plays."""
    session = view.session
    session.posed.connect(lambda: number.setText(says(session)))
    notes = Painted(session, number, view.drawing.widget)
    clock = QTimer()
    clock.timeout.connect(lambda: session.motion.advance(0.03))
    clock.start(30)
    for _ in range(PATIENCE):
        if session.motion.drive is None:
            session.motion.play(DRIVES["droop"])
        QTest.qWait(100)
        if len(notes.pairs) > ENOUGH:
            break
    clock.stop()
    session.motion.stop()
    return notes.pairs[1:]


def once(program: QApplication, rig: Path) -> dict[str, object]:
    """Open, look, pick, close."""
    session = Session(Document.open(rig), AtOnce())
    window = QMainWindow()
    view = View3D(session)
    window.setCentralWidget(view)
    number = QLabel("at ride")
    window.statusBar().addWidget(number)
    window.resize(640, 480)
    window.show()
    settle(program)
    first = view.snapshot()
    session.tick()
    while session.idle():
        pass
    pairs = while_driving(view, number)
    session.motion.go(travel=-100.0, spin=radians(40.0))
    settle(program)
    second = view.snapshot()
    widget, stage = view.drawing.widget, view.drawing.stage
    # Click on the middle of the tube, where the stage says that it is seen.
    frames = view.scene.frames
    ends = np.stack([frames["shaft"][:3, 3], frames["pinion shaft yoke"][:3, 3]])
    x, y = stage.project(0.35 * ends[0] + 0.65 * ends[1])
    picked: list[str] = []
    view.picked.connect(lambda name, _: picked.append(name))
    place = QPoint(
        round(x / stage.size[0] * widget.width()),
        round((1.0 - y / stage.size[1]) * widget.height()),
    )
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=place)
    seen = {
        "ratio": widget.devicePixelRatioF(),
        "widget": [widget.width(), widget.height()],
        "stage": list(stage.size),
        "picture": list(second.shape),
        "colours": [len(np.unique(each.reshape(-1, 3), axis=0)) for each in (first, second)],
        "changed": bool((first != second).any()),
        "picked": picked,
        "seen together": pairs,
    }
    view.shut()
    window.close()
    window.deleteLater()
    session.close()
    settle(program)
    return seen


def main() -> None:
    """Twice, since what leaks shows the second time."""
    program = QApplication(sys.argv[:1])
    rig = Path(sys.argv[1])
    seen = [once(program, rig)]
    settle(program)
    first = held()
    seen.append(once(program, rig))
    settle(program)
    print(json.dumps({"seen": seen, "held": [first, held()]}))  # noqa: T201


if __name__ == "__main__":
    main()
