"""Words as they are: what a rig file says is never taken for marks of a page.

Qt looks at a text and shows what resembles HTML as such, so a rig could be called anything, in any
colour and size, with pictures.
"""

from html import escape
from typing import Any

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QLabel


class PlainLabel(QLabel):
    """A label that shows its text as it is."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.setTextFormat(Qt.TextFormat.PlainText)


def plain_tip(text: str) -> str:
    """A text for a tooltip, which has no format of its own."""
    return f"<qt>{escape(text)}</qt>" if "<" in text else text
