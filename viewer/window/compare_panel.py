"""Two versions of the rig: what differs, and what comes of it."""

from collections.abc import Sequence

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QColor
from PyQt6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from viewer.session.compare import Difference, answer_differences, rig_differences
from viewer.session.session import Session
from viewer.window.follower import Follower, Link
from viewer.window.theme import colours, em

SIGNS = {
    "better": "\N{BLACK UP-POINTING TRIANGLE} better",
    "worse": "\N{BLACK DOWN-POINTING TRIANGLE} worse",
    "": "",
}

NOTHING = (
    "Put this version aside, then change something: what differs and what comes of it is shown "
    "here, and the version put aside as a ghost in the picture."
)


class ComparePanel(Follower):
    """The version put aside against the one being worked on."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Two versions")
        column = QVBoxLayout(self)
        gap = round(0.4 * em(self))
        column.setContentsMargins(gap, gap, gap, gap)
        row = QHBoxLayout()
        self.aside = self._button("&Put aside", "Keeps this version to compare with.")
        self.aside.clicked.connect(lambda: self.session.put_aside("put aside"))
        self.swap = self._button("&Swap", "Goes on with the other version; undo takes it back.")
        self.swap.clicked.connect(self.session.swap)
        self.drop = self._button("&Forget it", "Compares no more.")
        self.drop.clicked.connect(self.session.drop_other)
        for button in (self.aside, self.swap, self.drop):
            row.addWidget(button)
        column.addLayout(row)
        self.said = QLabel(NOTHING)
        self.said.setWordWrap(True)
        column.addWidget(self.said)
        self.typed = self._table(("Typed", "aside", "now"))
        self.answer = self._table(("Comes to", "aside", "now", ""))
        column.addWidget(self.typed, 1)
        column.addWidget(self.answer, 2)
        self.setFocusProxy(self.aside)
        self.follow()

    def links(self) -> Sequence[Link]:
        """Hear of versions, texts and answers."""
        session = self.session
        return (
            (session.compared, self.refresh),
            (session.answered, self.refresh),
            (session.rig_changed, self.refresh),
        )

    def refresh(self) -> None:
        """Show both tables anew."""
        session = self.session
        has = session.other is not None
        self.aside.setEnabled(session.check is not None)
        self.swap.setEnabled(has)
        self.drop.setEnabled(has)
        self.typed.setVisible(has)
        self.answer.setVisible(has)
        typed, answer = rig_differences(session), answer_differences(session)
        self._fill(self.typed, typed)
        self._fill(self.answer, answer)
        self.said.setText(self._words(len(typed)) if has else NOTHING)

    def _words(self, count: int) -> str:
        state = self.session.answers.state
        if state != "fresh":
            return "The answer of now is not there yet; what it comes to is still the old one."
        if count == 0:
            return "Both versions are the same."
        return f"{count} measurement{'s differ' if count > 1 else ' differs'}."

    def _fill(self, table: QTableWidget, lines: Sequence[Difference]) -> None:
        look = colours(self)
        table.setRowCount(len(lines))
        for row, line in enumerate(lines):
            cells = (line.what, line.aside, line.now, SIGNS[line.better])
            for column in range(table.columnCount()):
                item = QTableWidgetItem(cells[column])
                item.setToolTip(cells[column])
                if column == 3 and line.better:
                    better = line.better == "better"
                    tone = look.verdicts["clear"] if better else look.verdicts["touches"]
                    item.setForeground(QColor(tone))
                table.setItem(row, column, item)
        table.resizeRowsToContents()

    def _table(self, heads: tuple[str, ...]) -> QTableWidget:
        table = QTableWidget(0, len(heads))
        table.setHorizontalHeaderLabels(list(heads))
        table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        table.setWordWrap(True)
        table.setTabKeyNavigation(False)
        table.setAccessibleName(heads[0])
        if side := table.verticalHeader():
            side.hide()
        if top := table.horizontalHeader():
            top.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
            top.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return table

    def _button(self, text: str, tip: str) -> QPushButton:
        button = QPushButton(text)
        button.setToolTip(tip)
        return button
