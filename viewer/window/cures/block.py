"""One cure: what to do, what it brings, what it costs, and a press to try it."""

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QColor, QPalette
from PyQt6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from viewer.session.cures.lines import CureLine
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.theme import colours, em, enlarged
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
        head = PlainLabel(f"{number}  {cure.word}")
        head.setFont(enlarged(self.font(), 1.0, bold=True))
        self.mark = VerdictMark(1.2)
        self.mark.show_verdict(cure.verdict)
        self.says = _line(cure.says)
        self.price = _line(" ".join(filter(None, (cure.price, cure.rests))))
        self.button = QPushButton("Try it")
        self.button.setAccessibleName(f"Try cure {number}")
        self.button.setToolTip("Goes on with the rig that this makes; undo takes it back.")
        self.button.clicked.connect(lambda: self.wanted.emit(self.number))
        self.state = PlainLabel(ON_SCREEN)
        self.state.setFont(enlarged(self.font(), 1.0, bold=True))
        top = QHBoxLayout()
        top.addWidget(self.mark)
        top.addWidget(head, stretch=1)
        top.addWidget(self.button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(round(0.15 * em(self)))
        column.addLayout(top)
        column.addWidget(self.state)
        column.addWidget(self.says)
        column.addLayout(self._numbers())
        column.addWidget(self.price)
        self._quiet()
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
        for line, row in enumerate(self.cure.rows):
            grid.addWidget(PlainLabel(row.label), line, 0)
            before, after = PlainLabel(row.before), PlainLabel(row.after)
            before.setAlignment(Qt.AlignmentFlag.AlignRight)
            after.setFont(enlarged(self.font(), 1.0, bold=True))
            for place, label in enumerate(
                (before, PlainLabel("\N{RIGHTWARDS ARROW}"), after), start=1
            ):
                grid.addWidget(label, line, place)
        grid.setColumnStretch(4, 1)
        return grid

    def _quiet(self) -> None:
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.WindowText, QColor(colours(self).quiet))
        self.price.setPalette(palette)


def _line(words: str) -> QLabel:
    label = PlainLabel(words)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
