"""One row of the sheet: what it is called, what is typed, what is assumed, what is wrong."""

from typing import Any

from PyQt6.QtCore import QEvent, QObject, Qt, QTimer, pyqtSignal
from PyQt6.QtGui import QKeyEvent, QKeySequence, QWheelEvent
from PyQt6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from viewer.session.sheet.sheet import Field
from viewer.window.kit.line import PAUSE, Line
from viewer.window.kit.plain_label import PlainLabel
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
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(PAUSE)
        self._timer.timeout.connect(self._on_pause)
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
        self.keep = QPushButton("Keep")
        self.keep.setToolTip("A generic value stands in. Press to make it yours, then change it.")
        self.keep.setAccessibleName(f"{field.label}: keep the assumed value as typed")
        self.keep.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        edges = round(1.2 * em(self))
        self.keep.setMaximumWidth(self.fontMetrics().horizontalAdvance("Keep") + edges)
        self.keep.clicked.connect(self._on_keep)
        right = QWidget()
        right.setSizePolicy(_as_wide_as_it_gets())
        cell = QHBoxLayout(right)
        cell.setContentsMargins(0, 0, 0, 0)
        cell.setSpacing(gap)
        cell.addWidget(self._make_editor(), 1)
        if field.kind == "point":  # three numbers need the whole width
            grid.setColumnStretch(0, 20)
            grid.addWidget(self.keep, 0, 1, Qt.AlignmentFlag.AlignRight)
            grid.addWidget(right, 1, 0, 1, 2)
        else:
            grid.addWidget(right, 0, 1)
            cell.addWidget(self.keep)
        self.wrong = PlainLabel()
        self.wrong.setWordWrap(True)
        grid.addWidget(self.wrong, 2, 0, 1, 2)
        self.show_field(field)

    @property
    def identity(self) -> tuple[str, ...]:
        """What makes it the same row in another version of the sheet."""
        return identity(self.field)

    def show_field(self, field: Field) -> None:
        """Show what the sheet says now; what is being typed is left alone."""
        self.field = field
        if isinstance(self.name, QComboBox):
            keys = [key for key, _ in field.others]
            self.name.blockSignals(True)
            self.name.setCurrentIndex(keys.index(field.key) if field.key in keys else 0)
            self.name.blockSignals(False)
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
            label = PlainLabel(self.field.label)
            label.setWordWrap(True)
            label.setToolTip(self.field.help)
            return label
        box = QComboBox()
        box.addItems([label for _, label in self.field.others])
        box.setAccessibleName(f"{self.field.label}: which way it is said")
        box.setToolTip(f"{self.field.label}. Say it the other way here.")
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(3)
        _whole_list(box)
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
        line = Line()
        line.textEdited.connect(self._on_edited)
        line.editingFinished.connect(self.flush)
        return self._watched(line)

    def _chooser(self) -> QWidget:
        box = QComboBox()
        box.setEditable(True)
        line = Line()
        box.setLineEdit(line)
        for choice in self.field.choices:
            box.addItem(choice_words(choice, self.field.key), choice)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(3)
        box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        _whole_list(box)
        box.activated.connect(self._on_chosen)
        line.textEdited.connect(self._on_edited)
        line.editingFinished.connect(self.flush)
        self._watched(box)
        line.installEventFilter(self)
        if not self.field.key.endswith("_yoke"):
            return box
        pair = QWidget()
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(box, 1)
        more = QPushButton("...")
        more.setAccessibleName(f"{self.field.label}: pictures and own dimensions")
        more.setToolTip("Shows a picture of each kind, and takes dimensions of your own.")
        more.setMaximumWidth(round(2.2 * em(self)))
        more.clicked.connect(lambda: self.asked.emit(self))
        row.addWidget(more)
        return pair

    def _three_lines(self) -> QWidget:
        three = QWidget()
        row = QHBoxLayout(three)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(round(0.25 * em(self)))
        for way in POINT:
            line = Line()
            line.setPlaceholderText(way)
            line.setMinimumWidth(round(1.6 * em(self)))
            line.textEdited.connect(self._on_edited)
            line.editingFinished.connect(self.flush)
            row.addWidget(self._watched(line, f"{self.field.label}, {way}"))
        return three

    def _watched(self, editor: QWidget, name: str = "") -> QWidget:
        editor.setAccessibleName(name or self.field.label)
        editor.setToolTip(self.field.help)
        editor.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        editor.installEventFilter(self)
        self._editors.append(editor)
        return editor

    def _show(self, typed: Any) -> None:
        for place, editor in enumerate(self._editors):
            editor.blockSignals(True)
            if isinstance(editor, QCheckBox):
                editor.setChecked(bool(self.field.shown))
            elif isinstance(editor, QComboBox):
                line = editor.lineEdit()
                if editor.currentText() != _name(typed):
                    editor.setEditText(_name(typed))
                    if line is not None:
                        line.setCursorPosition(0)
                if line is not None:
                    line.setPlaceholderText(_name(self.field.assumed))
            elif isinstance(editor, QLineEdit):
                kind = self.field.kind
                text, hint = _at(typed, place, kind), _at(self.field.assumed, place, kind)
                if editor.text() != text:
                    editor.setText(text)
                    editor.setCursorPosition(0)
                editor.setPlaceholderText(hint or (POINT[place] if kind == "point" else ""))
            editor.blockSignals(False)

    def _value(self) -> Any:
        texts = [
            editor.currentText() if isinstance(editor, QComboBox) else editor.text()
            for editor in self._editors
            if isinstance(editor, QComboBox | QLineEdit)
        ]
        return texts if self.field.kind == "point" else texts[0]

    def _key(self) -> str:
        if isinstance(self.name, QComboBox):
            return self.field.others[max(0, self.name.currentIndex())][0]
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


def _whole_list(box: QComboBox) -> None:
    """Let the list that drops down be as wide as its longest entry, however narrow the box."""
    view = box.view()
    if view is not None:
        letters = view.fontMetrics()
        entries = [box.itemText(place) for place in range(box.count())]
        widest = max((letters.horizontalAdvance(text) for text in entries), default=0)
        view.setMinimumWidth(widest + round(3 * em(box)))


def _as_wide_as_it_gets(tall: bool = False) -> QSizePolicy:
    """Neither asks for a width nor refuses one; as tall as the words need where they wrap."""
    policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
    policy.setHeightForWidth(tall)
    return policy


def identity(field: Field) -> tuple[str, ...]:
    """What makes a row the same one in another version of the sheet."""
    keys = tuple(key for key, _ in field.others) or (field.key,)
    return (*keys, field.kind, *field.choices)


def _at(value: Any, place: int, kind: str) -> str:
    if value is None:
        return ""
    if kind == "point":
        ok = isinstance(value, list | tuple) and place < len(value)
        return str(value[place]) if ok else ("" if isinstance(value, list | tuple) else str(value))
    return str(value)


def _name(value: Any) -> str:
    """Name of a part that was chosen, with a word where it has dimensions of its own."""
    if value is None:
        return ""
    if isinstance(value, dict):
        return str(value.get("kind", value.get("size", "")))
    return str(value)
