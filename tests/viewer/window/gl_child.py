"""Opens and closes the real view, and prints what it saw as JSON. Run in a process of its own."""

import gc
import json
import sys
from math import radians
from pathlib import Path

import numpy as np
from PyQt6.QtCore import QEvent, QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QMainWindow

from viewer.session.document import Document
from viewer.session.session import Session
from viewer.session.worker import AtOnce
from viewer.window.view3d import View3D

KINDS = {"vtkGenericOpenGLRenderWindow", "vtkOpenGLRenderer", "Actor", "QtInteractor", "View3D"}


def held() -> int:
    """How many objects of VTK and of the view are alive."""
    gc.collect()
    return sum(type(each).__name__ in KINDS for each in gc.get_objects())


def settle(program: QApplication) -> None:
    """Let events and deletions happen."""
    for _ in range(5):
        program.processEvents()
        program.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def once(program: QApplication, rig: Path) -> dict[str, object]:
    """Open, look, pick, close."""
    session = Session(Document.open(rig), AtOnce())
    window = QMainWindow()
    view = View3D(session)
    window.setCentralWidget(view)
    window.resize(640, 480)
    window.show()
    settle(program)
    first = view.snapshot()
    session.tick()
    while session.idle():
        pass
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
