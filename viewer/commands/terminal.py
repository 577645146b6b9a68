"""Asking and telling at a terminal, line by line, folded to its width."""

import shutil
import sys
from textwrap import wrap

from viewer.console import put, say

WIDEST, NARROWEST = 100, 30
"""Letters of a line. A longer one is hard to read, a shorter one is no terminal of today's."""

ROOM = 12
"""Letters that are left behind a question for the answer."""


class Terminal:
    """Asks and tells; what stands right above a question is not told again when it is repeated."""

    def __init__(self) -> None:
        self._told, self._above = "", ""

    def ask(self, prompt: str) -> str:
        """Put a question. Raises EOFError when nobody answers any more."""
        self._above, self._told = self._told or self._above, ""
        return ask_line(prompt)

    def tell(self, text: str) -> None:
        """Show a text, unless it was said before this very question."""
        if text == self._above:
            self._told = text
            return
        if not self._above and self._told:
            put("\n")  # between the welcome and the first question
        self._told = text
        tell_text(text)


def ask_line(prompt: str) -> str:
    """Show a prompt and return the line typed. Raises EOFError when nobody answers any more."""
    lines = wrap(prompt, _width(), break_on_hyphens=False)
    if lines and len(lines[-1]) > _width() - ROOM:
        lines = wrap(prompt, _width() - ROOM, break_on_hyphens=False)
    put("\n".join(lines) + " ")
    line = sys.stdin.readline()
    if not line:
        put("\n")
        raise EOFError
    put("\n")
    return line.rstrip("\r\n")


def tell_text(text: str) -> None:
    """Show a text, folded to the width of the terminal, indents kept."""
    for line in text.splitlines():
        indent = line[: len(line) - len(line.lstrip())]
        folded = wrap(
            line.strip(),
            _width(),
            initial_indent=indent,
            subsequent_indent=indent,
            break_on_hyphens=False,
        )
        say("\n".join(folded))


def _width() -> int:
    """Letters of a line on this terminal, asked anew since a window is made wider or narrower."""
    return max(NARROWEST, min(shutil.get_terminal_size((88, 24)).columns, WIDEST))
