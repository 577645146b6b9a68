"""A word of the trade to tick, in one of three states that nobody mixes up, without color too."""

from PyQt6.QtCore import QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QFontMetrics, QIcon, QPainter, QPaintEvent, QPen
from PyQt6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from viewer.session.why.rows import Told
from viewer.window.kit.theme import colours, em, enlarged

_SIGNS: dict[Told, str] = {
    "seen": "\N{HEAVY CHECK MARK}",
    "not there": "\N{EN DASH}",
    "not looked at": "?",
}
"""What stands before a word: there, not there, nobody looked."""

_TIPS: dict[Told, str] = {
    "seen": "Seen. Press to take it back.",
    "not there": "Looked at, and it is not there. Press if it is.",
    "not looked at": "Nobody has looked yet. Press if it is there; the others of this list then "
    "count as looked at and not there.",
}


class WordButton(QAbstractButton):
    """A word with its state; a press says that it is there, or takes that back."""

    def __init__(self, word: str, picture: QIcon | None = None, parent: QWidget | None = None):
        super().__init__(parent)
        self.setText(word)
        self.told: Told = "not looked at"
        if picture is not None:
            self.setIcon(picture)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_told(self, told: Told) -> None:
        """Show what is told of it."""
        self.told = told
        self.setAccessibleName(f"{self.text()}: {told}")
        self.setToolTip(f"{self.text()[:1].upper()}{self.text()[1:]}. {_TIPS[told]}")
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as its picture, its sign and its word."""
        line = em(self)
        bold = QFontMetrics(enlarged(self.font(), 1.0, bold=True))
        wide = bold.horizontalAdvance(self.text()) + 2.1 * line
        high = 1.6 * line
        if not self.icon().isNull():
            wide, high = wide + PICTURE * line, max(high, PICTURE * line)
        return QSize(round(wide), round(high))

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint it filled where it is there, framed where not, dashed where nobody looked."""
        look, line, told = colours(self), em(self), self.told
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0)
        seen, unknown = told == "seen", told == "not looked at"
        style = Qt.PenStyle.DashLine if unknown else Qt.PenStyle.SolidLine
        edge = QColor(look.ink if self.hasFocus() else look.line)
        painter.setPen(QPen(edge, 2.0 if self.hasFocus() else 1.0, style))
        painter.setBrush(QColor(look.accent if seen else look.window if unknown else look.paper))
        painter.drawRoundedRect(box, 0.35 * line, 0.35 * line)
        if self.underMouse() and not seen:
            painter.setBrush(QColor(look.grid))
            painter.drawRoundedRect(box, 0.35 * line, 0.35 * line)
        ink = QColor(look.on_accent if seen else look.quiet if unknown else look.ink)
        left = 0.4 * line
        if not self.icon().isNull():
            side = PICTURE * line - 4.0
            place = QRectF(3.0, 0.5 * (self.height() - side), side, side)
            self.icon().paint(painter, place.toRect())
            left += PICTURE * line
        painter.setPen(ink)
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(box.adjusted(left, 0, 0, 0), middle, _SIGNS[told])
        font = self.font()
        font.setBold(seen)
        painter.setFont(font)
        painter.drawText(box.adjusted(left + 1.1 * line, 0, 0, 0), middle, self.text())


PICTURE = 2.6
"""Lines of type that the picture of a word is high."""
