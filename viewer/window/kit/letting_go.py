"""A dialog that lets go of what it holds, however it is closed."""

from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QDialog


class LettingGo(QDialog):
    """A dialog that holds something: a session, a program, a conversation.

    A subclass says in `let_go` how that ends; it may be asked more than once.
    """

    def let_go(self) -> None:
        """End it; there is nothing yet."""

    def done(self, result: int) -> None:
        """Let go, by whichever button."""
        self.let_go()
        super().done(result)

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Let go, closed by its frame."""
        self.let_go()
        super().closeEvent(event)
