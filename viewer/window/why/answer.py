"""The answer as it follows what is ticked: broke or wore, causes with their odds, what to look at.

Odds are told three times: by the length of a bar, by a number and by a word. An old answer stands
in gray until the new one is there.
"""

from functools import partial

from PyQt6.QtCore import QRectF, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PyQt6.QtWidgets import QAbstractButton, QBoxLayout, QSizePolicy, QWidget

from viewer.scene.odds import MOST_BARS
from viewer.session.why.room import WhyRoom
from viewer.why.follow import CauseTold, WhyTold
from viewer.window.kit.pieces import button, column, ink, row, tall, words
from viewer.window.kit.plain_label import unbroken
from viewer.window.kit.theme import colours, em, enlarged
from viewer.words.causes import bar_length

OPEN, SHUT = "\N{BLACK DOWN-POINTING SMALL TRIANGLE}", "\N{BLACK RIGHT-POINTING SMALL TRIANGLE}"

NOTHING_YET = "Tick what you see, and the likeliest causes stand here as you go."
MENDS = "The inspection is not right just now; the answer waits until it is."
WIDE = 36.0
"""Ems from which on causes and what to look at next stand side by side."""


class Bar(QAbstractButton):
    """One cause: its name, its odds, and a bar as long as they are. A press tells all of it."""

    def __init__(self, cause: CauseTold, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cause = cause
        self.is_old = False
        self.setCheckable(True)
        self.setText(cause.name)
        self.setAccessibleName(f"{cause.name}: {cause.says}")
        self.setToolTip("Press to see what speaks for it and against it.")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def sizeHint(self) -> QSize:
        """Two lines: the words, and the bar."""
        return QSize(round(16.0 * em(self)), round(2.15 * em(self)))

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Paint the words over the bar."""
        look, line = colours(self), em(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ground = QRectF(0.0, 1.3 * line, self.width() - 2.0, 0.6 * line)
        painter.setPen(QPen(QColor(look.line), 1.0))
        painter.setBrush(QColor(look.paper))
        painter.drawRect(ground)
        full = QRectF(ground)
        full.setWidth(max(2.0, bar_length(self.cause.chance) * ground.width()))
        painter.setBrush(QColor(look.line if self.is_old else look.accent))
        painter.drawRect(full)
        painter.setPen(QColor(look.quiet if self.is_old else look.ink))
        font = self.font()
        font.setBold(self.isChecked())
        painter.setFont(font)
        box = QRectF(0.0, 0.0, self.width() - 2.0, 1.25 * line)
        middle = Qt.AlignmentFlag.AlignVCenter
        right = Qt.AlignmentFlag.AlignRight | middle
        painter.drawText(box, right, self.cause.says)
        room = box.width() - painter.fontMetrics().horizontalAdvance(f"  {self.cause.says}")
        elide = Qt.TextElideMode.ElideRight
        named = painter.fontMetrics().elidedText(self.text(), elide, max(1, round(room)))
        sign = OPEN if self.isChecked() else SHUT
        painter.drawText(box, middle, f"{sign} {named}")
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(look.ink), 1.0, Qt.PenStyle.DotLine))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


class AnswerPanel(QWidget):
    """Why it broke or wore, as far as it can be told now.

    Attributes
    ----------
    head : what one says first. bars : a bar for each cause that is not ruled out.
    state : how it stands with the answer.

    Signals
    -------
    wanted : a sign that is to be looked at next was pressed.
    """

    wanted = pyqtSignal(str)

    def __init__(self, room: WhyRoom, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.room = room
        self.setAccessibleName("Why it broke or wore")
        self.head = words(NOTHING_YET, self, size=1.1, bold=True, selects=True)
        self.state = words("", self, size=0.9, called="How it stands with the answer")
        self.bars: list[Bar] = []
        self._open = ""
        self._shown: WhyTold | None = None
        self._is_wide = True
        self._page: QWidget | None = None
        self._area = tall()
        gap = round(0.4 * em(self))
        column(self.head, self.state, (self._area, 1), on=self, gap=gap, edge=0)

    def refresh(self) -> None:
        """Show the answer there is, and whether it is that to what is told now."""
        room = self.room
        answers = room.answers
        answer = answers.answer
        if answer is not self._shown:
            self._shown = answer
            self._lay_out()
        old = room.is_old
        if answer is not None:
            self.head.setText(unbroken(answer.counter[0]))
        elif not room.file.inspection.is_blank and answers.state == "failed":
            self.head.setText(f"There is no answer: {answers.fault}.")
        else:
            self.head.setText(NOTHING_YET)
        look = colours(self)
        ink(self.head, look.quiet if old else look.ink)
        if not room.file.is_right:
            text = MENDS
        elif answers.is_computing and (old or answer is None):
            what = f"{answers.what[:1].upper()}{answers.what[1:]}" or "Starting"
            text = f"{what} ..." if answer is None else f"{what} ... (in gray: the answer before)"
        elif answers.state == "failed":
            text = f"There is no new answer: {answers.fault}."
        else:
            text = ""
        self.state.setText(text)
        self.state.setVisible(bool(text))
        for bar in self.bars:
            bar.is_old = old
            bar.update()
        if self._page is not None:
            self._page.setEnabled(not old)

    def _lay_out(self) -> None:
        """Lay out another answer."""
        self.bars = []
        self._page = page = QWidget()
        answer, gap = self._shown, round(0.4 * em(self))
        if answer is None:
            self._area.setWidget(page)
            return
        left: list[QWidget | None] = []
        for cause in answer.causes[:MOST_BARS]:
            bar = Bar(cause, page)
            bar.setChecked(cause.code == self._open)
            bar.clicked.connect(partial(self._on_bar, cause.code))
            self.bars.append(bar)
            left.append(bar)
            if cause.code == self._open:
                left += [words(line, page, selects=True) for line in cause.lines]
        said = map(unbroken, answer.counter[1:-1])
        left += [words(line, page, size=0.9, selects=True) for line in said]
        left.append(None)
        right: list[QWidget | None] = [words("Look at next", page, bold=True)]
        for each in answer.next:
            tip = f"Use {each.tool}. A press brings the part."
            press = button("Show me", tip, partial(self._on_next, each.sign), f"{each.asks} show")
            press.setFont(enlarged(press.font(), 0.9))
            line = QWidget(page)
            row((words(each.asks, line), 1), press, on=line, gap=gap, edge=0)
            right.append(line)
        for title, entries in answer.rest:
            right.append(words(title, page, bold=True))
            right += [words(entry, page, size=0.9, selects=True) for entry in entries]
        right += [words(answer.caution, page, size=0.85, selects=True), None]
        self._is_wide = self.width() >= WIDE * em(self)
        if self._is_wide:
            columns = (column(*left, gap=gap, edge=0), 3), (column(*right, gap=gap, edge=0), 2)
            laid: QBoxLayout = row(*columns, on=page, gap=3 * gap, edge=0)
        else:
            laid = column(*left[:-1], *right, on=page, gap=gap, edge=0)
        laid.setContentsMargins(0, 0, gap, 0)
        self._area.setWidget(page)

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Lay it out in one column where two would be narrow."""
        super().resizeEvent(event)
        if self._shown is not None and self._is_wide != (self.width() >= WIDE * em(self)):
            self._lay_out()
            self.refresh()

    def _on_bar(self, code: str, _on: bool = False) -> None:
        self._open = "" if code == self._open else code
        self._lay_out()
        self.refresh()

    def _on_next(self, sign: str, _on: bool = False) -> None:
        self.wanted.emit(sign)
