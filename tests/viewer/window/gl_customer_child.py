"""Opens the customer view over a window with a view of its own, twice; prints what it saw."""

import json
import sys
from pathlib import Path

import numpy as np
from PyQt6.QtWidgets import QApplication, QMainWindow

from tests.viewer.session.at_once import AtOnce
from tests.viewer.window.gl_child import held, settle
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.customer.view import CustomerView
from viewer.window.view.view3d import View3D


def shades(picture: np.ndarray) -> int:
    """How many colours a picture has."""
    return len(np.unique(picture.reshape(-1, 3), axis=0))


def frame(customer: CustomerView) -> np.ndarray:
    """What a picture of the customer's screen is made of."""
    return [*customer._frame()][-1]


def once(program: QApplication, session: Session, window: QMainWindow) -> dict[str, object]:
    """Open, move, look, leave."""
    customer = CustomerView(session, window, asker=Scripted())
    customer.resize(900, 600)
    customer.show()
    settle(program)
    customer.controls["spin"].slider.setValue(900)
    customer.controls["travel"].slider.setValue(customer.controls["travel"].slider.minimum())
    settle(program)
    low = frame(customer)
    customer.controls["travel"].slider.setValue(0)
    settle(program)
    ride = frame(customer)
    customer.close()
    settle(program)
    window.centralWidget().redraw()
    settle(program)
    return {
        "colours": [shades(low), shades(ride)],
        "changed": float(np.mean(np.any(low != ride, axis=-1))),
        "at": session.motion.at.travel,
    }


def main(rig: Path) -> None:
    program = QApplication([])
    session = Session(Document.open(rig), AtOnce())
    session.tick()
    window = QMainWindow()
    view = View3D(session)
    window.setCentralWidget(view)
    window.resize(640, 480)
    window.show()
    settle(program)
    session.motion.go(travel=-25.4)
    before = shades(view.snapshot())
    seen, alive = [], []
    for _ in range(2):
        seen.append(once(program, session, window))
        alive.append(held())
    after = shades(view.snapshot())
    view.shut()
    window.close()
    session.close()
    settle(program)
    told = {"seen": seen, "held": alive, "window": [before, after]}
    sys.stdout.write(json.dumps(told) + "\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
