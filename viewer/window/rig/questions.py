"""The measurements asked one by one, in a dialog: the conversation of `bindpoint new`."""

import re
from queue import SimpleQueue
from threading import Thread

from PyQt6.QtCore import QObject, Qt, pyqtSignal
from PyQt6.QtGui import QTextCursor
from PyQt6.QtWidgets import QDialog, QLineEdit, QPlainTextEdit, QWidget

from sim.rig import Rig
from viewer.interview import interview
from viewer.interview.conversation import MEASURE, WELCOME
from viewer.interview.draft import WINDOW, Draft
from viewer.window.kit.letting_go import LettingGo
from viewer.window.kit.pieces import button, column, row, words
from viewer.window.kit.theme import em

INTRODUCTION = (
    f"{MEASURE} A line left empty takes the value shown in it in gray, which is then listed as "
    "assumed."
)
"""What is said before the first question, for people with buttons."""


class Conversation(QObject):
    """The interview in a thread of its own, which waits for answers while the window goes on.

    Signals
    -------
    asked : a question. told : something said. over : it has ended, with a rig or None.
    """

    asked = pyqtSignal(str)
    told = pyqtSignal(str)
    over = pyqtSignal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._answers: SimpleQueue[str | None] = SimpleQueue()
        self._draft = Draft(WINDOW)
        self._thread = Thread(target=self._run, name="questions", daemon=True)

    def start(self) -> None:
        """Put the first question."""
        self._thread.start()

    def answer(self, text: str) -> None:
        """Answer the question."""
        self._answers.put(text)

    def end(self) -> None:
        """End early and wait until the thread is over."""
        self._answers.put(None)
        if self._thread.is_alive():
            self._thread.join()

    def _run(self) -> None:
        try:
            rig = interview(self._wait, self.told.emit, self._draft)
            if rig is not None:
                self._draft.forget()  # from here on it is unsaved work, which is kept elsewhere
        finally:
            self._draft.close()
        self.over.emit(rig)

    def _wait(self, prompt: str) -> str:
        self.asked.emit(prompt)
        answer = self._answers.get()
        if answer is None:
            raise EOFError
        return answer


class Questions(LettingGo):
    """Asks for a rig; `rig` is what came of it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Measurements, one by one")
        self.rig: Rig | None = None
        self._told: list[str] = []
        self._usual = ""
        self.page = QPlainTextEdit()
        self.page.setReadOnly(True)
        self.page.setAccessibleName("What was answered so far")
        self.page.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.help = words(called="Help on the question")
        self.help.setAlignment(Qt.AlignmentFlag.AlignBottom)
        self.question = words("", self, size=1.2, bold=True)
        self.line = QLineEdit()
        self.line.setAccessibleName("Answer")
        self.line.setClearButtonEnabled(True)
        self.line.returnPressed.connect(self.say)
        self.back = button(
            "One step &back", "Answers the question before again.", lambda: self._answer("back")
        )
        self.more = button(
            "&Explain", "Says what goes wrong with this measurement.", lambda: self._answer("?")
        )
        leave = button(
            "&Leave", "Ends the questions; the answers are offered the next time.", self.reject
        )
        self.next = button(
            "&Next", "Takes the answer; an empty line takes what it shows in gray.", self.say
        )
        for each in (self.back, self.more, leave, self.next):
            each.setAutoDefault(False)
        self.next.setDefault(True)
        buttons = row(self.back, self.more, None, leave, self.next)
        column((self.page, 2), (self.help, 1), self.question, self.line, buttons, on=self)
        self.resize(round(40 * em(self)), round(28 * em(self)))
        self._talk = Conversation(self)
        self._talk.asked.connect(self._on_asked)
        self._talk.told.connect(self._on_told)
        self._talk.over.connect(self._on_over)
        self._enable(False)
        self._talk.start()
        self.line.setFocus()

    def say(self) -> None:
        """Answer with what is typed."""
        self._answer(self.line.text())

    def _answer(self, text: str) -> None:
        if not self.next.isEnabled():
            return
        self._enable(False)
        if text not in ("?", "back"):
            self._write(f"{self.question.text()}  {text or self._usual or 'nothing'}")
        if text != "?":
            self._told = []
        self.line.clear()
        self._talk.answer(text)

    def _on_asked(self, prompt: str) -> None:
        asked, self._usual = _parted(prompt)
        self.question.setText(asked)
        self.line.setPlaceholderText(self._usual)
        self.help.setText("\n\n".join(self._told))
        self._enable(True)
        self.line.setFocus()

    def _on_told(self, text: str) -> None:
        self._told.append(INTRODUCTION if text == WELCOME else text)

    def _on_over(self, rig: Rig | None) -> None:
        self.rig = rig
        if rig is not None:
            self.accept()

    def _enable(self, on: bool) -> None:
        for each in (self.next, self.back, self.more):
            each.setEnabled(on)

    def _write(self, text: str) -> None:
        self.page.appendPlainText(text)
        self.page.moveCursor(QTextCursor.MoveOperation.End)

    def let_go(self) -> None:
        """End the conversation: closing is leaving."""
        self._talk.end()


def _parted(prompt: str) -> tuple[str, str]:
    """A question, and what an empty line means, which stands in brackets behind it."""
    found = re.fullmatch(r"(.*?)\s*\[([^\]]*)\]\W*", prompt.strip(), re.DOTALL)
    return (prompt.strip(), "") if found is None else (found[1], found[2])


def ask_questions(window: QWidget) -> Rig | None:
    """Ask for the measurements one by one; None when the user leaves early."""
    dialog = Questions(window)
    done = dialog.exec()
    rig = dialog.rig
    dialog.deleteLater()
    return rig if done == QDialog.DialogCode.Accepted else None
