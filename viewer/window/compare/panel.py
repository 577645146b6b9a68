"""Two versions of the rig side by side: put one aside, change the other, see what it brought."""

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QWidget

from viewer.session.compare import answer_differences, typed_differences
from viewer.session.session import Session
from viewer.window.compare.line_table import LineTable
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import button, column, row, tall, words
from viewer.window.kit.theme import em

HOW = (
    "Put this version aside, then change a measurement or choose other yokes: what differs, and "
    "what became better or worse, stands here line by line."
)


class ComparePanel(Follower):
    """What differs between the version put aside and this one.

    Signals
    -------
    both_wanted : both are to be seen side by side.
    """

    both_wanted = pyqtSignal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Two versions")
        self.aside = button("P&ut this version aside", "Keeps it to compare with.", self._on_aside)
        self.swap = button(
            "S&wap", "Goes on with the version put aside; undo takes it back.", session.swap
        )
        self.drop = button("Drop &it", "Forgets the version put aside.", session.drop_other)
        tip = "Shows both in 3D side by side, in the same position, from the same eye."
        self.both = button("Show side b&y side", tip, self.both_wanted)
        self.says = words(called="State of the comparison")
        self.typed = LineTable("What is typed differently")
        self.answers = LineTable("What became of it")
        self._head = words("Typed differently", bold=True, wraps=False)
        answers_head = words("What became of it", bold=True, wraps=False)
        self._parts = (self._head, self.typed, answers_head, self.answers)
        gap, inside = round(0.4 * em(self)), QWidget()
        column(*self._parts, None, on=inside, gap=gap, edge=0)
        buttons = row(self.aside, self.swap, self.drop, None)
        column(
            buttons, row(self.both, None), self.says, (tall(inside), 1), on=self, gap=gap, edge=gap
        )
        self.setFocusProxy(self.aside)
        told = (session.rig_changed, session.answered, session.compared)
        self.follow(*((signal, self.refresh) for signal in told))

    def refresh(self) -> None:
        """Show what differs now."""
        other, check = self.session.other, self.session.check
        fresh = self.session.answers.state == "fresh"
        self.aside.setEnabled(check is not None and fresh)
        self.swap.setEnabled(other is not None)
        self.drop.setEnabled(other is not None)
        self.both.setEnabled(other is not None)
        for part in self._parts:
            part.setVisible(other is not None)
        if other is None:
            self.says.setText(HOW)
            return
        typed = typed_differences(other.text, self.session.document.text)
        self.typed.fill(typed)
        self._head.setText("Typed differently" if typed else "Nothing is typed differently")
        self.typed.setVisible(bool(typed))
        if check is not None:
            self.answers.fill(answer_differences(other.check, check))
        self.says.setText(
            "Before is the version put aside; now is the one being worked on."
            + ("" if fresh else " The answers of now are old: a new one is not there yet.")
        )

    def _on_aside(self) -> None:
        self.session.put_aside()
