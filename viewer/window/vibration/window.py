"""It shakes: a window of its own with the questions, and the answer as it comes."""

from functools import partial

from PyQt6.QtCore import QSize, Qt
from PyQt6.QtGui import QCloseEvent, QGuiApplication
from PyQt6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from viewer.session.session import Session
from viewer.vibration.asked import Asked, symptom_of
from viewer.vibration.text import answer_text
from viewer.vibration.told import Answer, Cure
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import (
    button,
    column,
    progress_bar,
    put_whole,
    row,
    show_share,
    tall,
    words,
)
from viewer.window.kit.theme import em
from viewer.window.vibration.questions import Questions
from viewer.words.problems import error_words, problem_words
from viewer.written.files import AskedError

WIDE, HIGH = 52, 56
"""Size, in ems."""

FRAME = QSize(40, 60)
"""px that a window's frame and the screen's bars take, at most."""

AS_IT_WAS = "This is the answer for the rig as it was before its last change."

LEAD = "Say what you know; leave the rest as it is."


class ShakeWindow(Follower):
    """From a shake to what it most likely is, for the rig as it stands.

    Attributes
    ----------
    questions : what is asked. find_out : the press that answers. says, progress : how it stands.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setWindowFlag(Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAccessibleName("It shakes")
        self._asked: tuple[str, Asked] | None = None
        self._shown: Answer | None = None
        self.questions = Questions()
        self.find_out = button(
            "&Find out", "Weighs what it may be, and tries what would cure it.", self._ask
        )
        self.find_out.setDefault(True)
        self.questions.speed.returnPressed.connect(self._ask)
        self.copy = button("&Copy", "Copies the answer, to paste elsewhere.", self._copy)
        shut = button("C&lose", "Closes this window (Escape).", self.close)
        shut.setShortcut("Esc")
        self.says, self.progress = words(), progress_bar("How much of the answer is there")
        self._page = tall()
        column(
            words(LEAD),
            self.questions,
            row(None, self.find_out),
            (self._page, 1),
            row((self.says, 1), self.progress, self.copy, shut),
            on=self,
        )
        self.resize(self._size())
        told = (session.shake.changed, session.shake.progressed, session.rig_changed)
        self.follow(*((signal, self.refresh) for signal in told))

    def refresh(self) -> None:
        """Show the answer, and whether it is that of the rig as it stands."""
        shake, document = self.session.shake, self.session.document
        self.setWindowTitle(f"{document.rig.name}: it shakes - Bindpoint")
        if shake.answer is not self._shown:
            self._shown = shake.answer
            put_whole(self._page, QWidget() if shake.answer is None else self._read(shake.answer))
        is_old = self._asked is not None and document.text != self._asked[0]
        self._page.setEnabled(not shake.is_computing and not is_old)
        self.progress.setVisible(shake.is_computing)
        show_share(self.progress, shake.share)
        self.find_out.setEnabled(document.is_right and not shake.is_computing)
        self.copy.setEnabled(shake.answer is not None and not shake.is_computing)
        if shake.is_computing:
            self.says.setText(f"{shake.what[:1].upper()}{shake.what[1:]} ...")
        elif shake.state == "failed":
            self.says.setText(f"There is no answer: {shake.fault}.")
        elif not document.is_right:
            self.says.setText(
                f"The rig is not right just now. {problem_words(document.problems[0])}."
            )
        else:
            self.says.setText(AS_IT_WAS if shake.answer is not None and is_old else "")

    def _size(self) -> QSize:
        """As large as it likes to be, and no larger than the screen."""
        wanted, screen = QSize(round(WIDE * em(self)), round(HIGH * em(self))), self.screen()
        return wanted if screen is None else wanted.boundedTo(screen.availableSize() - FRAME)

    def _ask(self) -> None:
        asked = self.questions.asked()
        try:
            symptom_of(asked)
        except AskedError as error:
            self.says.setText(f"{error_words(error)}.")
            return
        self._asked = (self.session.document.text, asked)
        self.session.ask_of_shake(asked)

    def _copy(self) -> None:
        board, answer = QGuiApplication.clipboard(), self.session.shake.answer
        if board is not None and answer is not None:
            board.setText(answer_text(answer))

    def _read(self, answer: Answer) -> QWidget:
        """The answer to read, each suspect under its own head, each cure with a press to try it."""
        page = QWidget()
        lines = QVBoxLayout(page)
        for text in answer.asked:
            lines.addWidget(words(text, page, selects=True))
        for number, each in enumerate(answer.suspects):
            lines.addSpacing(round(0.6 * em(page)))
            size = 1.2 if number == 0 else 1.0
            lines.addWidget(words(each.title, page, size=size, bold=True, selects=True))
            for text in each.says:
                lines.addWidget(words(text, page, selects=True))
            for cure in each.cures:
                lines.addLayout(self._cure(cure))
        lines.addSpacing(round(0.6 * em(page)))
        for text in (*answer.rest, answer.caution):
            lines.addWidget(words(text, page, selects=True))
        lines.addStretch(1)
        return page

    def _cure(self, cure: Cure) -> QHBoxLayout:
        says = words(f"\u2022  {cure.says}", selects=True)
        if not cure.text:
            return row((says, 1))
        tip = "Goes on with the rig that this makes; undo takes it back."
        return row((says, 1), button("Try it", tip, partial(self._try, cure), cure.says))

    def _try(self, cure: Cure) -> None:
        self.session.try_mend(cure.text)

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Look for no more."""
        self.session.shake.cancel()
        super().closeEvent(event)
