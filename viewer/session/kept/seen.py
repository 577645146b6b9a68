"""Which hints the user has seen and wants no more of."""

from collections.abc import Iterable
from pathlib import Path

from viewer.state_folder import recall, remember, state_folder

ALL = "all"
"""Stands for every hint there is or will be."""


class SeenHints:
    """Remembers hints by their keys, over runs of the program."""

    def __init__(self, file: Path | None = None) -> None:
        self._file = file or state_folder() / "hints.json"
        data = recall(self._file)
        given = data if isinstance(data, list) else []
        self._seen = {each for each in given if isinstance(each, str)}

    def left(self, keys: Iterable[str]) -> list[str]:
        """Those still to be shown, in order."""
        return [] if ALL in self._seen else [key for key in keys if key not in self._seen]

    def mark(self, key: str) -> None:
        """Show a hint no more; `ALL` for every one."""
        self._seen.add(key)
        remember(self._file, sorted(self._seen))

    def forget(self) -> None:
        """Show everything again."""
        self._seen.clear()
        remember(self._file, [])
