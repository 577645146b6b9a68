"""One bench reading as it is typed: how it is taken, which yoke is clamped, what it says."""

from collections.abc import Mapping, Sequence
from typing import Final

from PyQt6.QtCore import QEvent, QObject, pyqtSignal
from PyQt6.QtWidgets import QWidget

from viewer.window.kit.line import PAUSE, Line
from viewer.window.kit.pieces import button, choosing, column, once, row, unheard, words
from viewer.window.kit.theme import colours, em
from viewer.words.bench import WAYS, BenchWay

CLEAR: Final = "clear_to"
_SAYS: Final[Mapping[str, str]] = {
    "touches_at": "touches at",
    CLEAR: "clear up to",
    "catches_at": "catches at",
    "maker_says": "largest bend",
}
_EXAMPLE: Final[Mapping[str, str]] = {
    "touches_at": "24 1/2 deg",
    CLEAR: "28 deg",
    "catches_at": "6 1/2 in droop",
    "maker_says": "30 deg",
}
_KEPT: Final = ("tool", "who", "when")
"""What a reading has besides, which no field here shows."""


class ReadingRow(QWidget):
    """A reading; what is chosen or typed is told as a table of the rig file.

    One without a value is not in the file yet.

    Signals
    -------
    typed : the reading is another one; its table, None where its value was taken away.
    noted : it has the focus, or is taken in another way.
    """

    typed = pyqtSignal(object)
    noted = pyqtSignal()

    def __init__(self, number: int, yokes: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.number = number
        self._table: dict[str, str] = {}
        ways = ((way.name, way, way.means) for way in WAYS)
        self.way = choosing(f"Reading {number}: how it is taken", "", ways)
        yoked = ((f"{yoke} clamped", yoke, "") for yoke in yokes)
        self.held = choosing(f"Reading {number}: which yoke is clamped", "", yoked)
        says = ((text, key, "") for key, text in _SAYS.items() if key in ("touches_at", CLEAR))
        self.says = choosing(f"Reading {number}: touched or not", "", says)
        self.line = Line()
        self.line.setAccessibleName(f"Reading {number}")
        self.line.setMinimumWidth(round(9 * em(self)))
        self.label = words("", wraps=False)
        self.wrong = words(called=f"Reading {number}: what is wrong")
        self.drop = button("\N{MULTIPLICATION SIGN}", "Takes this reading away.", self._on_drop)
        self.drop.setAccessibleName(f"Take reading {number} away")
        self.drop.setAutoDefault(False)
        self.drop.setFixedWidth(round(2.2 * em(self)))
        first = row(words(f"{number}", bold=True, wraps=False), (self.way, 1), (self.held, 1))
        second = row(round(1.4 * em(self)), self.says, self.label, (self.line, 1), self.drop)
        column(first, second, self.wrong, on=self, edge=0)
        for box in (self.way, self.held, self.says):
            box.activated.connect(self._on_chosen)
        self._timer = once(self, self.flush, PAUSE)
        self.line.textEdited.connect(lambda _: self._timer.start())
        self.line.editingFinished.connect(self.flush)
        for part in (self.way, self.held, self.says, self.line):
            part.installEventFilter(self)

    def show_reading(
        self, way: BenchWay, held: str, table: Mapping[str, object], problem: str | None
    ) -> None:
        """Show a reading as it is typed; a line that is being typed on is left alone."""
        self._table = {key: str(value) for key, value in table.items()}
        key = CLEAR if CLEAR in table else way.value
        with unheard(self.way, self.held, self.says):
            self.way.setCurrentIndex(WAYS.index(way))
            self.held.setCurrentIndex(max(0, self.held.findData(held)))
            self.says.setCurrentIndex(max(0, self.says.findData(key)))
        self._show_parts()
        self.drop.setVisible(bool(table))
        text = self._table.get(key, "")
        if not self.line.isModified() and self.line.text() != text:
            self.line.setText(text)
        self.wrong.setVisible(problem is not None)
        self.wrong.setText(f"\N{BALLOT X} {problem or ''}")
        self.wrong.setStyleSheet(f"color: {colours(self).verdicts['touches']};")

    def flush(self) -> None:
        """Take what is being typed."""
        self._timer.stop()
        if self.line.isModified():
            self.line.setModified(False)
            self._tell()

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Say that this reading is meant."""
        if event is not None and event.type() == QEvent.Type.FocusIn:
            self.noted.emit()
        return super().eventFilter(watched, event)

    @property
    def meant(self) -> tuple[BenchWay, str]:
        """How it is taken, and the yoke that is clamped."""
        return self.way.currentData(), str(self.held.currentData())

    def _on_chosen(self, _place: int) -> None:
        self._show_parts()
        if self._table:
            self._tell()
        self.noted.emit()

    def _on_drop(self) -> None:
        self.typed.emit(None)

    def _tell(self) -> None:
        way, held = self.meant
        value = self.line.text().strip()
        if not value:
            self.typed.emit(None)
            return
        table = {"clamped": held} if way.ears not in ("", "any") else {}
        if way.ears == "between" and "turned" in self._table:
            table["turned"] = self._table["turned"]
        elif way.ears:
            table["ears"] = way.ears
        kept = {key: self._table[key] for key in _KEPT if key in self._table}
        self.typed.emit(table | {self._key: value} | kept)

    @property
    def _key(self) -> str:
        """Key of what it says."""
        way, _ = self.meant
        return str(self.says.currentData()) if way.ears else way.value

    def _show_parts(self) -> None:
        way, _ = self.meant
        self.held.setVisible(way.ears not in ("", "any"))
        self.says.setVisible(bool(way.ears))
        self.label.setVisible(not way.ears)
        self.label.setText(_SAYS[way.value])
        self.line.setPlaceholderText(f"such as {_EXAMPLE[self._key]}")
