"""Two versions of the rig side by side: put one aside, change the other, see what it brought."""

from collections.abc import Sequence

from PyQt6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from viewer.session.compare import answer_differences, typed_differences
from viewer.session.session import Session
from viewer.window.compare.line_table import LineTable
from viewer.window.kit.follower import Follower, Link
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.scrolled import tall
from viewer.window.kit.theme import em, enlarged

HOW = (
    "Put this version aside, then change a measurement or choose other yokes: what differs, and "
    "what became better or worse, stands here line by line."
)


class ComparePanel(Follower):
    """What differs between the version put aside and this one."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Two versions")
        self.aside = self._button("P&ut this version aside", "Keeps it to compare with.")
        self.aside.clicked.connect(self._on_aside)
        self.swap = self._button("S&wap", "Goes on with the version put aside; undo takes it back.")
        self.swap.clicked.connect(session.swap)
        self.drop = self._button("Drop &it", "Forgets the version put aside.")
        self.drop.clicked.connect(session.drop_other)
        buttons = QHBoxLayout()
        for button in (self.aside, self.swap, self.drop):
            buttons.addWidget(button)
        buttons.addStretch(1)
        self.says = PlainLabel()
        self.says.setWordWrap(True)
        self.says.setAccessibleName("State of the comparison")
        self.typed = LineTable("What is typed differently")
        self.answers = LineTable("What became of it")
        self._heads = [self._head("Typed differently"), self._head("What became of it")]
        column = QVBoxLayout(self)
        gap = round(0.4 * em(self))
        column.setContentsMargins(gap, gap, gap, gap)
        column.setSpacing(gap)
        column.addLayout(buttons)
        column.addWidget(self.says)
        inside = QWidget()
        lines = QVBoxLayout(inside)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(gap)
        for head, table in zip(self._heads, self._tables(), strict=True):
            lines.addWidget(head)
            lines.addWidget(table)
        lines.addStretch(1)
        column.addWidget(tall(inside), 1)
        self.setFocusProxy(self.aside)
        self.follow()

    def links(self) -> Sequence[Link]:
        """The text, the answer, and what was put aside."""
        session = self.session
        return (
            (session.rig_changed, self.refresh),
            (session.answered, self.refresh),
            (session.compared, self.refresh),
        )

    def refresh(self) -> None:
        """Show what differs now."""
        other, check = self.session.other, self.session.check
        fresh = self.session.answers.state == "fresh"
        self.aside.setEnabled(check is not None and fresh)
        self.swap.setEnabled(other is not None)
        self.drop.setEnabled(other is not None)
        for part in (*self._heads, *self._tables()):
            part.setVisible(other is not None)
        if other is None:
            self.says.setText(HOW)
            return
        typed = typed_differences(other.text, self.session.document.text)
        self.typed.fill(typed)
        self._heads[0].setText("Typed differently" if typed else "Nothing is typed differently")
        self.typed.setVisible(bool(typed))
        if check is not None:
            self.answers.fill(answer_differences(other.check, check))
        self.says.setText(
            "Before is the version put aside; now is the one being worked on."
            + ("" if fresh else " The answers of now are old: a new one is not there yet.")
        )

    def _on_aside(self) -> None:
        self.session.put_aside()

    def _button(self, text: str, tip: str) -> QPushButton:
        button = QPushButton(text)
        button.setToolTip(tip)
        button.setAccessibleName(text.replace("&", ""))
        button.setAccessibleDescription(tip)
        return button

    def _head(self, text: str) -> QLabel:
        head = PlainLabel(text)
        head.setFont(enlarged(self.font(), 1.0, bold=True))
        return head

    def _tables(self) -> tuple[LineTable, LineTable]:
        return self.typed, self.answers
