"""How likely a chance is, in five steps that have words."""

from typing import Final, Literal

Band = Literal["very-likely", "likely", "possible", "unlikely", "hardly"]

_FROM: Final[tuple[tuple[float, Band], ...]] = (
    (0.85, "very-likely"),
    (0.55, "likely"),
    (0.2, "possible"),
    (0.05, "unlikely"),
)
"""Least chance of each band (common practice, no source). There is no band for certain."""

NOT_RULED_OUT: Final = 0.05
"""A cause is ruled out for now under this chance: one joint in twenty (judgement)."""


def band(chance: float) -> Band:
    """The step that a chance from 0 to 1 lies in."""
    return next((name for least, name in _FROM if chance >= least), "hardly")
