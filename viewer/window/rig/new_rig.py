"""Starting a new rig: from the questions a shop asks, or from a demo rig that is nearest to it."""

import tomllib

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from sim.rig.demos import demo_names, demo_text
from viewer.session.text.document import Document
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.theme import em, enlarged
from viewer.window.rig.questions import ask_questions

QUESTIONS = 2
"""What the dialog ends with when questions are wanted."""


class NewRig(QDialog):
    """Chooses what a new rig starts from; `demo` is the one chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("New rig")
        column = QVBoxLayout(self)
        heading = PlainLabel("How do you want to start?")
        heading.setFont(enlarged(self.font(), 1.3, bold=True))
        column.addWidget(heading)
        self.ask = QPushButton("Answer &questions, one at a time")
        self.ask.setToolTip("Asks for every measurement and says what it is taken from and to.")
        self.ask.setMinimumHeight(round(2.4 * em(self)))
        self.ask.clicked.connect(lambda: self.done(QUESTIONS))
        column.addWidget(self.ask)
        words = PlainLabel(
            "&Or start from a demo rig that is built like yours, and type your own measurements "
            "over its numbers. Demo rigs are invented: no number of theirs is a fact."
        )
        words.setWordWrap(True)
        column.addWidget(words)
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setSpacing(round(0.2 * em(self)))
        self.list.setAccessibleName("Demo rigs")
        words.setBuddy(self.list)
        for name in demo_names():
            data = tomllib.loads(demo_text(name))
            note = str(data.get("note", "")).removeprefix("Invented for demonstration. ")
            item = QListWidgetItem(f"{data.get('name', name)}\n{note}")
            item.setData(Qt.ItemDataRole.UserRole, name)
            self.list.addItem(item)
        self.list.setCurrentRow(0)
        self.list.itemDoubleClicked.connect(self.accept)
        column.addWidget(self.list, 1)
        buttons = QDialogButtonBox()
        start = buttons.addButton("&Start from it", QDialogButtonBox.ButtonRole.AcceptRole)
        if start is not None:
            start.setDefault(True)
            start.setToolTip("Opens the demo rig that is chosen in the list.")
        buttons.addButton("&Go back", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)
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
