"""What was found over the whole travel, worst first; each goes to its worst pose."""

from PyQt6.QtCore import QModelIndex, QSize, Qt
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from viewer.session.session import Session
from viewer.session.state_words import finding_words
from viewer.window.theme import colours, em
from viewer.window.verdict_mark import verdict_icon
from viewer.words import VERDICT_WORDS


class _MarkOnTop(QStyledItemDelegate):
    """Puts the mark beside the first line of a finding, not beside its middle."""

    def initStyleOption(self, option: QStyleOptionViewItem | None, index: QModelIndex) -> None:
        super().initStyleOption(option, index)
        if option is not None:
            option.decorationAlignment = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter


class FindingsList(QListWidget):
    """A click or Enter on a finding moves the axle to its worst pose."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setAccessibleName("Findings over the whole travel, worst first")
        self.setToolTip("Click a finding, or press Enter on it, to see its worst pose.")
        self.setItemDelegate(_MarkOnTop(self))
        self.setWordWrap(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setMinimumHeight(round(8 * em(self)))
        self.itemClicked.connect(self._go)
        self.itemActivated.connect(self._go)

    def refresh(self) -> None:
        """List the findings anew."""
        check, row = self._session.check, self.currentRow()
        self.clear()
        if check is None:
            return
        side, look = round(1.2 * em(self)), colours(self)
        self.setIconSize(QSize(side, side))
        for number, finding in enumerate(check.findings, start=1):
            words = finding_words(number, finding)
            item = QListWidgetItem(
                verdict_icon(finding.verdict, look, side, self.devicePixelRatioF()), words
            )
            item.setData(
                Qt.ItemDataRole.AccessibleTextRole, f"{VERDICT_WORDS[finding.verdict]}: {words}"
            )
            self.addItem(item)
        if row >= 0:
            self.setCurrentRow(min(row, self.count() - 1))

    def _go(self, item: QListWidgetItem) -> None:
        check = self._session.check
        if check is not None:
            self._session.go_to(check.findings[self.row(item)])
