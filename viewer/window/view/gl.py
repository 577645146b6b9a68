"""The widget that draws with OpenGL: one interactor of pyvista, held, never inherited from."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass

import numpy as np
from PyQt6.QtGui import QImage
from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image
from viewer.draw.stage import Stage


@dataclass(frozen=True, eq=False)
class Drawing:
    """A widget that shows a stage.

    widget : what is put into a layout; mouse and keys are read from it.
    stage : what is drawn on.
    grab : what is seen, (height, width, 3).
    finest : while it is held edges are drawn as smooth as they can be.
    close : lets go of OpenGL.
    """

    widget: QWidget
    stage: Stage
    grab: Callable[[], Image]
    finest: Callable[[], AbstractContextManager[None]]
    close: Callable[[], None]


Factory = Callable[[QWidget], Drawing]
"""Makes a drawing inside a parent widget."""


def gl_drawing(parent: QWidget) -> Drawing:
    """Make the real one; needs OpenGL and a display."""
    # Imported late: the window's own widgets are there before VTK is.
    from pyvistaqt import QtInteractor

    from viewer.draw.pyvista_stage import PyVistaStage

    interactor = QtInteractor(parent, off_screen=False, auto_update=False)
    # Mouse and keys are the view's own: the interactor's would do other things.
    interactor.iren.interactor.SetInteractorStyle(None)
    interactor.setAcceptDrops(False)
    stage = PyVistaStage(interactor, _painted_by_the_view)

    def grab() -> Image:
        return pixels(interactor.grabFramebuffer())

    def close() -> None:
        stage.close()
        interactor.close()

    return Drawing(interactor, stage, grab, stage.finest, close)


def _painted_by_the_view() -> None:
    """Leave it to the view, which draws only when its widget is about to be painted."""


def pixels(image: QImage) -> Image:
    """Pixels of a picture of Qt, (height, width, 3), first row on top."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    bits = plain.constBits()
    if bits is None:
        return np.zeros((plain.height(), plain.width(), 3), dtype=np.uint8)
    rows = np.frombuffer(bits.asstring(plain.sizeInBytes()), dtype=np.uint8)
    rows = rows.reshape(plain.height(), plain.bytesPerLine())[:, : 3 * plain.width()]
    return rows.reshape(plain.height(), plain.width(), 3).copy()
