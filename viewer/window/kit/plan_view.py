"""A line drawing on paper: where a dimension is taken on a part."""

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PyQt6.QtWidgets import QWidget

from viewer.draw.plan import ARROW, INK, Head, Plan, Stroke, Word
from viewer.window.kit.theme import em

EDGE = 0.6
"""Lines of type left free around a drawing."""

THINNEST, THICKEST = 1.0, 3.0
"""px a line is wide at least and at most."""

SMALLEST = 8
"""px of the smallest letters that can be read."""


class PlanView(QWidget):
    """Shows a `Plan`, as large as fits, black on white whatever the palette: it is a drawing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan: Plan | None = None
        self.setAccessibleName("Where it is measured")

    def show_plan(self, plan: Plan | None, says: str) -> None:
        """Show a drawing, or none. says : the same for those who do not see it."""
        self._plan = plan
        self.setAccessibleDescription(says)
        self.setToolTip(says)
        self.update()

    def sizeHint(self) -> QSize:
        """Large enough for a yoke with an arrow beside it."""
        return QSize(round(16 * em(self)), round(13 * em(self)))

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Paint the drawing, its x to the right and y up."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor("white"))
        plan = self._plan
        if plan is None:
            painter.end()
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = EDGE * em(self)
        room = QRectF(self.rect()).adjusted(edge, edge, -edge, -edge)
        wide, tall = (float(size) for size in plan.high - plan.low)
        scale = min(room.width() / wide, room.height() / tall)
        middle = 0.5 * (plan.low + plan.high)

        def place(x: float, y: float) -> QPointF:
            return room.center() + QPointF(x - middle[0], middle[1] - y) * scale

        for mark in plan.marks:
            if isinstance(mark, Stroke):
                painter.setPen(_pen(mark, scale))
                for a, b in mark.segments.tolist():
                    painter.drawLine(place(*a), place(*b))
            elif isinstance(mark, Head):
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(ARROW))
                painter.drawPolygon(QPolygonF([place(*corner) for corner in mark.corners]))
            elif isinstance(mark, Word):
                self._write(painter, mark, place(*mark.at), scale)
        painter.end()

    def _write(self, painter: QPainter, word: Word, at: QPointF, scale: float) -> None:
        """Write a word around its middle."""
        font = self.font()
        font.setPixelSize(max(SMALLEST, round(word.size * scale)))
        font.setBold(word.bold)
        painter.setFont(font)
        painter.setPen(QColor(INK))
        around = painter.fontMetrics().boundingRect(word.text).toRectF().adjusted(-4, -2, 4, 2)
        around.moveCenter(at)
        painter.drawText(around, Qt.AlignmentFlag.AlignCenter, word.text)


def _pen(stroke: Stroke, scale: float) -> QPen:
    width = min(THICKEST, max(THINNEST, stroke.width * scale))
    pen = QPen(QColor(stroke.colour), width)
    pen.setCapStyle(
        Qt.PenCapStyle.RoundCap
        if stroke.round_ends and not stroke.dashes
        else Qt.PenCapStyle.FlatCap
    )
    if stroke.dashes:
        pen.setDashPattern([length * scale / width for length in stroke.dashes])
    return pen
