"""Starting a new rig: from the questions a shop asks, or from a demo rig that is nearest to it."""

import tomllib

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QDialog, QDialogButtonBox, QListWidget, QListWidgetItem, QWidget

from sim.rig.demos import demo_names, demo_text
from viewer.session.text.document import Document
from viewer.window.kit.pieces import button, column, words
from viewer.window.kit.theme import em
from viewer.window.rig.questions import ask_questions

QUESTIONS = 2
"""What the dialog ends with when questions are wanted."""


class NewRig(QDialog):
    """Chooses what a new rig starts from; `demo` is the one chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("New rig")
        heading = words("How do you want to start?", self, size=1.3, bold=True, wraps=False)
        self.ask = button(
            "Answer &questions, one at a time",
            "Asks for every measurement and says what it is taken from and to.",
            lambda: self.done(QUESTIONS),
        )
        self.ask.setMinimumHeight(round(2.4 * em(self)))
        demos = words(
            "&Or start from a demo rig that is built like yours, and type your own measurements "
            "over its numbers. Demo rigs are invented: no number of theirs is a fact."
        )
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setSpacing(round(0.2 * em(self)))
        self.list.setAccessibleName("Demo rigs")
        demos.setBuddy(self.list)
        for name in demo_names():
            data = tomllib.loads(demo_text(name))
            note = str(data.get("note", "")).removeprefix("Invented for demonstration. ")
            item = QListWidgetItem(f"{data.get('name', name)}\n{note}")
            item.setData(Qt.ItemDataRole.UserRole, name)
            self.list.addItem(item)
        self.list.setCurrentRow(0)
        self.list.itemDoubleClicked.connect(self.accept)
        buttons = QDialogButtonBox()
        start = buttons.addButton("&Start from it", QDialogButtonBox.ButtonRole.AcceptRole)
        if start is not None:
            start.setDefault(True)
            start.setToolTip("Opens the demo rig that is chosen in the list.")
        buttons.addButton("&Go back", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column(heading, self.ask, demos, (self.list, 1), buttons, on=self)
        self.resize(round(34 * em(self)), round(30 * em(self)))

    @property
    def demo(self) -> str | None:
        """Name of the demo rig chosen."""
        item = self.list.currentItem()
        return None if item is None else str(item.data(Qt.ItemDataRole.UserRole))


def ask_new_rig(window: QWidget) -> Document | None:
    """Ask what to start from; None when the user goes back. Raises RigError for a bad demo."""
    dialog = NewRig(window)
    ended = dialog.exec()
    demo = dialog.demo
    dialog.deleteLater()
    if ended == QUESTIONS:
        rig = ask_questions(window)
        return None if rig is None else Document.of(rig)
    if ended == QDialog.DialogCode.Accepted and demo is not None:
        return Document.demo(demo)
    return None
