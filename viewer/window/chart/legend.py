"""What the hatching and the marks of a chart stand for, in a line or two that wrap."""

from collections.abc import Callable, Sequence

from PyQt6.QtCore import QPointF, QRectF, QSize
from PyQt6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QResizeEvent
from PyQt6.QtWidgets import QSizePolicy, QWidget

from viewer.window.kit.painting import LEFT
from viewer.window.kit.theme import em, enlarged

Entry = tuple[str, Callable[[QPainter, QRectF], None]]
"""Words, and what paints the sample before them."""


class Legend(QWidget):
    """Samples with their words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries: Sequence[Entry] = ()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_entries(self, entries: Sequence[Entry]) -> None:
        """Show these."""
        self._entries = entries
        self.setAccessibleName(", ".join(words for words, _ in entries))
        self._fit()
        self.update()

    def sizeHint(self) -> QSize:
        """As many lines as are needed at this width."""
        rows = 1 + max((row for row, _ in self._laid()), default=0)
        return QSize(round(10 * em(self)), round(rows * 1.15 * em(self)))

    def minimumSizeHint(self) -> QSize:
        """The same."""
        return self.sizeHint()

    def _laid(self) -> list[tuple[int, float]]:
        """Row and left end of each entry."""
        metrics, line = QFontMetricsF(enlarged(self.font(), 0.9)), em(self)
        row, left, laid = 0, 0.0, []
        for words, _ in self._entries:
            wide = 1.8 * line + metrics.horizontalAdvance(words) + 0.9 * line
            if left and left + wide - 0.8 * line > self.width():
                row, left = row + 1, 0.0
            laid.append((row, left))
            left += wide
        return laid

    def _fit(self) -> None:
        tall = self.sizeHint().height()
        if tall != self.height():
            self.setFixedHeight(tall)

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Wrap anew."""
        super().resizeEvent(event)
        self._fit()

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint each sample and write its words."""
        painter, line = QPainter(self), em(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        small = enlarged(self.font(), 0.9)
        for (words, paint), (row, left) in zip(self._entries, self._laid(), strict=True):
            corner = QPointF(left + 1.0, row * 1.15 * line + 0.12 * line)
            painter.save()
            paint(painter, QRectF(corner.x(), corner.y(), 1.5 * line, 0.85 * line))
            painter.restore()
            painter.setFont(small)
            painter.setPen(self.palette().windowText().color())
            box = QRectF(left + 1.8 * line, row * 1.15 * line, self.width(), 1.1 * line)
            painter.drawText(box, LEFT, words)
