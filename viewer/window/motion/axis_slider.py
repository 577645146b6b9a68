"""A slider for one axis of the pose, and the marks below it that say where its ends are."""

from PyQt6.QtCore import QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QWheelEvent
from PyQt6.QtWidgets import QSlider, QStyle, QWidget

from viewer.window.kit.theme import colours, em, enlarged

ON, BACK = {Qt.Key.Key_Right, Qt.Key.Key_Up}, {Qt.Key.Key_Left, Qt.Key.Key_Down}


class AxisSlider(QSlider):
    """A slider of whole fine steps; the wheel is left to the row it stands in."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.goes_round = False
        """Whether a step past one end comes in at the other."""

    def wheelEvent(self, event: QWheelEvent | None) -> None:
        """Let the row have it."""
        if event is not None:
            event.ignore()

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Move as sliders do; a slider that goes round does not stop at its ends."""
        if event is not None and self.goes_round:
            key = event.key()
            if key in ON and self.value() == self.maximum():
                self.setValue(self.minimum())
                return
            if key in BACK and self.value() == self.minimum():
                self.setValue(self.maximum())
                return
        super().keyPressEvent(event)

    def place(self, value: int) -> float:
        """Where a value lies across the slider, px."""
        style = self.style()
        handle = 0
        if style is not None:
            handle = style.pixelMetric(QStyle.PixelMetric.PM_SliderLength, None, self)
        inside = QStyle.sliderPositionFromValue(
            self.minimum(), self.maximum(), value, max(0, self.width() - handle)
        )
        return inside + 0.5 * handle


class SpanMarks(QWidget):
    """Ticks and words under a slider: both ends and the middle."""

    def __init__(self, slider: AxisSlider, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._slider = slider
        self.low, self.middle, self.high = "", "", ""
        self.short = "", ""
        """Both ends in fewer words, for a slider too narrow for all of them."""
        self.middle_at: int | None = 0
        """Value of the slider that the middle word stands for."""

    def sizeHint(self) -> QSize:
        """One line of small type and room for the ticks."""
        return QSize(round(12 * em(self)), round(1.15 * em(self)))

    def minimumSizeHint(self) -> QSize:
        """As high as that, and narrow."""
        return QSize(round(5.5 * em(self)), round(1.15 * em(self)))

    def ends(self, letters: QFontMetricsF) -> tuple[str, str]:
        """The words at both ends that have room beside each other; where none have, the first."""
        for low, high in ((self.low, self.high), self.short):
            if letters.horizontalAdvance(f"{low}   {high}") <= self.width():
                return low, high
        return self.short[0], ""

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Draw the ends first; the middle only where it has room."""
        painter, look, slider = QPainter(self), colours(self), self._slider
        tick = 0.22 * em(self)
        small, bold = enlarged(self.font(), 0.9), enlarged(self.font(), 0.9, bold=True)
        value, taken = slider.value(), []
        low, high = self.ends(QFontMetricsF(bold))
        for words, at, side in (
            (low, slider.minimum(), Qt.AlignmentFlag.AlignLeft),
            (high, slider.maximum(), Qt.AlignmentFlag.AlignRight),
        ):
            here = value == at and slider.minimum() < slider.maximum()
            painter.setFont(bold if here else small)
            painter.setPen(QColor(look.ink if here else look.quiet))
            x = slider.place(at)
            painter.drawLine(round(x), 0, round(x), round(tick))
            box = QRectF(0.0, tick, self.width(), self.height() - tick)
            taken.append(painter.boundingRect(box, int(side), words))
            painter.drawText(box, int(side), words)
        if self.middle_at is None:
            return
        x = slider.place(self.middle_at)
        painter.setFont(bold if value == self.middle_at else small)
        painter.setPen(QColor(look.quiet))
        painter.drawLine(round(x), 0, round(x), round(tick))
        wide = painter.fontMetrics().horizontalAdvance(self.middle)
        box = QRectF(x - 0.5 * wide, tick, wide, self.height() - tick)
        gap = 0.5 * em(self)
        if not any(box.adjusted(-gap, 0.0, gap, 0.0).intersects(other) for other in taken):
            painter.drawText(box, int(Qt.AlignmentFlag.AlignLeft), self.middle)
