"""Rows of words: a text broken between words, so that every row fits."""

from collections.abc import Callable


def broken(words: str, fits: Callable[[str], bool]) -> list[str]:
    """Rows that fit, broken between words; a word that is too long stays whole."""
    rows: list[str] = []
    for word in words.split():
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and fits(longer):
            rows[-1] = longer
        else:
            rows.append(word)
    return rows
