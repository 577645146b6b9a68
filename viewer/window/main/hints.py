"""A few plain sentences for whoever opens the window for the first time."""

from PyQt6.QtCore import QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QPainter, QPaintEvent
from PyQt6.QtWidgets import QLabel, QSizePolicy, QWidget

from viewer.session.kept.seen import ALL, SeenHints
from viewer.window.kit.pieces import button, row
from viewer.window.kit.theme import colours, em

HINTS = {
    "show": "Press the large button at the top right: it drives the axle to the worst spot.",
    "type": "Type your own measurements on their sheet at the left, with units, such as "
    "36 5/16 in; the answer follows by itself.",
    "worst": "Click a finding to bring the axle to the place it tells of, or move it with the "
    "sliders at the lower right.",
    "hand": "A geometry estimate only: turn the shaft by hand through the whole travel before "
    "anybody drives.",
}
"""Each by the key under which it is remembered as seen."""


class HintBar(QWidget):
    """One hint at a time; hidden once all are seen."""

    def __init__(self, seen: SeenHints | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._seen = seen or SeenHints()
        self.setAccessibleName("Hint")
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.RichText)
        self.words.setWordWrap(True)
        self.words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        tip = "Shows the next hint; this one is not shown again."
        self.got = button("Go&t it", tip, self._on_got)
        tip = "Shows no hints any more; the Help menu brings them back."
        self.never = button("No more hints", tip, self._on_never)
        gap = round(0.5 * em(self))
        line = row((self.words, 1), self.got, self.never, on=self, edge=gap)
        line.setContentsMargins(2 * gap, gap, gap, gap)
        self.refresh()

    @property
    def key(self) -> str | None:
        """Key of the hint that is shown."""
        return next(iter(self._seen.left(HINTS)), None)

    def bring_back(self) -> None:
        """Show all hints again."""
        self._seen.forget()
        self.refresh()

    def refresh(self) -> None:
        """Show the first hint not seen, or nothing."""
        key = self.key
        if key is not None:
            number = list(HINTS).index(key) + 1
            self.words.setText(f"<b>Hint {number} of {len(HINTS)}.</b> {HINTS[key]}")
            self.setAccessibleDescription(HINTS[key])
        self.setVisible(key is not None)

    def _on_got(self) -> None:
        if self.key is not None:
            self._seen.mark(self.key)
        self.refresh()

    def _on_never(self) -> None:
        self._seen.mark(ALL)
        self.refresh()

    def sizeHint(self) -> QSize:
        """Wide rather than high."""
        return QSize(round(50 * em(self)), super().sizeHint().height())

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """A slip of paper with a coloured edge."""
        look = colours(self)
        painter = QPainter(self)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.fillRect(self.rect(), QColor(look.paper))
        edge = 0.25 * em(self)
        painter.fillRect(QRectF(0.0, 0.0, edge, float(self.height())), QColor(look.accent))
        painter.end()
