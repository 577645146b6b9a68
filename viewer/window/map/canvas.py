"""The travel map itself: drawn once, marked at every step, and moved on by mouse and keys."""

from math import hypot
from typing import ClassVar

from PyQt6.QtCore import QPointF, QRectF, Qt, pyqtSignal
from PyQt6.QtGui import QPainter, QPixmap
from PyQt6.QtWidgets import QWidget

from sim.vehicle import Pose
from viewer.session.charts.map_shapes import map_shapes
from viewer.session.charts.travel_map import Layer, TravelMap
from viewer.session.session import Session
from viewer.session.told.place_words import place_words
from viewer.session.told.state_words import is_old
from viewer.window.chart.canvas import ChartCanvas
from viewer.window.kit.painting import around
from viewer.window.kit.theme import Colours, em
from viewer.window.map.axes import MapPlace, paint_scales
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


class MapCanvas(ChartCanvas):
    """Axle height across, wrap up.

    A click or a drag moves the axle. Arrow keys step height and wrap, Page Up and Down the roll,
    Home goes to ride height; with Shift held a step is four times as long, with Ctrl an eighth.

    Signals
    -------
    shown : another map has been painted.
    """

    CALLED, HINT, LEAST, FAR = "Travel map", (34, 17), (13, 8), 4.0
    STEPS: ClassVar = {
        Qt.Key.Key_Left: ("travel", -1.0),
        Qt.Key.Key_Right: ("travel", 1.0),
        Qt.Key.Key_Down: ("wrap", -1.0),
        Qt.Key.Key_Up: ("wrap", 1.0),
        Qt.Key.Key_PageDown: ("roll", -1.0),
        Qt.Key.Key_PageUp: ("roll", 1.0),
    }

    shown = pyqtSignal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._picture = QPixmap()
        self.words: tuple[MapWord, ...] = ()
        self._painted: tuple[object, ...] = ()

    @property
    def layer(self) -> Layer:
        """What the map shows the room of: what is chosen, where the map has it."""
        found, chosen = self.session.map, self.session.chosen
        return chosen if found is not None and chosen in found.room else "worst"

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

    @property
    def chart(self) -> QRectF | None:
        """Where the map lies, px."""
        return None if self.place is None else self.place.box

    def paint(self, painter: QPainter, look: Colours) -> None:
        """Put the picture down, and the marks on top."""
        found, place, line, at = self.session.map, self.place, em(self), self.session.motion.at
        if found is None or place is None:
            return
        painter.drawPixmap(place.box.topLeft(), self._fresh_picture(found, place))
        paint_scales(painter, place, look, line)
        paint_ride(painter, place, look, line)
        paint_here(painter, place, at, look, line)
        paint_words(painter, self.words, look, here_box(place, at, line))
        for mark in reversed(self.marks):
            paint_worst(painter, mark, look, MARK * line)

    def _fresh_picture(self, found: TravelMap, place: MapPlace) -> QPixmap:
        """The picture, painted again only if something about it is another."""
        look, ratio, line, font = self.look(), self.devicePixelRatioF(), em(self), self.font()
        old = is_old(self.session)
        layer = self.layer
        wanted = (found, layer, place.box.getRect(), look.dark, old, font.key(), ratio)
        if wanted != self._painted:
            shapes = map_shapes(found, layer)
            self._picture = map_picture(shapes, place, look, line, ratio)
            size = 1.4 * MARK * line
            marks = [around(mark.point, size, size) for mark in self.marks]
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
        mark = self._mark_at(point)
        if mark is not None:
            words = f"{mark.number}. {says(mark.finding)}"
            return words if mark.same_roll else f"{words}\n(at another roll than this map)"
        grown = place.box.adjusted(-2.0, -2.0, 2.0, 2.0)
        if not grown.contains(point):
            return ""
        travel, wrap = place.pose(point)
        return place_words(check, Pose(travel, found.roll, wrap))

    def _mark_at(self, point: QPointF) -> WorstMark | None:
        near = 0.6 * MARK * em(self)
        aside = ((mark, mark.point - point) for mark in self.marks)
        return next((mark for mark, by in aside if hypot(by.x(), by.y()) < near), None)

    def press(self, point: QPointF) -> None:
        """Go there; a click on the mark of a finding goes to its worst pose."""
        mark = self._mark_at(point)
        if mark is None:
            self.go(point)
        else:
            self.session.go_to(mark.finding)

    def go(self, point: QPointF) -> None:
        """Move the axle to the pose at a px."""
        place, motion = self.place, self.session.motion
        if place is None:
            return
        travel, wrap = place.pose(point)
        motion.stop()
        motion.go(travel=travel, wrap=wrap)

    def take_key(self, key: int) -> bool:
        """Home goes to ride height."""
        if key == Qt.Key.Key_Home:
            self.session.motion.go_home()
        return key == Qt.Key.Key_Home
