"""The lines of the first page below its verdict: what meets, slip, fix, what to measure first."""

from PyQt6.QtWidgets import QWidget

from viewer.window.kit.pieces import column, ink, words
from viewer.window.kit.theme import colours, em
from viewer.words.first_page import FirstPage, below_verdict


class FirstLines(QWidget):
    """A label for each line, hidden where it says nothing.

    Attributes
    ----------
    says : all of it, in one text.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("What holds first")
        self.says = words("", self, size=1.05, selects=True)
        column(self.says, on=self, gap=round(0.2 * em(self)), edge=0)

    def show_page(self, page: FirstPage | None, old: bool) -> None:
        """Show a page; one that is old in quiet letters."""
        text = "" if page is None else "\n".join(below_verdict(page))
        if self.says.text() != text:
            self.says.setText(text)
        look = colours(self)
        ink(self.says, look.quiet if old else look.ink)
        self.setVisible(bool(text))
