"""The part of the travel map that changes only with the map: areas, hatching, lines and words."""

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from sim.findings import ORDER
from viewer.session.map_shapes import Floats, MapShapes
from viewer.window.haloed import is_free, words_box, write_on
from viewer.window.hatch import paint_area
from viewer.window.map_axes import MapPlace
from viewer.window.theme import Colours, enlarged
from viewer.words import VERDICT_WORDS

BEYOND = "out of reach"


def map_picture(
    shapes: MapShapes, place: MapPlace, look: Colours, font: QFont, line: float, ratio: float
) -> QPixmap:
    """Paint a map as large as its place; `line` is the height of a line of type, px."""
    size = place.box.size()
    picture = QPixmap(max(1, round(size.width() * ratio)), max(1, round(size.height() * ratio)))
    picture.setDevicePixelRatio(ratio)
    painter = QPainter(picture)
    inside = QRectF(0.0, 0.0, size.width(), size.height())
    here = MapPlace(inside, place.low, place.high)
    painter.fillRect(inside, paint_area(look, "beyond", 0.5 * line, ratio))
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
    taken = _name_areas(painter, shapes, here, look, font, line)
    _number_lines(painter, shapes, here, look, font, taken)
    painter.end()
    return picture


def _polygon(place: MapPlace, points: Floats) -> QPolygonF:
    return QPolygonF([place.at(float(x), float(y)) for x, y in points])


def _name_areas(
    painter: QPainter, shapes: MapShapes, place: MapPlace, look: Colours, font: QFont, line: float
) -> list[QRectF]:
    """Write what an area is, where there is room inside it."""
    taken: list[QRectF] = []
    painter.setFont(enlarged(font, 1.0, bold=True))
    for name in (*reversed(ORDER), "beyond"):
        if name not in shapes.middles:
            continue
        x, y, depth = shapes.middles[name]
        words = BEYOND if name == "beyond" else VERDICT_WORDS[name]  # type: ignore[index]
        box = words_box(painter, words, place.at(x, y))
        box.moveCenter(_held(box, place.box))
        deep = depth * place.box.height() > 0.45 * line
        if deep and is_free(box, taken, place.box):
            ink = look.quiet if name == "beyond" else look.verdicts[name]  # type: ignore[index]
            write_on(painter, look, words, box, ink)
            taken.append(box)
    return taken


def _held(box: QRectF, inside: QRectF) -> QPointF:
    """Middle of a box moved just far enough to lie inside."""
    x = min(max(box.center().x(), 0.5 * box.width()), inside.width() - 0.5 * box.width())
    y = min(max(box.center().y(), 0.5 * box.height()), inside.height() - 0.5 * box.height())
    return QPointF(x, y)


def _number_lines(
    painter: QPainter,
    shapes: MapShapes,
    place: MapPlace,
    look: Colours,
    font: QFont,
    taken: list[QRectF],
) -> None:
    """Write each level on its longest piece, at the first free spot from its middle outward."""
    painter.setFont(enlarged(font, 0.9))
    painter.setPen(Qt.PenStyle.SolidLine)
    for each in reversed(shapes.lines):
        piece = max(each.pieces, key=len)
        for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
            x, y = piece[round(share * (len(piece) - 1))]
            box = words_box(painter, each.words, place.at(float(x), float(y)))
            if is_free(box, taken, place.box):
                write_on(painter, look, each.words, box, look.ink)
                taken.append(box.adjusted(-4.0, -2.0, 4.0, 2.0))
                break
