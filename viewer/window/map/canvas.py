"""The travel map itself: drawn once, marked at every step, and moved on by mouse and keys."""

from math import hypot

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt, pyqtSignal
from PyQt6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PyQt6.QtWidgets import QToolTip, QWidget

from sim.vehicle import Pose
from viewer.session.charts.map_shapes import map_shapes
from viewer.session.charts.travel_map import Layer
from viewer.session.place_words import place_words
from viewer.session.session import Session
from viewer.session.state_words import OLD, is_old
from viewer.window.chart.haloed import stamp
from viewer.window.chart.hatch import faded
from viewer.window.kit.theme import Colours, colours, em
from viewer.window.map.axes import CENTRE, MapPlace, paint_scales
from viewer.window.map.marks import (
    WorstMark,
    here_box,
    paint_here,
    paint_ride,
    paint_worst,
    worst_marks,
)
from viewer.window.map.picture import map_picture
from viewer.window.map.words import MapWord, map_words, paint_words
from viewer.words.findings import says

MARK = 1.15
"""Size of a mark in heights of a line."""

STEPS = {
    Qt.Key.Key_Left: ("travel", -1.0),
    Qt.Key.Key_Right: ("travel", 1.0),
    Qt.Key.Key_Down: ("wrap", -1.0),
    Qt.Key.Key_Up: ("wrap", 1.0),
    Qt.Key.Key_PageDown: ("roll", -1.0),
    Qt.Key.Key_PageUp: ("roll", 1.0),
}


class MapCanvas(QWidget):
    """Axle height across, wrap up.

    A click or a drag moves the axle. Arrow keys step height and wrap, Page Up and Down the roll,
    Home goes to ride height; with Shift held a step is four times as long, with Ctrl an eighth.

    Signals
    -------
    shown : another map has been painted.
    """

    shown = pyqtSignal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.layer: Layer = "worst"
        self._picture: QPixmap | None = None
        self.words: tuple[MapWord, ...] = ()
        self._painted: tuple[object, ...] = ()
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Travel map")
        self.setCursor(Qt.CursorShape.CrossCursor)

    def sizeHint(self) -> QSize:
        """Wide enough to read along."""
        return QSize(round(34 * em(self)), round(17 * em(self)))

    def minimumSizeHint(self) -> QSize:
        """Small, and still with its scales."""
        return QSize(round(13 * em(self)), round(8 * em(self)))

    @property
    def place(self) -> MapPlace | None:
        """Where the map lies; None while there is none."""
        found = self.session.map
        return None if found is None else MapPlace.on(self, found)

    @property
    def marks(self) -> list[WorstMark]:
        """Marks of the findings' worst poses, as they are drawn."""
        place, check, found = self.place, self.session.check, self.session.map
        if place is None or check is None or found is None:
            return []
        return list(worst_marks(check.findings, place, found.roll, MARK * em(self)))

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Put the picture down, and the marks on top."""
        painter, look = QPainter(self), self._look()
        painter.fillRect(self.rect(), QColor(look.window))
        place, picture = self.place, self._fresh_picture()
        if place is None or picture is None:
            painter.setPen(QColor(look.quiet))
            painter.drawText(self.rect(), CENTRE, self._nothing())
            return
        painter.drawPixmap(place.box.topLeft(), picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = em(self)
        paint_scales(painter, place, look, line)
        paint_ride(painter, place, look, line)
        at = self.session.motion.at
        paint_here(painter, place, at, look, line)
        paint_words(painter, self.words, look, here_box(place, at, line))
        for mark in reversed(self.marks):
            paint_worst(painter, mark, look, MARK * line)
        if is_old(self.session):
            stamp(painter, look, OLD, place.box, self.font())
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(look.accent), 2.0))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _look(self) -> Colours:
        """Its colours: greys where the answer is old."""
        look = colours(self)
        return faded(look) if is_old(self.session) else look

    def _nothing(self) -> str:
        computing = self.session.answers.is_computing or self.session.has_work
        return "The map comes with the answer." if computing else "No map: there is no answer."

    def _fresh_picture(self) -> QPixmap | None:
        """The picture, painted again only if something about it is another."""
        found, place = self.session.map, self.place
        if found is None or place is None:
            self._picture, self._painted = None, ()
            return None
        if self.layer not in found.room:
            self.layer = "worst"
        look, ratio, line, font = self._look(), self.devicePixelRatioF(), em(self), self.font()
        old = is_old(self.session)
        wanted = (found, self.layer, place.box.getRect(), look.dark, old, font.key(), ratio)
        if wanted != self._painted:
            shapes = map_shapes(found, self.layer)
            self._picture = map_picture(shapes, place, look, line, ratio)
            size = 1.4 * MARK * line
            marks = [QRectF(0.0, 0.0, size, size) for _ in self.marks]
            for box, mark in zip(marks, self.marks, strict=True):
                box.moveCenter(mark.point)
            self.words = map_words(shapes, place, font, line, marks)
            self._painted = wanted
            self.shown.emit()
        return self._picture

    # Mouse and keys

    def words_at(self, point: QPointF) -> str:
        """What the pointer tells at a px: the finding whose mark is there, else the pose."""
        place, check, found = self.place, self.session.check, self.session.map
        if place is None or check is None or found is None:
            return ""
        for mark in self.marks:
            away = mark.point - point
            if hypot(away.x(), away.y()) < 0.6 * MARK * em(self):
                words = f"{mark.number}. {says(mark.finding)}"
                return words if mark.same_roll else f"{words}\n(at another roll than this map)"
        grown = place.box.adjusted(-2.0, -2.0, 2.0, 2.0)
        if not grown.contains(point):
            return ""
        travel, wrap = place.pose(point)
        return place_words(check, Pose(travel, found.roll, wrap))

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """Go there; a click on the mark of a finding goes to its worst pose."""
        if event is None or event.button() != Qt.MouseButton.LeftButton:
            return
        for mark in self.marks:
            away = mark.point - event.position()
            if hypot(away.x(), away.y()) < 0.6 * MARK * em(self):
                self.session.go_to(mark.finding)
                return
        self._go(event.position())

    def mouseMoveEvent(self, event: QMouseEvent | None) -> None:
        """Drag the axle along, or tell what is under the pointer."""
        if event is None:
            return
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go(event.position())
        words = self.words_at(event.position())
        QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def _go(self, point: QPointF) -> None:
        place, motion = self.place, self.session.motion
        if place is None:
            return
        travel, wrap = place.pose(point)
        motion.stop()
        motion.go(travel=travel, wrap=wrap)

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Step the axle."""
        if event is None:
            return
        motion, key = self.session.motion, event.key()
        if key in STEPS:
            axis, notches = STEPS[Qt.Key(key)]
            if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
                notches *= 4.0
            elif event.modifiers() & Qt.KeyboardModifier.ControlModifier:
                notches /= 8.0
            motion.stop()
            motion.step(axis, notches)
        elif key == Qt.Key.Key_Home:
            motion.go_home()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent | None) -> None:
        """Show the frame."""
        super().focusInEvent(event)
        self.update()
