"""The scales of the travel map: inches of droop and bump across, degrees of wrap up."""

from dataclasses import dataclass
from math import degrees, radians

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PyQt6.QtWidgets import QWidget

from viewer.session.charts.travel_map import TravelMap
from viewer.window.kit.painting import CENTRE, LEFT, RIGHT, ticks
from viewer.window.kit.theme import Colours, em

INCH = 25.4
_INCHES = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0)
_DEGREES = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)

UP, DOWN = "nose up", "nose down"
"""Above and below the scale of the wrap."""


@dataclass(frozen=True)
class MapPlace:
    """Where the map lies on the widget, and which pose is where.

    Attributes
    ----------
    box : the map itself, px.
    low, high : (travel mm, wrap rad) at its lower left and upper right corners.
    """

    box: QRectF
    low: tuple[float, float]
    high: tuple[float, float]

    @staticmethod
    def on(widget: QWidget, found: TravelMap) -> "MapPlace":
        """Leave room for the scales beside and below, and for marks that lie on the edge."""
        line = em(widget)
        metrics = QFontMetricsF(widget.font())
        numbers = 1.5 * line + metrics.horizontalAdvance("12.5")
        left, top = 0.9 * line, 0.4 * line
        if found.wrap.size > 1:
            left += max(metrics.horizontalAdvance(DOWN), numbers)
            top += 1.2 * line
        frame = QRectF(widget.rect()).adjusted(left, top, -0.6 * line, -2.7 * line)
        if found.wrap.size == 1:
            tall = min(frame.height(), 5.0 * line)
            frame = QRectF(frame.left(), frame.center().y() - 0.5 * tall, frame.width(), tall)
        low = float(found.travel[0]), float(found.wrap[0])
        high = float(found.travel[-1]), float(found.wrap[-1])
        return MapPlace(frame, low, high)

    def point(self, travel: float, wrap: float) -> QPointF:
        """Where a pose lies, px; outside of the map it is held at its edge."""
        x = _share(travel, self.low[0], self.high[0])
        y = _share(wrap, self.low[1], self.high[1])
        return self.at(x, y)

    def at(self, x: float, y: float) -> QPointF:
        """Where shares of the map lie, px."""
        return QPointF(
            self.box.left() + x * self.box.width(), self.box.bottom() - y * self.box.height()
        )

    def pose(self, point: QPointF) -> tuple[float, float]:
        """Travel (mm) and wrap (rad) at a px, held inside the map."""
        x = min(1.0, max(0.0, (point.x() - self.box.left()) / max(1.0, self.box.width())))
        y = min(1.0, max(0.0, (self.box.bottom() - point.y()) / max(1.0, self.box.height())))
        (t0, w0), (t1, w1) = self.low, self.high
        return t0 + x * (t1 - t0), w0 + y * (w1 - w0)


def _share(value: float, low: float, high: float) -> float:
    return 0.5 if high <= low else min(1.0, max(0.0, (value - low) / (high - low)))


def paint_scales(painter: QPainter, place: MapPlace, look: Colours, line: float) -> None:
    """Draw the frame, the ticks with their numbers, and what the scales are of."""
    painter.setPen(QPen(QColor(look.line), 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(place.box)
    if place.high[0] > place.low[0]:
        _scale_across(painter, place, look, line)
    else:
        _under(painter, place, look, line, "no axle travel")
    if place.high[1] > place.low[1]:
        _scale_up(painter, place, look, line)


def _scale_across(painter: QPainter, place: MapPlace, look: Colours, line: float) -> None:
    box, metrics = place.box, QFontMetricsF(painter.font())
    low, high = place.low[0] / INCH, place.high[0] / INCH
    room = box.width() / (2.2 * metrics.horizontalAdvance("10"))
    ride = metrics.horizontalAdvance("ride")
    painter.setPen(QPen(QColor(look.ink), 1.0))
    for inches, size in ticks(low, high, _INCHES, room):
        at = place.point(inches * INCH, 0.0).x()
        painter.drawLine(QPointF(at, box.bottom()), QPointF(at, box.bottom() + 0.25 * line))
        words = size if inches else "ride"
        wide = metrics.horizontalAdvance(words)
        zero = place.point(0.0, 0.0).x()
        if inches and abs(at - zero) < 0.5 * (wide + ride) + 0.25 * line:
            continue
        spot = QRectF(at - wide, box.bottom() + 0.5 * line, 2.0 * wide, line)
        painter.drawText(spot, CENTRE, words)
    words = "axle height, in"
    if place.box.width() < metrics.horizontalAdvance(f"droop  {words}  bump"):
        words = "in"
    _under(painter, place, look, line, words)
    row = QRectF(box.left(), box.bottom() + 1.5 * line, box.width(), line)
    painter.setPen(QColor(look.ink))
    if low < 0.0:
        painter.drawText(row, LEFT, "\N{LEFTWARDS ARROW} droop")
    if high > 0.0:
        painter.drawText(row, RIGHT, "bump \N{RIGHTWARDS ARROW}")


def _under(painter: QPainter, place: MapPlace, look: Colours, line: float, words: str) -> None:
    painter.setPen(QColor(look.quiet))
    row = QRectF(place.box.left(), place.box.bottom() + 1.5 * line, place.box.width(), line)
    painter.drawText(row, CENTRE, words)


def _scale_up(painter: QPainter, place: MapPlace, look: Colours, line: float) -> None:
    box = place.box
    low, high = degrees(place.low[1]), degrees(place.high[1])
    room = box.height() / (1.9 * line)
    painter.setPen(QPen(QColor(look.ink), 1.0))
    for angle, size in ticks(low, high, _DEGREES, room):
        at = place.point(0.0, radians(angle)).y()
        painter.drawLine(QPointF(box.left() - 0.25 * line, at), QPointF(box.left(), at))
        spot = QRectF(0.0, at - 0.5 * line, box.left() - 0.5 * line, line)
        painter.drawText(spot, RIGHT, size)
    for words, top in ((UP, box.top() - 1.6 * line), (DOWN, box.bottom() + 0.55 * line)):
        if (words == UP and high > 0.0) or (words == DOWN and low < 0.0):
            painter.drawText(QRectF(0.0, top, box.left() - 0.7 * line, line), RIGHT, words)
    title, metrics = "axle wrap, deg", QFontMetricsF(painter.font())
    if metrics.horizontalAdvance(title) > box.height():
        title = "wrap"
    painter.save()
    painter.setPen(QColor(look.quiet))
    painter.translate(0.7 * line, box.center().y())
    painter.rotate(-90.0)
    painter.drawText(QRectF(-0.5 * box.height(), -0.5 * line, box.height(), line), CENTRE, title)
    painter.restore()
