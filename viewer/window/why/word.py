"""A word of the trade to tick, in one of three states that nobody mixes up, without color too."""

from functools import cache

from PyQt6.QtCore import QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen, QPixmap
from PyQt6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from viewer.seen.pictures import sheet_file, tile_of
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

    def __init__(
        self, word: str, picture: QPixmap | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setText(word)
        self.told: Told = "not looked at"
        self.picture = picture
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
        """As wide as its sign and its word, and under its picture."""
        line = em(self)
        bold = QFontMetrics(enlarged(self.font(), 1.0, bold=True))
        wide, high = bold.horizontalAdvance(self.text()) + 2.1 * line, WORD * line
        if self.picture is not None:
            wide, high = max(wide, PICTURE[0] * line + 2.0 * EDGE), high + PICTURE[1] * line + EDGE
        return QSize(round(wide), round(high))

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint it filled where it is there, framed where not, dashed where nobody looked."""
        look, line, told = colours(self), em(self), self.told
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        box = QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0)
        seen, unknown = told == "seen", told == "not looked at"
        style = Qt.PenStyle.DashLine if unknown else Qt.PenStyle.SolidLine
        edge = QColor(look.ink if self.hasFocus() else look.line)
        ground = look.accent if seen else look.grid if self.underMouse() else look.paper
        painter.setPen(QPen(edge, 2.0 if self.hasFocus() else 1.0, style))
        painter.setBrush(QColor(look.window if unknown and not self.underMouse() else ground))
        painter.drawRoundedRect(box, 0.35 * line, 0.35 * line)
        if self.picture is not None:
            wide, high = (side * line for side in PICTURE)
            place = QRectF(0.5 * (self.width() - wide), EDGE, wide, high)
            painter.setOpacity(FAINT if unknown else 1.0)
            painter.drawPixmap(place, self.picture, QRectF(self.picture.rect()))
            painter.setOpacity(1.0)
            box.setTop(place.bottom())
        painter.setPen(QColor(look.on_accent if seen else look.quiet if unknown else look.ink))
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(box.adjusted(0.4 * line, 0, 0, 0), middle, _SIGNS[told])
        font = self.font()
        font.setBold(seen)
        painter.setFont(font)
        painter.drawText(box.adjusted(1.5 * line, 0, 0, 0), middle, self.text())


WORD = 1.6
"""Lines of type that a word is high."""

PICTURE = (6.4, 4.8)
"""Lines of type that the picture of a word is wide and high."""

EDGE = 4.0
"""px around a picture."""

FAINT = 0.75
"""How dense a picture is that nobody has said anything of."""


def picture_of(key: str, word: str) -> QPixmap | None:
    """The picture of a word of a list, by its key path; None where it has none."""
    tile = tile_of(key, word)
    if tile is None:
        return None
    return _sheet().copy(tile.left, tile.top, tile.width, tile.height)


@cache
def _sheet() -> QPixmap:
    sheet = QPixmap()
    sheet.loadFromData(sheet_file().read_bytes())
    return sheet
