"""Hatching: what tells areas of a verdict apart where there is no colour."""

from dataclasses import replace

from PyQt6.QtCore import QPointF, QRectF, QSizeF, Qt
from PyQt6.QtGui import QBrush, QColor, QPainter, QPen

from sim.findings import ORDER, Verdict
from viewer.window.kit.painting import around, painted
from viewer.window.kit.theme import Colours, paint_mark
from viewer.window.kit.verdict_mark import greyed


def paint_area(look: Colours, area: str, size: float, ratio: float) -> QBrush:
    """Brush for an area: its wash and its hatching, `size` px from line to line.

    clear: plain. close: slanting lines. touches: crossed lines. beyond: rows of dots, grey.
    `ratio` is pixels of the device in a px.
    """
    wash, ink = _colours(look, area)
    key = wash, ink, area, size, ratio
    if key not in _BRUSHES:
        _BRUSHES[key] = _brush(look, area, size, ratio)
    return _BRUSHES[key]


def faded(look: Colours) -> Colours:
    """Colours of a chart that is that of an old answer: greys, its areas told by hatching alone."""
    washes: dict[Verdict, str] = {"clear": look.paper, "close": look.window, "touches": look.grid}
    return replace(greyed(look), washes=washes)


def _colours(look: Colours, area: str) -> tuple[str, str]:
    """Wash and ink of an area."""
    for verdict in ORDER:
        if verdict == area:
            return look.washes[verdict], look.verdicts[verdict]
    return look.window, look.quiet


_BRUSHES: dict[tuple[str, str, str, float, float], QBrush] = {}
"""Brushes painted so far: a handful for each size of type."""


def _brush(look: Colours, area: str, size: float, ratio: float) -> QBrush:
    tile = max(4, round(size * ratio))
    wash, ink = map(QColor, _colours(look, area))

    def paint(painter: QPainter) -> None:
        painter.setPen(QPen(ink, max(1.0, 0.10 * tile)))
        if area in ("close", "touches"):
            for shift in (-tile, 0, tile):
                painter.drawLine(shift, tile, shift + tile, 0)
                if area == "touches":
                    painter.drawLine(shift, 0, shift + tile, tile)
        elif area == "beyond":
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink)
            middle = QPointF(0.5 * tile, 0.5 * tile)
            painter.drawEllipse(around(middle, 0.2 * tile, 0.2 * tile))

    picture = painted(QSizeF(tile, tile), 1.0, paint, wash)
    picture.setDevicePixelRatio(ratio)
    return QBrush(picture)


def sample(painter: QPainter, box: QRectF, look: Colours, area: str, size: float) -> None:
    """A sample of an area for a legend, with the mark of its verdict on it."""
    painter.fillRect(box, paint_area(look, area, size, 1.0))
    painter.setPen(QPen(QColor(look.line), 1.0))
    painter.drawRect(box)
    if area in look.verdicts:
        side = 0.8 * box.height()
        paint_mark(painter, around(box.center(), side, side), area, look)  # type: ignore[arg-type]
