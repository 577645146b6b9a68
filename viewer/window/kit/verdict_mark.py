"""The mark of a verdict as a widget and as an icon."""

from dataclasses import replace

from PyQt6.QtCore import QRectF, QSize, QSizeF, Qt
from PyQt6.QtGui import QColor, QFont, QIcon, QPainter, QPaintEvent
from PyQt6.QtWidgets import QSizePolicy, QWidget

from sim.findings import ORDER, Verdict
from viewer.window.kit.painting import CENTRE, painted
from viewer.window.kit.theme import Colours, colours, em, paint_mark
from viewer.words.verdicts import VERDICT_WORDS


class VerdictMark(QWidget):
    """The mark of a verdict, so many lines of type high."""

    def __init__(self, lines: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines = lines
        self.verdict: Verdict | None = None
        self.is_old = False
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_verdict(self, verdict: Verdict | None, is_old: bool = False) -> None:
        """Show this one, grey where it is that of an old answer; none at all for None."""
        self.verdict, self.is_old = verdict, is_old
        word = "" if verdict is None else VERDICT_WORDS[verdict]
        self.setAccessibleName(f"Old answer: {word}" if word and is_old else word)
        was = "This was" if is_old else "This is"
        self.setToolTip("" if verdict is None else f"{was} {word.lower()}.")
        self.update()

    def sizeHint(self) -> QSize:
        """A square."""
        side = round(self._lines * em(self))
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint it."""
        if self.verdict is not None:
            look = colours(self)
            if self.is_old:
                look = greyed(look)
            paint_mark(QPainter(self), QRectF(self.rect()), self.verdict, look)


def greyed(look: Colours) -> Colours:
    """The same colours with every verdict in grey: what it was is told by its shape alone."""
    return replace(look, verdicts=dict.fromkeys(ORDER, look.line))


def numbered_icon(
    verdict: Verdict | None, number: int, look: Colours, side: int, ratio: float, font: QFont
) -> QIcon:
    """The mark as an icon `side` px wide and twice as high, with a number below it.

    Without a verdict it is a question mark: something has to be measured first.
    It is on a slip of paper, so that it shows on any ground.
    """
    inset, box = 0.1 * side, QRectF(0.0, 0.0, side, side)

    def paint(painter: QPainter) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.paper))
        painter.drawRoundedRect(QRectF(0.0, 0.0, side, 2.0 * side), 0.2 * side, 0.2 * side)
        painter.setFont(font)
        painter.setPen(QColor(look.ink))
        if verdict is None:
            painter.drawText(box, CENTRE, "?")
        else:
            paint_mark(painter, box.adjusted(inset, inset, -inset, -inset), verdict, look)
        painter.drawText(box.translated(0.0, side - inset), CENTRE, str(number))

    picture = painted(QSizeF(side, 2.0 * side), ratio, paint)
    icon = QIcon(picture)
    icon.addPixmap(picture, QIcon.Mode.Selected)
    return icon
