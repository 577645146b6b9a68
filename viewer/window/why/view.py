"""The joint taken apart in 3D, and how mouse and keys move it and point at its parts."""

import numpy as np
from PyQt6.QtCore import QEvent, QObject, QPointF, Qt, QTimer, pyqtSignal
from PyQt6.QtGui import QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent
from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image
from viewer.live.apart import LiveApart, Picked
from viewer.session.why.room import WhyRoom
from viewer.window.kit.pieces import column, words
from viewer.window.kit.theme import em
from viewer.window.view.gl import Drawing, Factory, gl_drawing
from viewer.window.view.look import look_for
from viewer.window.view.moving import NOTCH, TURN, is_click, key_moves

LOW = 14.0
"""Ems under which words on what was seen would cover the parts."""
PLAIN_TYPE = 15.0
"""px of type at which words on the stage have their own size."""


class ApartView(QWidget):
    """The joint taken apart.

    Left button turns it, middle or right moves it, the wheel goes nearer, a click means a part.
    Arrow keys turn, with Shift they move; + and - go nearer and farther, Home shows all.

    Signals
    -------
    picked : a part was clicked, a `Picked`.
    """

    picked = pyqtSignal(object)

    def __init__(
        self, room: WhyRoom, parent: QWidget | None = None, factory: Factory = gl_drawing
    ) -> None:
        super().__init__(parent)
        self.room = room
        self.drawing: Drawing | None = factory(self)
        self._widget = self.drawing.widget
        self.live = LiveApart(self.drawing.stage, look_for(self))
        self._press: QPointF | None = None
        self._last = QPointF()
        self._button = Qt.MouseButton.NoButton
        self._is_due = False
        self.fault = words("", self)
        column(self.fault, (self._widget, 1), on=self, gap=0, edge=0)
        self._widget.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._widget.setAccessibleName("Joint taken apart")
        self.setAccessibleName("View of the joint taken apart")
        self._widget.installEventFilter(self)
        self.setFocusProxy(self._widget)
        self.take_apart()

    def take_apart(self) -> None:
        """Show the joint that is on the bench."""
        apart = self.room.apart
        self.fault.setText(self.room.fault)
        self.fault.setVisible(apart is None)
        if apart is not None:
            self.live.show(apart)
        self.refresh()

    def refresh(self) -> None:
        """Show what is told and meant."""
        room = self.room
        self._say()
        self.live.choose(*room.chosen)
        marks = room.marks()
        self.live.mark([(place, n == room.meant) for n, place in enumerate(marks)])
        self.compute()

    def compute(self) -> None:
        """Show what was computed so far."""
        self.live.compute(self.room.met, self.room.pressed)
        self.redraw()

    def _say(self) -> None:
        """Write what was seen beside the parts, where there is room for it."""
        is_low = self._widget.height() < LOW * em(self)
        self.live.say({} if is_low else self.room.said())

    def fade(self, share: float) -> None:
        """Fade what was computed in, 0 to 1."""
        self.live.fade(share)
        self.redraw()

    def redraw(self) -> None:
        """Draw once, when the window is painted next."""
        self._is_due = True
        self._widget.update()

    def snapshot(self) -> Image:
        """What is seen, (height, width, 3), first row on top."""
        if self.drawing is None:
            raise RuntimeError("the view is closed; expected one that is open")
        self.drawing.stage.draw()
        return self.drawing.grab()

    def shut(self) -> None:
        """Let go of OpenGL; nothing is drawn afterwards."""
        if self.drawing is not None:
            self._widget.removeEventFilter(self)
            self.drawing.close()
            self.drawing = None

    def changeEvent(self, event: QEvent | None) -> None:
        """Take on a light or dark palette."""
        super().changeEvent(event)
        is_palette = event is not None and event.type() == QEvent.Type.PaletteChange
        if is_palette and self.drawing is not None:
            self.live.dress(look_for(self))
            self.redraw()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Keep all of it in sight."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self._on_resized)

    def _on_resized(self) -> None:
        if self.drawing is None:
            return
        ratio = self._widget.devicePixelRatioF()
        self.drawing.stage.scale = ratio * max(0.6, self.fontInfo().pixelSize() / PLAIN_TYPE)
        self._say()
        if not self.live.is_moved:
            self.live.home()
        self.redraw()

    # Mouse and keys

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Read mouse and keys of the drawing; they go no further."""
        if event is None or self.drawing is None or watched is not self._widget:
            return super().eventFilter(watched, event)
        if event.type() == QEvent.Type.Paint and self._is_due:
            self._is_due = False
            self.drawing.stage.draw()
            return False  # the widget itself puts it on the screen
        if isinstance(event, QMouseEvent):
            self._on_mouse(event)
            return True
        if isinstance(event, QWheelEvent):
            self.live.zoom(NOTCH ** (event.angleDelta().y() / 120.0))
            self.redraw()
            return True
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            return self._on_key(event)
        return super().eventFilter(watched, event)

    def _on_mouse(self, event: QMouseEvent) -> None:
        place = event.position()
        if event.type() == QEvent.Type.MouseButtonPress:
            self._press, self._last, self._button = place, place, event.button()
            self.setFocus(Qt.FocusReason.MouseFocusReason)
        elif event.type() == QEvent.Type.MouseMove and self._press is not None:
            moved, self._last = place - self._last, place
            if self._button == Qt.MouseButton.LeftButton:
                self.live.orbit(-TURN * moved.x(), TURN * moved.y())
            else:
                high = max(1, self._widget.height())
                self.live.pan(moved.x() / high, -moved.y() / high)
            self.redraw()
        elif event.type() == QEvent.Type.MouseButtonRelease and self._press is not None:
            aside, self._press = place - self._press, None
            still = is_click(aside)
            if still and event.button() == Qt.MouseButton.LeftButton:
                found = self.under(place)
                if found is not None:
                    self.picked.emit(found)

    def under(self, place: QPointF) -> Picked | None:
        """What is under a place of the widget."""
        if self.drawing is None:
            return None
        widget, stage = self._widget, self.drawing.stage
        right, down = place.x() / max(1, widget.width()), place.y() / max(1, widget.height())
        at = np.array([right, 1.0 - down]) * stage.size
        return self.live.pick(float(at[0]), float(at[1]))

    def _on_key(self, event: QKeyEvent) -> bool:
        if event.key() == Qt.Key.Key_Home:
            self.live.home()
        elif not key_moves(event, self.live):
            return False
        self.redraw()
        return True
