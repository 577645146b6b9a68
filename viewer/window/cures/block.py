"""One cure: what to do, what it brings, what it costs, and a press to try it."""

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QGridLayout, QWidget

from viewer.session.cures.lines import CureLine
from viewer.window.kit.pieces import button, column, ink, row, words
from viewer.window.kit.theme import colours, em
from viewer.window.kit.verdict_mark import VerdictMark

ON_SCREEN = "This is the rig now; Undo takes it back."


class CureBlock(QWidget):
    """A cure with its number in the list.

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
        self.says = words(cure.says, selects=True)
        self.price = words(" ".join(filter(None, (cure.price, cure.rests))), selects=True)
        self.button = button(
            "Try it",
            "Goes on with the rig that this makes; undo takes it back.",
            lambda: self.wanted.emit(self.number),
            called=f"Try cure {number}",
        )
        self.state = words(ON_SCREEN, bold=True, wraps=False)
        top = row(self.mark, (head, 1), self.button)
        gap = round(0.15 * em(self))
        column(top, self.state, self.says, self._numbers(), self.price, on=self, gap=gap, edge=0)
        ink(self.price, colours(self).quiet)
        self.show_state(holds=True, is_tried=False)

    def show_state(self, holds: bool, is_tried: bool) -> None:
        """Whether it is a cure of the rig as it stands, and whether it is in it."""
        self.button.setVisible(not is_tried)
        self.button.setEnabled(holds)
        self.state.setVisible(is_tried)

    def _numbers(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(round(0.8 * em(self)))
        grid.setVerticalSpacing(0)
        for line, each in enumerate(self.cure.rows):
            cells = [
                words(text, wraps=False)
                for text in (each.label, each.before, "\N{RIGHTWARDS ARROW}")
            ]
            cells[1].setAlignment(Qt.AlignmentFlag.AlignRight)
            for place, label in enumerate((*cells, words(each.after, bold=True, wraps=False))):
                grid.addWidget(label, line, place)
        grid.setColumnStretch(4, 1)
        return grid
