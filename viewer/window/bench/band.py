"""Between which bends a joint first touches, before its readings and now, as two bars."""

from math import ceil, floor

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QPainter, QPaintEvent
from PyQt6.QtWidgets import QSizePolicy, QWidget

from viewer.bench.told import BenchTold, Span
from viewer.window.kit.theme import colours, em

STEP = 5
"""deg between two ticks."""


class BandView(QWidget):
    """Two bars over one scale of degrees, each with its ends in numbers."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._told: BenchTold | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Where it first touches")

    def show_told(self, told: BenchTold | None) -> None:
        """Show what is known of a joint; nothing without readings."""
        self._told = told if told is not None and told.now is not None else None
        self.setVisible(self._told is not None)
        if self._told is not None and self._told.now and self._told.before:
            says = f"{self._now()} now, {_words(self._told.before)} before"
            self.setAccessibleDescription(says)
            self.setToolTip(f"Bend at which this joint first touches: {says} any reading.")
        self.update()

    def sizeHint(self) -> QSize:
        """Three lines of words."""
        return QSize(round(24 * em(self)), round(5.4 * em(self)))

    def span(self) -> Span:
        """Degrees at the left and right ends, whole ticks."""
        told = self._told
        if told is None or told.before is None or told.now is None:
            return 0.0, 45.0
        low, high = min(told.before[0], told.now[0]), max(told.before[1], told.now[1])
        return STEP * floor((low - 1.0) / STEP), STEP * ceil((high + 1.0) / STEP)

    def x_of(self, bend: float) -> float:
        """Where a bend (deg) lies, px."""
        low, high = self.span()
        lead, behind = 4.5 * em(self), 0.8 * em(self) + self._widest()
        return lead + (bend - low) / (high - low) * (self.width() - lead - behind)

    def _now(self) -> str:
        """The band that is known now, in words; "" where there is none."""
        told = self._told
        if told is None or told.now is None:
            return ""
        return f"{'about ' if told.is_forecast else ''}{_words(told.now)}"

    def _widest(self) -> float:
        """Px of the longer words behind a bar."""
        told = self._told
        before = "" if told is None or told.before is None else _words(told.before)
        across = self.fontMetrics().horizontalAdvance
        return max(float(across(each)) for each in (before, self._now()))

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Draw both bars and the scale below them."""
        told = self._told
        if told is None or told.before is None or told.now is None:
            return
        painter, look, line = QPainter(self), colours(self), em(self)
        low, high = self.span()
        painter.setPen(QColor(look.quiet))
        for bend in range(round(low), round(high) + 1, STEP):
            x = self.x_of(bend)
            painter.drawLine(QPointF(x, 0.2 * line), QPointF(x, 3.4 * line))
            box = QRectF(x - 2.0 * line, 3.5 * line, 4.0 * line, 1.4 * line)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{bend}\N{DEGREE SIGN}")
        self._bar(painter, 0.4 * line, "before", told.before, look.quiet, _words(told.before))
        self._bar(painter, 2.0 * line, "now", told.now, look.ink, self._now(), told.is_forecast)
        painter.end()

    def _bar(
        self,
        painter: QPainter,
        top: float,
        called: str,
        band: Span,
        ink: str,
        says: str,
        is_hollow: bool = False,
    ) -> None:
        """One bar with its words; a forecast is an outline, which nobody takes for the answer."""
        line = em(self)
        left, right = self.x_of(band[0]), self.x_of(band[1])
        box = QRectF(left, top, max(right - left, 3.0), 1.1 * line)
        painter.setPen(QColor(ink))
        if is_hollow:
            painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
        else:
            painter.fillRect(box, QColor(ink))
        align = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(0.0, top, 4.2 * line, 1.1 * line), align, called)
        behind = QRectF(right + 0.4 * line, top, self._widest() + 0.2 * line, 1.1 * line)
        painter.fillRect(behind, self.palette().window().color())
        painter.drawText(behind, align, says)


def _words(band: Span) -> str:
    return f"{band[0]:.1f} to {band[1]:.1f} deg"
