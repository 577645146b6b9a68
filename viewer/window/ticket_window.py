"""The build ticket in a window of its own: to read, to copy, to print, to save."""

from collections.abc import Callable
from datetime import date

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QCloseEvent, QFontDatabase, QFontMetricsF, QGuiApplication, QKeySequence
from PyQt6.QtPrintSupport import QPrinter
from PyQt6.QtWidgets import QPlainTextEdit, QWidget

from sim.kept.atomic import replace_file
from viewer.session.session import Session
from viewer.session.text.file_names import beside
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import Asker
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import button, column, progress_bar, row, show_share, words
from viewer.window.kit.theme import em
from viewer.window.printing import Paper, chosen_printer, print_paper
from viewer.words.problems import problem_words
from viewer.words.verdicts import CAUTION
from viewer.written.outputs import TICKET

COLUMNS, ROWS = 102, 44
"""Size of the page, in letters."""

AS_IT_WAS = "This is the ticket of the rig as it was before its last change."


class TicketWindow(Follower):
    """The ticket of the rig; asked for when it is opened.

    Attributes
    ----------
    page : the ticket. says, progress : how it stands. again, copy, print, save : what can be done.
    """

    def __init__(
        self,
        session: Session,
        asker: Asker,
        parent: QWidget | None = None,
        printer: Callable[[QWidget], QPrinter | None] = chosen_printer,
    ) -> None:
        super().__init__(session, parent)
        self._ask, self._asked, self._printer = asker, "", printer
        self.setWindowFlag(Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAccessibleName("Build ticket")
        self.page = QPlainTextEdit()
        self.page.setReadOnly(True)
        self.page.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        font = QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont)
        self.page.setFont(font)
        self.page.setAccessibleName("Build ticket")
        # Tab goes on to the buttons.
        self.page.setTabChangesFocus(True)
        self.says, self.progress = words(), progress_bar("How much of the ticket is made")
        tip = "Makes the ticket of the rig as it stands."
        self.again = button("&Make it again", tip, self._make)
        self.copy = button("&Copy", "Copies all of it, to paste elsewhere.", self._copy)
        tip = "Prints it in black and white, or into a PDF file (Ctrl+P)."
        self.print = button("&Print ...", tip, self._print)
        self.print.setShortcut(QKeySequence(QKeySequence.StandardKey.Print))
        self.save = button("&Save ...", "Writes it as a text file, to send.", self._save)
        shut = button("C&lose", "Closes the ticket (Escape).", self.close)
        shut.setShortcut("Esc")
        doing = (self.again, self.copy, self.print, self.save, shut)
        below = row((self.says, 1), self.progress, *doing)
        column((self.page, 1), below, on=self)
        letters = QFontMetricsF(font)
        wide = round(COLUMNS * letters.averageCharWidth() + 3 * em(self))
        self.resize(wide, round(ROWS * letters.lineSpacing() + 5 * em(self)))
        told = (session.ticket.changed, session.ticket.progressed, session.rig_changed)
        self.follow(*((signal, self.refresh) for signal in told))
        self._make()

    def refresh(self) -> None:
        """Show the ticket, and whether it is that of the rig as it stands."""
        ticket, document = self.session.ticket, self.session.document
        self.setWindowTitle(f"{document.rig.name}: build ticket - Bindpoint")
        text = ticket.answer or ""
        if self.page.toPlainText() != text:
            self.page.setPlainText(text)
        is_old = document.text != self._asked
        self.page.setEnabled(not ticket.is_computing and not is_old)
        self.progress.setVisible(ticket.is_computing)
        show_share(self.progress, ticket.share)
        self.again.setVisible(not ticket.is_computing and (is_old or ticket.state != "fresh"))
        self.again.setEnabled(document.is_right)
        for each in (self.copy, self.print, self.save):
            each.setEnabled(bool(text) and not ticket.is_computing)
        if ticket.is_computing:
            self.says.setText(f"{ticket.what[:1].upper()}{ticket.what[1:]} ...")
        elif ticket.state == "failed":
            self.says.setText(f"There is no ticket: {ticket.fault}.")
        elif not document.is_right:
            self.says.setText(
                f"The rig is not right just now. {problem_words(document.problems[0])}."
            )
        else:
            self.says.setText(AS_IT_WAS if text and is_old else "")

    def _make(self) -> None:
        self._asked = self.session.document.text
        self.session.look_for(self.session.ticket)

    def _copy(self) -> None:
        board = QGuiApplication.clipboard()
        if board is not None:
            board.setText(self.page.toPlainText())

    def _print(self) -> None:
        printer = self._printer(self)
        if printer is None:
            return
        name, today = self.session.document.rig.name, f"{date.today():%d %b %Y}"
        printer.setDocName(f"{name}: build ticket")
        paper = Paper(self.page.toPlainText(), (f"{name}: build ticket", today), CAUTION)
        try:
            count = print_paper(paper, printer)
        except OSError as error:
            self.says.setText(f"Not printed: {error}. Choose another printer.")
        else:
            pages = "1 page" if count == 1 else f"{count} pages"
            self.says.setText(f"Printed: {pages}.")

    def _save(self) -> None:
        suggestion = beside(self.session.document, "ticket", ".txt")
        title, kinds = "Save the build ticket", "Text (*.txt)"
        place = place_to_save(self._ask, title, suggestion, kinds, ".txt", TICKET)
        if place is None:
            return
        stamp = f"{date.today():%d %b %Y}"
        try:
            replace_file(place, f"{stamp}\n{self.page.toPlainText()}\n".encode())
        except OSError as error:
            self.says.setText(f"Not saved: {error.strerror or error}. Choose another place.")
        else:
            self.says.setText(f"Saved {place.name}.")

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Make no more of it."""
        self.session.ticket.cancel()
        super().closeEvent(event)
