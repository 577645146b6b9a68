"""Words as they are: what a rig file says is never taken for marks of a page.

Qt looks at a text and shows what resembles HTML as such, so a rig could be called anything, in any
colour and size, with pictures.
"""

import re
from html import escape
from typing import Any

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QLabel


class PlainLabel(QLabel):
    """A label that shows its text as it is."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.setTextFormat(Qt.TextFormat.PlainText)


_TOGETHER = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|mm|deg)\b|%)")
"""The spaces in a number and before its unit, where no row may end."""


def unbroken(text: str) -> str:
    """A text in which every number stays in one row with its fraction and its unit."""
    return _TOGETHER.sub("\N{NO-BREAK SPACE}", text)


def plain_tip(text: str) -> str:
    """A text for a tooltip, which has no format of its own."""
    return f"<qt>{escape(text)}</qt>" if "<" in text else text
