"""Two versions of the rig side by side: put one aside, change the other, see what it brought."""

from collections.abc import Sequence

from PyQt6.QtCore import QRectF, Qt
from PyQt6.QtGui import QIcon, QPainter, QPixmap
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sim.findings import Verdict
from viewer.session.compare import Better, Difference, answer_differences, typed_differences
from viewer.session.session import Session
from viewer.window.follower import Follower, Link
from viewer.window.theme import colours, em, enlarged, paint_mark

SIGNS: dict[Better, str] = {
    "better": "\N{BLACK UP-POINTING TRIANGLE} better",
    "worse": "\N{BLACK DOWN-POINTING TRIANGLE} worse",
    "same": "= same",
    "": "",
}

HOW = (
    "Put this version aside, then change a measurement or choose other yokes: what differs, and "
    "what became better or worse, stands here line by line."
)


class ComparePanel(Follower):
    """What differs between the version put aside and this one."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Two versions")
        self.aside = self._button("&Put this version aside", "Keeps it to compare with.")
        self.aside.clicked.connect(self._on_aside)
        self.swap = self._button("S&wap", "Goes on with the version put aside; undo takes it back.")
        self.swap.clicked.connect(session.swap)
        self.drop = self._button("&Drop it", "Forgets the version put aside.")
        self.drop.clicked.connect(session.drop_other)
        buttons = QHBoxLayout()
        for button in (self.aside, self.swap, self.drop):
            buttons.addWidget(button)
        buttons.addStretch(1)
        self.says = QLabel()
        self.says.setWordWrap(True)
        self.says.setTextFormat(Qt.TextFormat.PlainText)
        self.says.setAccessibleName("State of the comparison")
        self.typed = self._table("What is typed differently")
        self.answers = self._table("What became of it")
        self._heads = [self._head("Typed differently"), self._head("What became of it")]
        column = QVBoxLayout(self)
        gap = round(0.4 * em(self))
        column.setContentsMargins(gap, gap, gap, gap)
        column.setSpacing(gap)
        column.addLayout(buttons)
        column.addWidget(self.says)
        for head, table, share in zip(self._heads, self._tables(), (2, 5), strict=True):
            column.addWidget(head)
            column.addWidget(table, share)
        column.addStretch(0)
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
        _fill(self.typed, typed)
        self._heads[0].setText("Typed differently" if typed else "Nothing is typed differently")
        self.typed.setVisible(bool(typed))
        if check is not None:
            _fill(self.answers, answer_differences(other.check, check))
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
        head = QLabel(text)
        head.setFont(enlarged(self.font(), 1.0, bold=True))
        return head

    def _tables(self) -> tuple[QTableWidget, QTableWidget]:
        return self.typed, self.answers

    def _table(self, name: str) -> QTableWidget:
        table = QTableWidget(0, 3)
        table.setAccessibleName(name)
        table.setHorizontalHeaderLabels(["", "Before", "Now"])
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setTabKeyNavigation(False)
        table.setShowGrid(False)
        table.setAlternatingRowColors(True)
        table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        side = round(0.9 * em(self))
        table.setIconSize(QPixmap(side, side).size())
        if head := table.verticalHeader():
            head.hide()
            head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        if head := table.horizontalHeader():
            head.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
            head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return table


def _fill(table: QTableWidget, lines: Sequence[Difference]) -> None:
    """Write the lines; cells that say the same are left as they are, with their selection."""
    table.setRowCount(len(lines))
    for row, line in enumerate(lines):
        now = f"{line.now}\n{SIGNS[line.better]}" if line.better else line.now
        marks = line.verdicts or (None, None)
        _write(table, row, 0, line.label, None)
        _write(table, row, 1, line.before, marks[0])
        _write(table, row, 2, now, marks[1], bold=line.better in ("better", "worse"))


def _write(
    table: QTableWidget,
    row: int,
    place: int,
    text: str,
    verdict: Verdict | None,
    bold: bool = False,
) -> None:
    item = table.item(row, place)
    if item is None:
        item = QTableWidgetItem()
        table.setItem(row, place, item)
    if item.text() != text:
        item.setText(text)
        item.setToolTip(text)
    item.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
    item.setFont(enlarged(table.font(), 1.0, bold=bold))
    item.setIcon(QIcon() if verdict is None else _icon(verdict, table))


def _icon(verdict: Verdict, table: QTableWidget) -> QIcon:
    """The mark of a verdict, sharp on any screen."""
    ratio = table.devicePixelRatioF()
    size = table.iconSize()
    picture = QPixmap(size * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    paint_mark(painter, QRectF(0.0, 0.0, size.width(), size.height()), verdict, colours(table))
    painter.end()
    return QIcon(picture)
