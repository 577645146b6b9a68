"""Telling how far a long job is."""

from collections.abc import Callable

Progress = Callable[[str, float], None]
"""Told what is being done and which share of the whole is done."""


def silent(_what: str, _share: float) -> None:
    """Nobody wants to know."""
