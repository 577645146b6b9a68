"""What was found over the whole travel, worst first; each goes to its worst pose."""

from PyQt6.QtCore import QEvent, QModelIndex, QPoint, QRect, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QApplication,
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
from viewer.window.kit.pieces import button, once
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import colours, em, enlarged
from viewer.window.kit.verdict_mark import greyed, numbered_icon
from viewer.words.assumed import assumed_short, assumed_words
from viewer.words.findings import finding_lines, says
from viewer.words.verdicts import NOT_MEASURED, VERDICT_WORDS

GAP = 4
"""px around the button under the finding that is chosen."""

Chosen = tuple[Code, str]
"""A finding by what it is and what it is about, the same before and after an edit of the rig."""


class _MarkOnTop(QStyledItemDelegate):
    """Puts the mark beside the first line of a finding, and room for a button under the chosen."""

    def __init__(self, listed: "FindingsList") -> None:
        super().__init__(listed)
        self._listed = listed

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex) -> QSize:
        below = self._listed.show_me.sizeHint().height() + GAP
        return super().sizeHint(option, index) + QSize(
            0, below if index.row() == self._listed.chosen else 0
        )

    def initStyleOption(self, option: QStyleOptionViewItem | None, index: QModelIndex) -> None:
        super().initStyleOption(option, index)
        if option is not None:
            option.decorationAlignment = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter
            option.displayAlignment = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft


class FindingsList(QListWidget):
    """Two lines a finding, and what it rests on; the one that is chosen unfolds to all it says.

    As high as its rows: what it stands in does the scrolling. A click, Enter or an arrow key on a
    finding brings its worst pose, the turn, and the look; a double click, the space bar or the
    button on the one that is chosen plays the drive to it. A finding is chosen no more when the
    axle or the rig moves on.

    Signals
    -------
    unfolded : the place (in the viewport) of the finding that is to be seen.
    """

    unfolded = pyqtSignal(QRect)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: tuple[Finding, ...] = ()
        self.setAccessibleName("Findings over the whole travel, worst first")
        self.setToolTip("Click a finding to see its worst pose; double-click to drive there.")
        self.show_me = button("&Show me", "Drives there and stops at it (space bar).", self._show)
        self.show_me.setParent(self.viewport())
        self.show_me.hide()
        self.setItemDelegate(_MarkOnTop(self))
        self.setWordWrap(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        for set_policy in (self.setHorizontalScrollBarPolicy, self.setVerticalScrollBarPolicy):
            set_policy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._pressed, self._pressed_at, self._is_second_click = -1, QPoint(), False
        # What scrolls between two clicks takes the second one somewhere else.
        self._later = once(self, self.tell_place, QApplication.doubleClickInterval())
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
        self.write()

    def keep_choice(self) -> None:
        """Choose the finding that is looked at; none if the axle has left its pose, but to show."""
        row, motion, looked = self.chosen, self._session.motion, self._session.finding
        there = [_name(finding) for finding in self._shown]
        if looked is not None and _name(looked) in there:
            row = there.index(_name(looked))
        at = None if row is None else self._shown[row].at
        if row is None or (at not in (None, motion.at) and motion.drive is None):
            self.clearSelection()
        elif row != self.chosen:
            self.setCurrentRow(row)

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
        self.write()
        if QApplication.mouseButtons() == Qt.MouseButton.NoButton:
            self.tell_place()
        else:
            self._later.start()

    def tell_place(self) -> None:
        """Ask that the finding that is chosen be seen."""
        row = self.chosen
        if row is not None:
            self.unfolded.emit(self.visualItemRect(self.item(row)))

    def write(self) -> None:
        """Write each finding in short lines, and all of the one that is chosen."""
        for row, finding in enumerate(self._shown):
            item = self.item(row)
            head, rest = finding_lines(finding)
            lines = f"{head}\n{rest}"
            if row == self.chosen:
                told = (says(finding), assumed_words(finding), self._session.sure.sure.of(finding))
                lines = "\n".join([lines, *filter(None, told)])
            elif finding.rests_on:
                lines += f"\n{assumed_short(finding.rests_on)}"
            if item is not None and item.text() != lines:
                item.setText(lines)
        self._fit()

    def _all(self) -> int:
        rows = [self.visualItemRect(self.item(row)).bottom() + 1 for row in range(self.count())]
        return max(rows, default=0) + 2 * self.frameWidth()

    def _fit(self) -> None:
        self.scheduleDelayedItemsLayout()
        self.executeDelayedItemsLayout()
        if self.height() != self._all():
            self.setFixedHeight(self._all())
        row = self.chosen
        self.show_me.setVisible(row is not None)
        if row is not None:
            hint, box = self.show_me.sizeHint(), self.visualItemRect(self.item(row))
            corner = box.bottomRight() - QPoint(hint.width() + GAP, hint.height() + GAP)
            self.show_me.setGeometry(QRect(corner, hint))

    def focusInEvent(self, event: QFocusEvent | None) -> None:
        """Come into view when the keys come here."""
        super().focusInEvent(event)
        keys = (Qt.FocusReason.ShortcutFocusReason, Qt.FocusReason.TabFocusReason)
        if event is not None and event.reason() in keys and self.count():
            self.unfolded.emit(self.visualItemRect(self.item(max(0, self.currentRow()))))

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """Begin a click."""
        self._is_second_click = False
        if event is not None:
            self._pressed = self.indexAt(event.position().toPoint()).row()
            self._pressed_at = event.globalPosition().toPoint()
        super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent | None) -> None:
        """Go to what was pressed, wherever its row is by now; a hand that moved off means none."""
        super().mouseReleaseEvent(event)
        if event is None or event.button() != Qt.MouseButton.LeftButton or self._is_second_click:
            return
        moved = event.globalPosition().toPoint() - self._pressed_at
        if moved.manhattanLength() < QApplication.startDragDistance():
            self._go(self._pressed)

    def mouseDoubleClickEvent(self, _event: QMouseEvent | None) -> None:
        """Play the drive to what the first click was on: the rows may have moved since."""
        self._is_second_click = True  # whose release is no click of its own
        if 0 <= self._pressed < len(self._shown):
            self._session.show_me(self._shown[self._pressed])

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Go to the finding the arrows reach; Enter goes to it again, the space bar plays it."""
        if event is None:
            return
        key = event.key()
        if key == Qt.Key.Key_Space:
            self._show()
            return
        super().keyPressEvent(event)
        if key in _ARROWS or key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._go(self.currentRow())

    def _go(self, row: int) -> None:
        if self._session.check is not None and 0 <= row < len(self._shown):
            self._session.go_to(self._shown[row])

    def _show(self) -> None:
        row = self.currentRow() if self.chosen is None else self.chosen
        if row >= 0:
            self._session.show_me(self._shown[row])


_ARROWS = (
    *(Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Home, Qt.Key.Key_End),
    *(Qt.Key.Key_PageUp, Qt.Key.Key_PageDown),
)


def _word(finding: Finding) -> str:
    unknown = finding.code == "slip-not-measured"
    return NOT_MEASURED.upper() if unknown else VERDICT_WORDS[finding.verdict]


def _name(finding: Finding) -> Chosen:
    return finding.code, finding.subject
