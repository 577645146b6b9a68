"""Lines of a printed answer: wrapped at its width, each hung under its first."""

from textwrap import wrap
from typing import Final

WIDTH: Final = 96
"""Columns of a printed answer."""


def item(text: str, hang: str = "    ") -> list[str]:
    """Lines of a text, its own indent first, then those that hang under it."""
    indent = text[: len(text) - len(text.lstrip())]
    return wrap(
        text.strip(),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=hang,
        break_long_words=False,
        break_on_hyphens=False,
    )
