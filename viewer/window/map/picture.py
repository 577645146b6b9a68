"""The part of the travel map that changes only with the map: areas, hatching and lines."""

from PyQt6.QtCore import QPointF, QRectF
from PyQt6.QtGui import QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from sim.findings import ORDER
from viewer.session.charts.map_shapes import Floats, MapShapes
from viewer.window.chart.hatch import paint_area
from viewer.window.kit.painting import painted
from viewer.window.kit.theme import Colours
from viewer.window.map.axes import MapPlace


def map_picture(
    shapes: MapShapes, place: MapPlace, look: Colours, line: float, ratio: float
) -> QPixmap:
    """Paint a map as large as its place; `line` is the height of a line of type, px."""
    size = place.box.size()
    here = MapPlace(QRectF(QPointF(), size), place.low, place.high)
    return painted(size, ratio, lambda painter: _paint(painter, shapes, here, look, line, ratio))


def _paint(
    painter: QPainter, shapes: MapShapes, here: MapPlace, look: Colours, line: float, ratio: float
) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # areas have no gap between
    painter.fillRect(here.box, paint_area(look, "beyond", 0.5 * line, ratio))
    for verdict in ORDER:
        path = QPainterPath()
        for area in shapes.areas.get(verdict, ()):
            for outline in area:
                path.addPolygon(_polygon(here, outline))
                path.closeSubpath()
        painter.fillPath(path, paint_area(look, verdict, 0.55 * line, ratio))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for each in shapes.lines:
        ink = look.ink if each.is_border else look.quiet
        painter.setPen(QPen(QColor(ink), 2.2 if each.is_border else 1.0))
        for piece in each.pieces:
            painter.drawPolyline(_polygon(here, piece))


def _polygon(place: MapPlace, points: Floats) -> QPolygonF:
    return QPolygonF([place.at(float(x), float(y)) for x, y in points])
