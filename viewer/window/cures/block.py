"""One cure: its name, what it comes to, a press to try it, and the rest when it is opened."""

from PyQt6.QtCore import QSize, Qt, pyqtSignal
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QGridLayout, QWidget

from viewer.session.cures.lines import CureLine
from viewer.window.kit.pieces import button, column, ink, row, words
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import colours, em
from viewer.window.kit.verdict_mark import VerdictMark

ON_SCREEN = "This is the rig now; Undo takes it back."

MOST_LINES = 3
"""Lines that a name takes at most; the rest of it is read when the cure is opened."""


class CureBlock(QWidget):
    """A cure with its number in the list.

    Attributes
    ----------
    name : in a few words. more : opens the rest. rest : what to do, the numbers, the downside.

    Signals
    -------
    wanted : it is to be tried; its number.
    """

    wanted = pyqtSignal(int)

    def __init__(self, number: int, cure: CureLine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.number, self.cure = number, cure
        self.setAccessibleName(f"Cure {number}")
        self.setAccessibleDescription(cure.says)
        head = words(f"{number}  {cure.word}", bold=True, wraps=False)
        self.mark = VerdictMark(1.2)
        self.mark.show_verdict(cure.verdict)
        self.name = words(cure.name, size=1.05, selects=True)
        self.name.setToolTip(plain_tip(cure.name))
        self.says = words(cure.says, selects=True)
        self.price = words(" ".join(filter(None, (cure.price, cure.rests))), selects=True)
        tip = "What to do in full, the numbers before and after, and the downside."
        self.more = button("More", tip, self._turn, called=f"More on cure {number}")
        self.button = button(
            "Try it",
            "Goes on with the rig that this makes; undo takes it back.",
            lambda: self.wanted.emit(self.number),
            called=f"Try cure {number}",
        )
        self.state = words(ON_SCREEN, bold=True)
        gap = round(0.15 * em(self))
        self.rest = QWidget()
        column(self.says, self._numbers(), self.price, on=self.rest, gap=gap, edge=0)
        top = row(self.mark, (head, 1), self.more, self.button)
        column(top, self.state, self.name, self.rest, on=self, gap=gap, edge=0)
        ink(self.price, colours(self).quiet)
        self.rest.hide()
        self.show_state(holds=True, is_tried=False)

    def show_state(self, holds: bool, is_tried: bool) -> None:
        """Whether it is a cure of the rig as it stands, and whether it is in it."""
        self.button.setVisible(not is_tried)
        self.button.setEnabled(holds)
        self.state.setVisible(is_tried)

    def minimumSizeHint(self) -> QSize:
        """As narrow folded as opened: to open one moves no border."""
        inner = self.rest.minimumSizeHint().width()
        return super().minimumSizeHint().expandedTo(QSize(inner, 0))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Say as much of the name as has room in its lines."""
        super().resizeEvent(event)
        line, name = self.name.fontMetrics().lineSpacing(), self.cure.name
        self.name.setText(name)
        while self.name.heightForWidth(self.width()) > (MOST_LINES + 0.5) * line and " " in name:
            name = name.rpartition(" ")[0]
            self.name.setText(f"{name} \N{HORIZONTAL ELLIPSIS}")

    def _turn(self) -> None:
        opens = self.rest.isHidden()
        self.rest.setVisible(opens)
        self.more.setText("Less" if opens else "More")

    def _numbers(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(round(0.8 * em(self)))
        grid.setVerticalSpacing(0)
        for line, each in enumerate(self.cure.rows):
            label = words(each.label, wraps=False)
            numbers = words(f"{each.before} \N{RIGHTWARDS ARROW} {each.after}", selects=True)
            ink(label, colours(self).quiet)
            grid.addWidget(label, line, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(numbers, line, 1)
        grid.setColumnStretch(1, 1)
        return grid
