"""Holds the place of the 3D view until its libraries are read: the rest of the window comes first.

They take longer to read than everything else together; read beside the window, they hold nobody up.
"""

from collections.abc import Callable
from importlib import import_module
from threading import Thread

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QShowEvent
from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image
from viewer.session.session import Session
from viewer.window.kit.pieces import column, every, words
from viewer.window.view.view3d import View3D

HEAVY = ("pyvistaqt", "viewer.draw.pyvista_stage")
"""What a view reads before it draws."""

LOOK_EVERY = 20
"""ms between looks whether it is read."""


class LateView(QWidget):
    """A `View3D` that comes as soon as it can be made, shortly after the first showing.

    Attributes
    ----------
    view : the view; None until it is there, and after `shut`.

    Signals
    -------
    came : the view is there.
    """

    came = pyqtSignal()

    def __init__(
        self,
        session: Session,
        parent: QWidget | None = None,
        make: Callable[[Session, QWidget], View3D] = View3D,
        heavy: tuple[str, ...] = HEAVY,
    ) -> None:
        super().__init__(parent)
        self._session, self._make = session, make
        self.view: View3D | None = None
        self.words = words("The picture is on its way.", wraps=False)
        self.words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._column = column(self.words, on=self, edge=0)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("View of the shaft")
        # What cannot be read here fails again, and is told, where the view is made.
        self._started = False
        self._reading = Thread(target=_read, args=(heavy,), name="3D libraries", daemon=True)
        self._timer = every(self, self._look, LOOK_EVERY)

    def showEvent(self, event: QShowEvent | None) -> None:
        """Start to read once the window has been painted."""
        super().showEvent(event)
        # Making the view shows this widget once more.
        if not self._started:
            self._started = True
            self._timer.start()

    def look_at(self, view: str) -> None:
        """Look from one of `viewer.live.sight.TITLES`, as soon as there is something to see."""
        if self.view is not None:
            self.view.look_at(view)

    def picture(self) -> Image | None:
        """What is seen, (height, width, 3); None while there is nothing."""
        return None if self.view is None else self.view.snapshot()

    def shut(self) -> None:
        """Let go of OpenGL."""
        self._timer.stop()
        if self.view is not None:
            self.view.shut()
            self.view.close()
            self.view = None

    def _look(self) -> None:
        if self._reading.ident is None:
            self._reading.start()
        elif not self._reading.is_alive():
            self._timer.stop()
            self._put()

    def _put(self) -> None:
        had_focus = self.hasFocus()
        self.view = self._make(self._session, self)
        self._column.removeWidget(self.words)
        self.words.hide()
        self._column.addWidget(self.view)
        self.view.addActions(self.actions())
        self.setFocusProxy(self.view)
        if had_focus:
            self.view.setFocus()
        self.came.emit()


def _read(names: tuple[str, ...]) -> None:
    for name in names:
        try:
            import_module(name)
        except ImportError:
            return
