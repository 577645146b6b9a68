"""A line to type on, and how long to wait until what was typed is taken."""

from PyQt6.QtCore import QEvent
from PyQt6.QtGui import QKeyEvent, QKeySequence
from PyQt6.QtWidgets import QLineEdit

PAUSE = 300
"""ms without a key until what was typed is taken."""


class Line(QLineEdit):
    """A line of text that leaves undo to the document."""

    def event(self, event: QEvent | None) -> bool:
        """Let the window have the keys of undo and redo."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride:
            keys = QKeySequence.StandardKey
            if event.matches(keys.Undo) or event.matches(keys.Redo):
                event.ignore()
                return False
        return super().event(event)
