"""A chart itself: painted from the session, told of under the pointer, moved by mouse and keys."""

from abc import abstractmethod
from collections.abc import Mapping
from typing import ClassVar

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PyQt6.QtWidgets import QToolTip, QWidget

from viewer.session.session import Session
from viewer.session.told.state_words import OLD, is_old
from viewer.window.chart.haloed import stamp
from viewer.window.chart.hatch import faded
from viewer.window.kit.painting import CENTRE, frame_focus
from viewer.window.kit.theme import Colours, colours, em

FINE = 1.0 / 8.0
"""Share of a step that Ctrl leaves."""


class ChartCanvas(QWidget):
    """A chart, in greys and stamped while the answer it is of is old.

    A subclass says where it lies, paints it, tells of places on it and goes there.

    Attributes
    ----------
    CALLED : the name of the chart; its last word is what it is.
    HINT, LEAST : width and height it would have, and has at least, in heights of a line.
    STEPS : the axis that a key moves, and by how many notches. FAR : times a step with Shift held.
    """

    CALLED: ClassVar[str]
    HINT: ClassVar[tuple[float, float]]
    LEAST: ClassVar[tuple[float, float]]
    STEPS: ClassVar[Mapping[Qt.Key, tuple[str, float]]]
    FAR: ClassVar[float] = 1.0

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.CALLED)
        self.setCursor(Qt.CursorShape.CrossCursor)

    @property
    @abstractmethod
    def chart(self) -> QRectF | None:
        """Where the chart lies without its scales, px; None while there is nothing to show."""

    @abstractmethod
    def paint(self, painter: QPainter, look: Colours) -> None:
        """Paint the chart."""

    @abstractmethod
    def words_at(self, point: QPointF) -> str:
        """What the pointer tells at a px."""

    @abstractmethod
    def go(self, point: QPointF) -> None:
        """Move the axle or the shaft to what lies at a px."""

    def press(self, point: QPointF) -> None:
        """What a click does: the same."""
        self.go(point)

    @abstractmethod
    def take_key(self, key: int) -> bool:
        """Do what a key is for besides stepping; whether it is for anything."""

    def nothing(self) -> str:
        """Why there is nothing to show."""
        what = self.CALLED.split()[-1]
        if self.session.answers.is_computing or self.session.has_work:
            return f"The {what} comes with the answer."
        return f"No {what}: there is no answer."

    def look(self) -> Colours:
        """Its colours: greys where the answer is old."""
        look = colours(self)
        return faded(look) if is_old(self.session) else look

    def sizeHint(self) -> QSize:
        """Wide enough to read along."""
        return QSize(*(round(lines * em(self)) for lines in self.HINT))

    def minimumSizeHint(self) -> QSize:
        """Small, and still with its scales."""
        return QSize(*(round(lines * em(self)) for lines in self.LEAST))

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint the chart, or why there is none."""
        painter, look, box = QPainter(self), self.look(), self.chart
        painter.fillRect(self.rect(), QColor(look.window))
        if box is None:
            painter.setPen(QColor(look.quiet))
            flags = CENTRE | int(Qt.TextFlag.TextWordWrap)
            painter.drawText(QRectF(self.rect()), flags, self.nothing())
        else:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.paint(painter, look)
            if is_old(self.session):
                stamp(painter, look, OLD, box, self.font())
        frame_focus(painter, self, look.accent)

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """Go to what was clicked."""
        if event is not None and event.button() == Qt.MouseButton.LeftButton:
            self.press(event.position())

    def mouseMoveEvent(self, event: QMouseEvent | None) -> None:
        """Drag along, or tell what is under the pointer."""
        if event is None:
            return
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.go(event.position())
        words = self.words_at(event.position())
        QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Step an axis: farther with Shift held, finely with Ctrl."""
        if event is None:
            return
        if event.key() in self.STEPS:
            axis, notches = self.STEPS[Qt.Key(event.key())]
            if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
                notches *= self.FAR
            elif event.modifiers() & Qt.KeyboardModifier.ControlModifier:
                notches *= FINE
            self.session.motion.stop()
            self.session.motion.step(axis, notches)
        elif not self.take_key(event.key()):
            super().keyPressEvent(event)
