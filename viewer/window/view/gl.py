"""The widget that draws with OpenGL: one interactor of pyvista, held, never inherited from."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass

from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image
from viewer.draw.stage import Stage
from viewer.window.kit.painting import pixels


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
