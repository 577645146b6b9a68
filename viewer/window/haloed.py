"""Words on a chart that can be read whatever is under them."""

from collections.abc import Sequence

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QPainter

from viewer.window.theme import Colours


def words_box(painter: QPainter, words: str, middle: QPointF) -> QRectF:
    """The room that words take, around their middle, with a little air."""
    metrics = painter.fontMetrics()
    box = QRectF(0.0, 0.0, metrics.horizontalAdvance(words) + 6.0, float(metrics.height()))
    box.moveCenter(middle)
    return box


def write_on(painter: QPainter, look: Colours, words: str, box: QRectF, ink: str) -> None:
    """Write words on a slip of paper."""
    painter.save()
    ground = QColor(look.paper)
    ground.setAlphaF(0.86)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, 3.0, 3.0)
    painter.setPen(QColor(ink))
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words)
    painter.restore()


def is_free(box: QRectF, taken: Sequence[QRectF], inside: QRectF) -> bool:
    """Whether words fit there."""
    return inside.contains(box) and not any(box.intersects(other) for other in taken)
