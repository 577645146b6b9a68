"""What can be told of one part: words to tick, measures to type, a remark."""

from collections.abc import Callable
from functools import partial

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QComboBox, QLabel, QWidget

from viewer.session.why.room import WhyRoom
from viewer.session.why.rows import Row, typed_at
from viewer.window.kit.line import PAUSE, Line
from viewer.window.kit.pieces import button, choosing, column, once, row, unheard, words
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import colours, em, enlarged
from viewer.window.why.flow import Flow
from viewer.window.why.word import WordButton, picture_of

UNSEEN, NONE, SOME = "\N{DOTTED CIRCLE}", "\N{WHITE CIRCLE}", "\N{BLACK CIRCLE}"
"""Before a list nobody looked at, one of which nothing is there, and one of which something is."""


class WordsRow(QWidget):
    """A closed list of words, each to tick, with two presses for all of them at once.

    Attributes
    ----------
    buttons : by word. state : what is told of the whole list.
    """

    def __init__(self, room: WhyRoom, told: Row, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.room, self.row = room, told
        self.setAccessibleName(told.name)
        self.title = words(told.name, self, bold=True, wraps=False)
        self.title.setToolTip(plain_tip(told.says))
        self.state = words("", self, size=0.9, wraps=False, called=f"{told.name}: state")
        called = told.name.lower()
        self.nothing = _small(
            "None of these",
            "You looked or asked, and none of these is there.",
            partial(room.find_nothing, told),
            f"{called}: none of these",
        )
        self.unseen = _small(
            told.otherwise.capitalize(),
            "Takes back whatever is told of these.",
            partial(room.forget, told),
            f"{called}: {told.otherwise}",
        )
        gap = round(0.3 * em(self))
        holds = QWidget(self)
        flow = Flow(holds, gap)
        self.buttons: dict[str, WordButton] = {}
        for each in told.words:
            made = WordButton(each, picture_of(told.key, each), holds)
            made.clicked.connect(partial(self._on_word, each))
            flow.addWidget(made)
            self.buttons[each] = made
        state = row((self.state, 1), self.nothing, self.unseen, gap=gap)
        column(self.title, state, holds, on=self, gap=gap, edge=0)

    def refresh(self) -> None:
        """Show what is told."""
        room = self.room
        there = typed_at(room.data, self.row.key)
        count = None if there is None else len(there)
        none = f"{UNSEEN} {self.row.otherwise}" if count is None else f"{NONE} none of these"
        self.state.setText(f"{SOME} {count} of these" if count else none)
        look = colours(self)
        self.state.setStyleSheet(f"color: {look.ink if count else look.quiet};")
        for each, made in self.buttons.items():
            made.show_told(room.told(self.row, each))
        self.nothing.setEnabled(count != 0)
        self.unseen.setEnabled(count is not None)

    def _on_word(self, word: str, _on: bool = False) -> None:
        self.room.tick(self.row, word)


class OneRow(QWidget):
    """One word, measure, number or remark."""

    def __init__(self, room: WhyRoom, told: Row, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.room, self.row = room, told
        self.title = words(told.name, self)
        self.title.setToolTip(plain_tip(told.says))
        self.wrong = words("", self, size=0.9)
        self._pending = self._goes_on = False
        self._timer = once(self, self.flush, PAUSE)
        self.editors = self._make()
        for each in self.editors:
            each.setToolTip(plain_tip(told.says))
            self.title.setBuddy(each)
        gap = round(0.25 * em(self))
        fields = row(*((each, 1) for each in self.editors), gap=gap, edge=0)
        column(row((self.title, 5), (fields, 6), gap=gap), self.wrong, on=self, gap=0, edge=0)

    def _make(self) -> list[QWidget]:
        told = self.row
        if told.kind in ("word", "yes or no"):
            there = [("yes", True, ""), ("no", False, "")]
            said = [(each, each, "") for each in told.words] or there
            box = choosing(told.name, "", [(told.otherwise or "not told", None, ""), *said])
            box.activated.connect(self._on_chosen)
            box.setSizeAdjustPolicy(box.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
            return [box]
        names = ("along the shaft", "across it") if told.kind == "pair" else ("",)
        lines: list[QWidget] = []
        for place, name in enumerate(names):
            line = Line()
            such = told.such.split(" and ")[place] if told.kind == "pair" else told.such
            line.setPlaceholderText(f"{name}, as {such}" if name else f"as {such}")
            line.setAccessibleName(f"{told.name}, {name}" if name else told.name)
            line.textEdited.connect(self._on_edited)
            line.editingFinished.connect(self._on_left)
            line.setMinimumWidth(round(3.0 * em(self)))
            lines.append(line)
        return lines

    def refresh(self) -> None:
        """Show what is told; what is being typed is left alone."""
        typed = typed_at(self.room.data, self.row.key)
        if not self._pending:
            for place, editor in enumerate(self.editors):
                with unheard(editor):
                    _show(editor, typed, place)
        problem = self.room.problem(self.row.key)
        self.wrong.setVisible(bool(problem))
        self.wrong.setText(f"\N{BALLOT X} {problem}")
        self.wrong.setStyleSheet(f"color: {colours(self).verdicts['touches']};")

    def flush(self) -> None:
        """Take what was typed so far."""
        self._timer.stop()
        if self._pending:
            self._pending = False
            self.room.tell(self.row, self._value(), joined=self._goes_on)
            self._goes_on = True

    def _on_left(self) -> None:
        self.flush()
        self._goes_on = False

    def _on_edited(self, _text: str) -> None:
        self._pending = True
        self._timer.start()

    def _on_chosen(self, _place: int) -> None:
        box = self.editors[0]
        if isinstance(box, QComboBox):
            self.room.tell(self.row, box.currentData())

    def _value(self) -> object:
        texts = [each.text().strip() for each in self.editors if isinstance(each, Line)]
        there = [text for text in texts if text]
        if not there:
            return None
        if self.row.kind == "pair":
            return there
        is_count = self.row.kind == "number" and there[0].isdecimal()
        return int(there[0]) if is_count else there[0]


class PartSheet(QWidget):
    """Everything that can be told of some tables, one under the other.

    Signals
    -------
    meant : table and words whose row was worked in.
    """

    meant = pyqtSignal(str, str)

    def __init__(self, room: WhyRoom, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.room = room
        self.tables: tuple[str, ...] = ()
        self.rows: dict[str, WordsRow | OneRow] = {}
        self._inside: QWidget | None = None
        self._column = column(on=self, edge=0)

    def show_tables(self, *tables: str) -> None:
        """Show other tables."""
        shown = tuple(row.key for table in tables for row in self.room.rows(table))
        if shown == tuple(self.rows) and tables == self.tables:
            return
        self.flush()
        self.tables, self.rows = tables, {}
        if self._inside is not None:
            self._column.removeWidget(self._inside)
            self._inside.hide()
            self._inside.deleteLater()
        self._inside = inside = QWidget(self)
        parts: list[QWidget | None] = []
        for table in tables:
            parts.append(_head(self.room.title(table), inside))
            for told in self.room.rows(table):
                made = (WordsRow if told.kind == "words" else OneRow)(self.room, told, inside)
                self.rows[told.key] = made
                parts.append(made)
        column(*parts, None, on=inside, gap=round(0.7 * em(self)), edge=round(0.4 * em(self)))
        self._column.addWidget(inside)
        self.setAccessibleName("Shown: " + ", ".join(self.room.title(each) for each in tables))
        self.refresh()
        self._stand(inside)

    def _stand(self, inside: QWidget) -> None:
        """Put everything where it belongs at once: the next click may be on its way already.

        What a layout is given it shows and places later, and a click that was made while the
        program was busy comes before that.
        """
        inside.show()
        wide = self.width()
        high = self._column.totalHeightForWidth(wide)
        self.resize(wide, high if high > 0 else self._column.totalSizeHint().height())
        self._column.activate()

    def refresh(self) -> None:
        """Show what is told."""
        for each in self.rows.values():
            each.refresh()

    def flush(self) -> None:
        """Take what is being typed."""
        for each in self.rows.values():
            if isinstance(each, OneRow):
                each.flush()

    def row_of(self, table: str, key: str) -> QWidget | None:
        """The row of some words."""
        return self.rows.get(f"{table}.{key}")


def _head(text: str, on: QWidget) -> QLabel:
    return words(text, on, size=1.2, bold=True)


def _small(text: str, tip: str, does: Callable[[], object], called: str) -> QWidget:
    made = button(text, tip, lambda _on: does(), called)
    made.setFont(enlarged(made.font(), 0.85))
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made


def _show(editor: QWidget, typed: object, place: int) -> None:
    if isinstance(editor, QComboBox):
        editor.setCurrentIndex(max(0, editor.findData(typed)))
    elif isinstance(editor, Line):
        several = typed if isinstance(typed, list) else [typed]
        value = several[place] if place < len(several) else None
        text = "" if value is None else str(value)
        if editor.text() != text:
            editor.setText(text)
