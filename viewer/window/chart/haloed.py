"""Words on a chart that can be read whatever is under them."""

from collections.abc import Sequence

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QFont, QPainter, QPen

from viewer.window.kit.painting import CENTRE, around
from viewer.window.kit.theme import Colours, enlarged


def words_box(painter: QPainter, words: str, middle: QPointF) -> QRectF:
    """The room that words take, around their middle, with a little air."""
    metrics = painter.fontMetrics()
    return around(middle, metrics.horizontalAdvance(words) + 6.0, float(metrics.height()))


def write_on(
    painter: QPainter, look: Colours, words: str, box: QRectF, ink: str, opaque: bool = False
) -> None:
    """Write words on a slip of paper, which lets show a little of what is under it or nothing."""
    painter.save()
    ground = QColor(look.paper)
    ground.setAlphaF(1.0 if opaque else 0.86)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, 3.0, 3.0)
    painter.setPen(QColor(ink))
    painter.drawText(box, CENTRE, words)
    painter.restore()


def is_free(box: QRectF, taken: Sequence[QRectF], inside: QRectF) -> bool:
    """Whether words fit there."""
    return inside.contains(box) and not any(box.intersects(other) for other in taken)


def stamp(painter: QPainter, look: Colours, words: str, box: QRectF, font: QFont) -> None:
    """Write words large across the top of a chart, framed: what holds of all of it."""
    painter.save()
    painter.setFont(enlarged(font, 1.15, bold=True))
    metrics = painter.fontMetrics()
    tall = 1.4 * metrics.height()
    middle = QPointF(box.center().x(), box.top() + 0.9 * tall)
    slip = around(middle, metrics.horizontalAdvance(words) + tall, tall)
    painter.setPen(QPen(QColor(look.ink), 1.6))
    painter.setBrush(QColor(look.paper))
    painter.drawRect(slip)
    painter.drawText(slip, CENTRE, words)
    painter.restore()
