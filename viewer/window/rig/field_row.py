"""One row of the sheet: what it is called, what is typed, what is assumed, what is wrong."""

from collections.abc import Sequence
from typing import Any

from PyQt6.QtCore import QEvent, QObject, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent, QKeySequence, QWheelEvent
from PyQt6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QWidget,
)

from viewer.session.sheet.sheet import Field
from viewer.window.kit.line import PAUSE, Line
from viewer.window.kit.pieces import button, ink, once, row, unheard, words
from viewer.window.kit.theme import colours, em
from viewer.words.keys import choice_words

POINT = ("forward", "left", "up")


class FieldRow(QWidget):
    """One row.

    Signals
    -------
    typed : key path and what it shall be; `goes_on` tells whether typing began before.
    noted : the row that has the focus now.
    asked : the row's own dialog is wanted (the yokes).
    """

    typed = pyqtSignal(str, object)
    noted = pyqtSignal(object)
    asked = pyqtSignal(object)

    def __init__(self, field: Field, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = field
        self._editors: list[QWidget] = []
        self._pending = False
        self.goes_on = False
        self._timer = once(self, self._on_pause, PAUSE)
        grid = QGridLayout(self)
        gap = round(0.25 * em(self))
        grid.setContentsMargins(0, gap // 2, 0, gap // 2)
        grid.setHorizontalSpacing(2 * gap)
        grid.setVerticalSpacing(0)
        grid.setColumnStretch(0, 5)
        grid.setColumnStretch(1, 7)
        self.name = self._make_name()
        # Neither column follows what is in it, so that all rows line up.
        self.name.setSizePolicy(_as_wide_as_it_gets(tall=isinstance(self.name, QLabel)))
        grid.addWidget(self.name, 0, 0)
        self.keep = button(
            "Keep",
            "A generic value stands in. Press to make it yours, then change it.",
            self._on_keep,
            f"{field.label}: keep the assumed value as typed",
        )
        self.keep.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        edges = round(1.2 * em(self))
        self.keep.setMaximumWidth(self.fontMetrics().horizontalAdvance("Keep") + edges)
        right = QWidget()
        right.setSizePolicy(_as_wide_as_it_gets())
        cell = row((self._make_editor(), 1), on=right, gap=gap, edge=0)
        if field.kind == "point":  # three numbers need the whole width
            grid.setColumnStretch(0, 20)
            grid.addWidget(self.keep, 0, 1, Qt.AlignmentFlag.AlignRight)
            grid.addWidget(right, 1, 0, 1, 2)
        else:
            grid.addWidget(right, 0, 1)
            cell.addWidget(self.keep)
        self.wrong = words()
        grid.addWidget(self.wrong, 2, 0, 1, 2)
        self.again = words(size=0.92)
        self.again.setVisible(False)
        grid.addWidget(self.again, 3, 0, 1, 2)
        self.show_field(field)

    def show_field(self, field: Field) -> None:
        """Show what the sheet says now; what is being typed is left alone."""
        self.field = field
        if isinstance(self.name, QComboBox):
            with unheard(self.name):
                self.name.setCurrentIndex(field.keys.index(field.key))
        if not self._pending:
            self._show(field.typed)
        self.keep.setVisible(field.is_assumed and field.kind != "yes or no")
        self._slant(field.is_assumed)
        look = colours(self)
        self.wrong.setVisible(field.problem is not None)
        self.wrong.setText(f"\N{BALLOT X} {field.problem or ''}")
        self.wrong.setStyleSheet(f"color: {look.verdicts['touches']};")
        for editor in self._editors:
            says = f"{field.problem}. {field.help}" if field.problem else field.help
            editor.setAccessibleDescription(says)

    def show_again(self, text: str) -> None:
        """Say what reading it again would bring; "" for nothing worth it."""
        if self.again.text() == text:
            return
        self.again.setText(f"\N{BLACK RIGHT-POINTING SMALL TRIANGLE} {text}" if text else "")
        self.again.setVisible(bool(text))
        ink(self.again, colours(self).quiet)

    def _slant(self, assumed: bool) -> None:
        """Slanted letters where a generic value stands in: told apart in print too."""
        for editor in self._editors:
            font = editor.font()
            if font.italic() != assumed:
                font.setItalic(assumed)
                editor.setFont(font)
        if isinstance(self.name, QLabel):
            self.name.setText(f"{self.field.label}, assumed" if assumed else self.field.label)

    def flush(self) -> None:
        """Take what was typed at once; what is typed after it is another step."""
        self._on_pause()
        self.goes_on = False

    def _on_pause(self) -> None:
        """Take what was typed so far; what is typed after it goes on with the same step."""
        self._timer.stop()
        if self._pending:
            self._pending = False
            self.typed.emit(self._key(), self._value())
            self.goes_on = True

    def focus(self) -> None:
        """Put the cursor into the row."""
        self._editors[0].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Tell who has the focus; take what was typed before undo does its work."""
        if event is not None and event.type() == QEvent.Type.FocusIn:
            self.noted.emit(self)
        if isinstance(event, QWheelEvent) and isinstance(watched, QComboBox):
            event.ignore()  # turning the wheel scrolls the sheet; it chooses nothing by accident
            return True
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride:
            keys = QKeySequence.StandardKey
            if event.matches(keys.Undo) or event.matches(keys.Redo):
                self.flush()
        return super().eventFilter(watched, event)

    def _make_name(self) -> QLabel | QComboBox:
        if len(self.field.others) < 2:
            label = words(self.field.label)
            label.setToolTip(self.field.help)
            return label
        box = _narrow([(label, None) for _, label in self.field.others])
        box.setAccessibleName(f"{self.field.label}: which way it is said")
        box.setToolTip(f"{self.field.label}. Say it the other way here.")
        box.activated.connect(self._on_other_way)
        box.installEventFilter(self)
        return box

    def _make_editor(self) -> QWidget:
        field = self.field
        if field.kind == "point":
            return self._three_lines()
        if field.kind == "yes or no":
            check = QCheckBox("yes")
            check.clicked.connect(lambda on: self.typed.emit(self._key(), bool(on)))
            return self._watched(check)
        if field.kind == "choice":
            return self._chooser()
        return self._watched(self._line())

    def _chooser(self) -> QWidget:
        line = self._line()
        box = _narrow([(choice_words(c, self.field.key), c) for c in self.field.choices], line)
        box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        box.activated.connect(self._on_chosen)
        self._watched(box)
        line.installEventFilter(self)
        if not self.field.key.endswith("_yoke"):
            return box
        more = button(
            "...",
            "Shows a picture of each kind, and takes dimensions of your own.",
            lambda: self.asked.emit(self),
            f"{self.field.label}: pictures and own dimensions",
        )
        more.setMaximumWidth(round(2.2 * em(self)))
        pair = QWidget()
        row((box, 1), more, on=pair, edge=0)
        return pair

    def _three_lines(self) -> QWidget:
        lines = [self._line() for _ in POINT]
        for line, way in zip(lines, POINT, strict=True):
            line.setPlaceholderText(way)
            line.setMinimumWidth(round(1.6 * em(self)))
            self._watched(line, f"{self.field.label}, {way}")
        three = QWidget()
        row(*lines, on=three, gap=round(0.25 * em(self)), edge=0)
        return three

    def _line(self) -> Line:
        line = Line()
        line.textEdited.connect(self._on_edited)
        line.editingFinished.connect(self.flush)
        return line

    def _watched(self, editor: QWidget, name: str = "") -> QWidget:
        editor.setAccessibleName(name or self.field.label)
        editor.setToolTip(self.field.help)
        editor.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        editor.installEventFilter(self)
        self._editors.append(editor)
        return editor

    def _show(self, typed: Any) -> None:
        for place, editor in enumerate(self._editors):
            with unheard(editor):
                if isinstance(editor, QCheckBox):
                    editor.setChecked(bool(self.field.assumed if typed is None else typed))
                elif (line := _line_of(editor)) is not None:
                    kind = self.field.kind
                    text, hint = _at(typed, place, kind), _at(self.field.assumed, place, kind)
                    if line.text() != text:
                        line.setText(text)
                        line.setCursorPosition(0)
                    line.setPlaceholderText(hint or (POINT[place] if kind == "point" else ""))

    def _value(self) -> Any:
        texts = [line.text() for line in map(_line_of, self._editors) if line is not None]
        return texts if self.field.kind == "point" else texts[0]

    def _key(self) -> str:
        if isinstance(self.name, QComboBox):
            return self.field.keys[max(0, self.name.currentIndex())]
        return self.field.key

    def _on_edited(self, _text: str) -> None:
        self._pending = True
        self._timer.start()

    def _on_chosen(self, place: int) -> None:
        box = self._editors[0]
        if isinstance(box, QComboBox):
            box.setEditText(str(box.itemData(place)))
        self._pending = True
        self.flush()

    def _on_keep(self) -> None:
        self.typed.emit(self.field.key, self.field.assumed)

    def _on_other_way(self, _place: int) -> None:
        self._pending = False
        self._timer.stop()
        if self.field.typed is not None and self._key() != self.field.key:
            self.typed.emit(self._key(), self.field.typed)


def _line_of(editor: QWidget) -> QLineEdit | None:
    """Where a text is typed."""
    if isinstance(editor, QComboBox):
        return editor.lineEdit()
    return editor if isinstance(editor, QLineEdit) else None


def _narrow(entries: Sequence[tuple[str, str | None]], line: Line | None = None) -> QComboBox:
    """A box of words, each with what it stands for, to type in too where it gets a line.

    The list that drops down is as wide as its longest entry, however narrow the box.
    """
    box = QComboBox()
    if line is not None:
        box.setEditable(True)
        box.setLineEdit(line)
    for text, means in entries:
        box.addItem(text, means)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(3)
    view = box.view()
    if view is not None:
        letters = view.fontMetrics()
        widest = max((letters.horizontalAdvance(text) for text, _ in entries), default=0)
        view.setMinimumWidth(widest + round(3 * em(box)))
    return box


def _as_wide_as_it_gets(tall: bool = False) -> QSizePolicy:
    """Neither asks for a width nor refuses one; as tall as the words need where they wrap."""
    policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
    policy.setHeightForWidth(tall)
    return policy


def identity(field: Field) -> tuple[str, ...]:
    """What makes a row the same one in another version of the sheet."""
    return (*field.keys, field.kind, *field.choices)


def _at(value: Any, place: int, kind: str) -> str:
    """What is read of a value in one line; of a part with dimensions of its own its name."""
    if kind == "point" and isinstance(value, list | tuple):
        return str(value[place]) if place < len(value) else ""
    if kind == "choice" and isinstance(value, dict):
        value = value.get("kind", value.get("size", ""))
    return "" if value is None else str(value)
