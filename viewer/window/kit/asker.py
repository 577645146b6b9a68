"""Questions to the user, asked through this, so that tests can answer without a dialog."""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QHeaderView,
    QMessageBox,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sim.rig import Problem
from viewer.window.kit.pieces import to_read, words
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import em
from viewer.words.problems import came_words
from viewer.words.remarks import said


@dataclass(frozen=True)
class Answer:
    """One way to answer a question.

    key : what comes back. text : what the button says, with its mnemonic.
    tip : what happens then, in a sentence.
    """

    key: str
    text: str
    tip: str = ""


BACK = Answer("back", "&Go back", "Change nothing.")
"""The way out of a question."""


class Asker(ABC):
    """Asks the user and waits for the answer."""

    @abstractmethod
    def choose(
        self,
        title: str,
        text: str,
        answers: Sequence[Answer],
        otherwise: str,
        uncalled: bool = False,
    ) -> str:
        """Put a question; key of the answer chosen.

        otherwise : key of the answer when the question is closed, or Escape pressed.
        uncalled : it comes up by itself, maybe while somebody types; Enter means `otherwise` too.
        """

    @abstractmethod
    def file_to_open(self, title: str, folder: Path | None, kinds: str) -> Path | None:
        """A file that is there, of `kinds` "Rig files (*.toml)"; None when the user goes back."""

    @abstractmethod
    def file_to_save(self, title: str, suggestion: Path, kinds: str) -> Path | None:
        """A place to write, asked about if something is there; None when the user goes back."""

    @abstractmethod
    def tell(self, title: str, text: str) -> None:
        """Tell something that must not be missed."""

    @abstractmethod
    def list_problems(self, title: str, text: str, problems: Sequence[Problem]) -> None:
        """Show everything wrong with a rig file."""


class Dialogs(Asker):
    """Asks by dialogs over a window."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def choose(
        self,
        title: str,
        text: str,
        answers: Sequence[Answer],
        otherwise: str,
        uncalled: bool = False,
    ) -> str:
        """Ask with a button for each answer; Enter takes the first one, or `otherwise`."""
        box = QMessageBox(QMessageBox.Icon.NoIcon, title, text, parent=self._window)
        box.setTextFormat(Qt.TextFormat.PlainText)
        keys = {}
        for number, answer in enumerate(answers):
            role = (
                QMessageBox.ButtonRole.RejectRole
                if answer.key == otherwise
                else QMessageBox.ButtonRole.AcceptRole
            )
            button = box.addButton(answer.text, role)
            if button is None:
                continue
            button.setToolTip(answer.tip)
            keys[button] = answer.key
            if answer.key == otherwise if uncalled else number == 0:
                box.setDefaultButton(button)
            if answer.key == otherwise:
                box.setEscapeButton(button)
        box.exec()
        clicked = box.clickedButton()
        box.deleteLater()
        return next((key for button, key in keys.items() if button is clicked), otherwise)

    def file_to_open(self, title: str, folder: Path | None, kinds: str) -> Path | None:
        """Ask by the dialog of the system."""
        name, _ = QFileDialog.getOpenFileName(self._window, title, str(folder or ""), kinds)
        return Path(name) if name else None

    def file_to_save(self, title: str, suggestion: Path, kinds: str) -> Path | None:
        """Ask by the dialog of the system."""
        name, _ = QFileDialog.getSaveFileName(self._window, title, str(suggestion), kinds)
        return Path(name) if name else None

    def tell(self, title: str, text: str) -> None:
        """Tell by a message."""
        box = QMessageBox(QMessageBox.Icon.Information, title, text, parent=self._window)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.exec()
        box.deleteLater()

    def list_problems(self, title: str, text: str, problems: Sequence[Problem]) -> None:
        """Show a table of them."""
        dialog = ProblemsDialog(title, text, problems, self._window)
        dialog.exec()
        dialog.deleteLater()


class ProblemsDialog(QDialog):
    """A table of what is wrong with a rig file."""

    def __init__(
        self, title: str, text: str, problems: Sequence[Problem], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        column = QVBoxLayout(self)
        column.addWidget(words(text))
        self.table = QTableWidget(len(problems), 4)
        heads = ("File", "Place in the file", "What came", "Expected")
        to_read(self.table, "What is wrong with the rig file", heads)
        self.table.setWordWrap(True)
        for row, problem in enumerate(problems):
            cells = (
                Path(problem.file).name, problem.key or "the whole file",
                came_words(problem), said(problem.expected),
            )  # fmt: skip
            for place, cell in enumerate(cells):
                item = QTableWidgetItem(cell)
                item.setToolTip(plain_tip(cell))
                self.table.setItem(row, place, item)
        self._size_columns()
        column.addWidget(self.table)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)
        unit = em(self)
        self.resize(round(48 * unit), round(min(30.0, 9.0 + 2.6 * len(problems)) * unit))

    def _size_columns(self) -> None:
        header = self.table.horizontalHeader()
        rows = self.table.verticalHeader()
        if header is None or rows is None:
            return
        for place in range(2):
            header.setSectionResizeMode(place, QHeaderView.ResizeMode.ResizeToContents)
        for place in (2, 3):
            header.setSectionResizeMode(place, QHeaderView.ResizeMode.Stretch)
        rows.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
