"""The rig files opened last; those that are gone are told apart, not dropped."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from threading import Thread

from viewer.state_folder import recall, remember, state_folder

MOST = 10
"""Files that are remembered."""

PATIENCE = 0.1
"""s to look whether files are there; a drive that is not connected may take much longer."""


@dataclass(frozen=True)
class Recent:
    """A file opened before, and whether it is gone."""

    path: Path
    missing: bool

    @property
    def says(self) -> str:
        """Name, folder, and whether it is missing."""
        gone = " (missing)" if self.missing else ""
        return f"{self.path.name}{gone} in {self.path.parent}"


class RecentFiles:
    """Remembers rig files, the last one first.

    A list that cannot be kept is lost at the end of the program, nothing more.
    """

    def __init__(self, file: Path | None = None) -> None:
        self._file = file or state_folder() / "recent.json"
        self._paths = self._read()

    @property
    def files(self) -> list[Recent]:
        """What is remembered; never waits long for a slow drive."""
        gone = _missing(self._paths)
        return [Recent(path, path in gone) for path in self._paths]

    @property
    def last_folder(self) -> Path | None:
        """Folder of the last file."""
        return self._paths[0].parent if self._paths else None

    def add(self, path: Path) -> None:
        """Put a file first; what other programs have added meanwhile is kept too."""
        self._change([path.absolute()])

    def forget(self, path: Path) -> None:
        """Remember a file no longer."""
        self._change([], drop=path.absolute())

    def clear(self) -> None:
        """Forget all."""
        self._paths = []
        self._write()

    def _change(self, first: list[Path], drop: Path | None = None) -> None:
        known = dict.fromkeys([*first, *self._read(), *self._paths])
        self._paths = [path for path in known if path != drop][:MOST]
        self._write()

    def _read(self) -> list[Path]:
        data = recall(self._file)
        texts = data if isinstance(data, list) else []
        return [Path(text) for text in texts if isinstance(text, str) and text][:MOST]

    def _write(self) -> None:
        remember(self._file, [str(path) for path in self._paths])


def _missing(paths: Iterable[Path]) -> set[Path]:
    """Files that are surely gone."""
    gone: set[Path] = set()

    def look(path: Path) -> None:
        try:
            there = path.is_file()
        except OSError:
            there = False
        if not there:
            gone.add(path)

    lookers = [Thread(target=look, args=(path,), daemon=True) for path in paths]
    for each in lookers:
        each.start()
    for each in lookers:
        each.join(PATIENCE / max(1, len(lookers)))
    return set(gone)
