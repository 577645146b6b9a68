"""Lines of a printed answer: wrapped at its width, each hung under its first."""

from collections.abc import Iterable, Iterator
from textwrap import wrap
from typing import Final

WIDTH: Final = 96
"""Columns of a printed answer."""

Entry = str | list[str]
"""A sentence, to be wrapped; or lines that are laid out already."""


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


def section(title: str, entries: Iterable[Entry]) -> Iterator[str]:
    """A title after an empty line and what stands under it; nothing where there is nothing."""
    for number, entry in enumerate(entries):
        if number == 0:
            yield ""
            yield from [title] if title else []
        yield from item(f"  {entry}") if isinstance(entry, str) else entry


def listed(title: str, entries: Iterable[str]) -> Iterator[str]:
    """The same of a list, each entry after a stroke."""
    return section(f"{title}:", (f"- {entry}" for entry in entries))


def stopped(text: str) -> str:
    """A text with its stop at the end."""
    return text if text.endswith(("?", ".")) else f"{text}."


def blanks(*names: str) -> list[str]:
    """A line with a blank to write on after each name, alike in width."""
    each = (WIDTH - 2) // len(names)
    return ["  " + " ".join(f"{name} {'_' * (each - len(name) - 2)}" for name in names)]
