"""What was found over the whole travel, worst first; each goes to its worst pose."""

from PyQt6.QtCore import QEvent, QModelIndex, QRect, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QResizeEvent, QWheelEvent
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QListView,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from sim.findings import Code, Finding
from viewer.session.session import Session
from viewer.session.told.state_words import OLD, finding_words, is_old
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import colours, em, enlarged
from viewer.window.kit.verdict_mark import greyed, numbered_icon
from viewer.words.assumed import assumed_short, assumed_words
from viewer.words.findings import finding_lines, says
from viewer.words.verdicts import NOT_MEASURED, VERDICT_WORDS

Chosen = tuple[Code, str]
"""A finding by what it is and what it is about, the same before and after an edit of the rig."""


class _MarkOnTop(QStyledItemDelegate):
    """Puts the mark beside the first line of a finding, not beside its middle."""

    def initStyleOption(self, option: QStyleOptionViewItem | None, index: QModelIndex) -> None:
        super().initStyleOption(option, index)
        if option is not None:
            option.decorationAlignment = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter


class FindingsList(QListWidget):
    """Two lines a finding, and what it rests on; the one that is chosen unfolds to all it says.

    As high as its rows: what it stands in does the scrolling. A click or Enter on a finding moves
    the axle to its worst pose. A finding is chosen no more when the axle or the rig moves on.

    Signals
    -------
    unfolded : the place (in the viewport) of the finding that was chosen.
    """

    unfolded = pyqtSignal(QRect)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: tuple[Finding, ...] = ()
        self.setAccessibleName("Findings over the whole travel, worst first")
        self.setToolTip("Click a finding, or press Enter on it, to see its worst pose.")
        self.setItemDelegate(_MarkOnTop(self))
        self.setWordWrap(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        for set_policy in (self.setHorizontalScrollBarPolicy, self.setVerticalScrollBarPolicy):
            set_policy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.itemClicked.connect(self._go)
        self.itemActivated.connect(self._go)
        self.itemSelectionChanged.connect(self._on_chosen)

    @property
    def chosen(self) -> int | None:
        """Row of the finding that is chosen."""
        rows = [at.row() for at in self.selectedIndexes()]
        return rows[0] if rows else None

    def refresh(self) -> None:
        """List the findings anew; what was chosen stays so while the axle is where it was."""
        check, row = self._session.check, self.chosen
        was = None if row is None else _name(self._shown[row])
        self.blockSignals(True)
        self.clear()
        self._shown = () if check is None else check.findings
        side, look, old = round(1.1 * em(self)), colours(self), is_old(self._session)
        look = greyed(look) if old else look
        self.setIconSize(QSize(side, 2 * side))
        ratio, bold = self.devicePixelRatioF(), enlarged(self.font(), 0.95, bold=True)
        for number, finding in enumerate(self._shown, start=1):
            words = finding_words(number, finding)
            verdict = None if finding.code == "slip-not-measured" else finding.verdict
            icon = numbered_icon(verdict, number, look, side, ratio, bold)
            item = QListWidgetItem(icon, "")
            told = f"{_word(finding)}: {words}"
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{OLD}: {told}" if old else told)
            item.setToolTip(plain_tip(words))
            self.addItem(item)
            if _name(finding) == was and finding.at == self._session.motion.at:
                self.setCurrentItem(item)
        self.blockSignals(False)
        self._write()

    def keep_choice(self) -> None:
        """Choose nothing any more if the axle has left the pose of what was chosen."""
        row = self.chosen
        if row is not None and self._shown[row].at != self._session.motion.at:
            self.clearSelection()

    def sizeHint(self) -> QSize:
        """As high as the rows."""
        return QSize(super().sizeHint().width(), self._all())

    def minimumSizeHint(self) -> QSize:
        """As high, and narrow."""
        return QSize(round(12 * em(self)), self._all())

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Other widths break the lines elsewhere."""
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent | None) -> None:
        """Paint the marks anew in other colours."""
        super().changeEvent(event)
        if event is not None and event.type() == QEvent.Type.PaletteChange:
            self.refresh()

    def wheelEvent(self, event: QWheelEvent | None) -> None:
        """Leave scrolling to what the list stands in."""
        if event is not None:
            event.ignore()

    def _on_chosen(self) -> None:
        self._write()
        row = self.chosen
        if row is not None:
            self.unfolded.emit(self.visualItemRect(self.item(row)))

    def _write(self) -> None:
        """Write each finding in short lines, and all of the one that is chosen."""
        for row, finding in enumerate(self._shown):
            item = self.item(row)
            head, rest = finding_lines(finding)
            lines = f"{head}\n{rest}"
            if row == self.chosen:
                lines += f"\n{says(finding)}\n{assumed_words(finding)}".rstrip()
            elif finding.rests_on:
                lines += f"\n{assumed_short(finding.rests_on)}"
            if item is not None and item.text() != lines:
                item.setText(lines)
        self._fit()

    def _all(self) -> int:
        rows = [self.visualItemRect(self.item(row)).bottom() + 1 for row in range(self.count())]
        return max(rows, default=0) + 2 * self.frameWidth()

    def _fit(self) -> None:
        if self.height() != self._all():
            self.setFixedHeight(self._all())

    def _go(self, item: QListWidgetItem) -> None:
        if self._session.check is not None:
            self._session.go_to(self._shown[self.row(item)])


def _word(finding: Finding) -> str:
    unknown = finding.code == "slip-not-measured"
    return NOT_MEASURED.upper() if unknown else VERDICT_WORDS[finding.verdict]


def _name(finding: Finding) -> Chosen:
    return finding.code, finding.subject
