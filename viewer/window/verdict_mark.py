"""The mark of a verdict as a widget and as an icon."""

from PyQt6.QtCore import QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QIcon, QPainter, QPaintEvent, QPixmap
from PyQt6.QtWidgets import QSizePolicy, QWidget

from sim.findings import Verdict
from viewer.window.theme import Colours, colours, em, paint_mark
from viewer.words import VERDICT_WORDS


class VerdictMark(QWidget):
    """The mark of a verdict, so many lines of type high."""

    def __init__(self, lines: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines = lines
        self.verdict: Verdict | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_verdict(self, verdict: Verdict | None) -> None:
        """Show this one; none at all for None."""
        self.verdict = verdict
        word = "" if verdict is None else VERDICT_WORDS[verdict]
        self.setAccessibleName(word)
        self.setToolTip("" if verdict is None else f"This is {word.lower()}.")
        self.update()

    def sizeHint(self) -> QSize:
        """A square."""
        side = round(self._lines * em(self))
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint it."""
        if self.verdict is not None:
            paint_mark(QPainter(self), QRectF(self.rect()), self.verdict, colours(self))


def verdict_icon(verdict: Verdict, look: Colours, side: int, ratio: float) -> QIcon:
    """The mark as an icon of so many px, on a slip of paper so that it shows on any ground."""
    picture = QPixmap(round(side * ratio), round(side * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.paper))
    box = QRectF(0.0, 0.0, side, side)
    painter.drawRoundedRect(box, 0.2 * side, 0.2 * side)
    inset = 0.1 * side
    paint_mark(painter, box.adjusted(inset, inset, -inset, -inset), verdict, look)
    painter.end()
    icon = QIcon(picture)
    icon.addPixmap(picture, QIcon.Mode.Selected)
    return icon
