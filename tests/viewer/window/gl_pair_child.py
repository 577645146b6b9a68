"""Shows two versions side by side with real views; prints what was seen of them as JSON."""

import json
import sys
from pathlib import Path

import numpy as np
from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QWheelEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QMainWindow

from tests.viewer.session.at_once import AtOnce
from tests.viewer.window.gl_child import held, settle
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.customer.view import CustomerView
from viewer.window.view.view3d import View3D

LEFT = Qt.MouseButton.LeftButton


def eyes(customer: CustomerView) -> list[list[float]]:
    """Where each picture is looked at from, as numbers of its own stage."""
    found = []
    for view in customer.pictures.views:
        camera = view.drawing.stage._camera  # VTK's own
        found.append([*camera.GetPosition(), *camera.GetFocalPoint(), *camera.GetViewUp()])
    return found


def drag(view: View3D) -> None:
    """Turn the view by the mouse."""
    widget = view.drawing.widget
    start = QPoint(40, 40)
    QTest.mousePress(widget, LEFT, pos=start)
    QTest.mouseMove(widget, start + QPoint(25, 12))
    QTest.mouseRelease(widget, LEFT, pos=start + QPoint(60, 25))


def wheel(view: View3D) -> None:
    """Come nearer by the wheel."""
    widget, at = view.drawing.widget, QPointF(50.0, 60.0)
    none, still = Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase
    at_all = QPointF(widget.mapToGlobal(at.toPoint()))
    held_down = Qt.MouseButton.NoButton
    event = QWheelEvent(at, at_all, QPoint(), QPoint(0, 120), held_down, none, still, False)
    QApplication.sendEvent(widget, event)


def main(rig: Path) -> None:
    program = QApplication([])
    session = Session(Document.open(rig), AtOnce())
    session.tick()
    window = QMainWindow()
    main_view = View3D(session)
    window.setCentralWidget(main_view)
    window.resize(640, 480)
    window.show()
    settle(program)
    told: dict[str, object] = {}
    alive = []
    for _ in range(2):
        session.put_aside()
        session.document.set({"travel.droop": "4 in"})
        session.tick()
        customer = CustomerView(session, window, asker=Scripted(), both=True)
        customer.resize(1100, 700)
        customer.show()
        settle(program)
        seen = [eyes(customer)]
        for view in customer.pictures.views:
            for does in (drag, wheel):
                does(view)
                settle(program)
                seen.append(eyes(customer))
        told["eyes"] = seen
        frame = [*customer._frame()][-1]
        half = frame.shape[1] // 2
        told["colours"] = [
            len(np.unique(each.reshape(-1, 3), axis=0))
            for each in (frame[:, :half], frame[:, half:])
        ]
        told["sizes"] = [[view.width(), view.height()] for view in customer.pictures.views]
        told["poses"] = [each.motion.at.travel for _, each in customer.sides]
        told["verdicts"] = [each.now.verdict for _, each in customer.sides]
        told["marks"] = [
            heading.mark.verdict
            for heading in (customer.pictures.other_heading, customer.pictures.paired)
        ]
        customer.close()
        settle(program)
        session.document.undo()
        session.drop_other()
        session.tick()
        settle(program)
        alive.append(held())
    told["held"] = alive
    main_view.shut()
    window.close()
    session.close()
    settle(program)
    sys.stdout.write(json.dumps(told) + "\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
