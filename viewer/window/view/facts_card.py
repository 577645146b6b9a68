"""A card over the 3D view that tells what was clicked: its name, kind and dimensions."""

from html import escape

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QFrame, QLabel, QToolButton, QWidget

from viewer.scene.part import Facts
from viewer.window.kit.pieces import column, row, tall, words

WIDEST, HIGHEST = 0.5, 0.62
"""Share of the view that the card may take."""


class FactsCard(QFrame):
    """Name and dimensions of a part, under a bar; hidden while there is nothing to tell."""

    def __init__(self, parent: QWidget, under: QWidget) -> None:
        super().__init__(parent)
        self._under = under
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.title = words(bold=True)
        self.away = QToolButton()
        self.away.setText("\N{MULTIPLICATION SIGN}")
        self.away.setAutoRaise(True)
        self.away.setAccessibleName("Close this card")
        self.away.setToolTip("Close this card.")
        self.away.clicked.connect(self.hide)
        self.rows = QLabel()
        self.rows.setTextFormat(Qt.TextFormat.RichText)
        self.rows.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._scroll = tall(self.rows)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # the keys scroll what is told
        head = row((self.title, 1), self.away)
        head.setAlignment(self.away, Qt.AlignmentFlag.AlignTop)
        column(head, (self._scroll, 1), on=self).setContentsMargins(8, 6, 6, 8)
        self.hide()

    def tell(self, facts: Facts | None) -> None:
        """Tell about a part, or nothing."""
        if facts is None:
            self.hide()
            return
        title = f"{facts.title[:1].upper()}{facts.title[1:]}"
        self.title.setText(f"{title}: {facts.kind}" if facts.kind else title)
        rows = "".join(
            f"<tr><td>{escape(name)}&nbsp;&nbsp;</td><td>{escape(value)}</td></tr>"
            for name, value in facts.rows
        )
        self.rows.setText(f"<table>{rows}</table>" if rows else "")
        self._scroll.setVisible(bool(rows))
        self.setAccessibleName(facts.says)
        self.show()
        self.place()
        self.raise_()

    def place(self) -> None:
        """Go to the upper left corner, under the bar, no larger than its share of the parent."""
        parent = self.parentWidget()
        if parent is None or self.isHidden():
            return
        inner = self.rows.sizeHint()
        head = max(self.away.sizeHint().height(), self.title.sizeHint().height())
        bar = self._scroll.verticalScrollBar()
        aside = 0 if bar is None else bar.sizeHint().width()
        most = max(self.fontMetrics().averageCharWidth() * 24, int(WIDEST * parent.width()))
        width = min(most, max(inner.width() + aside, self.title.sizeHint().width() + 2 * head) + 24)
        rows = inner.height() + 8 if self.rows.text() else 0
        height = min(int(HIGHEST * parent.height()), head + rows + 28)
        self.setGeometry(8, self._under.geometry().bottom() + 8, width, height)
