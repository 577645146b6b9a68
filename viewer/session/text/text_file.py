"""A file of ours being worked on: its text, every version of it, and what is wrong with it.

The text is the truth: remarks and layout of a file that somebody wrote stay as they are, and a
value that cannot be right stays where it was typed until it is mended.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

import tomlkit
from psygnal import Signal

from sim.kept.atomic import replace_file
from sim.rig import Problem, RigError
from sim.rig.change import EditError
from sim.table.reading import parse_toml
from viewer.session.text.edits import typed_into, value_at
from viewer.session.text.history import History
from viewer.words.problems import error_words


class TextFile(ABC):
    """A TOML file open for work.

    Signals
    -------
    changed : the text is another one, however that came about.
    rewritten : every version of it was put another way, by the function told.
    """

    changed = Signal()
    rewritten = Signal(object)

    def __init__(self, text: str, path: Path | None, is_saved: bool) -> None:
        """Start from a text that is right, lying in the file `path` or in none."""
        self.path = path
        self._history = History(text)
        self._saved_text: str | None = text if is_saved else None
        self._seen = stamp(path)
        self.problems: tuple[Problem, ...] = ()

    @abstractmethod
    def take_in(self, text: str) -> None:
        """Read a text and keep what it says. Raises RigError with everything wrong with it."""

    @property
    @abstractmethod
    def name(self) -> str:
        """What the file is called."""

    @property
    def text(self) -> str:
        """The file as it stands."""
        return self._history.now

    @property
    def data(self) -> dict[str, Any]:
        """What is typed, as plain data."""
        return parse_toml(self.text, self.name)

    @property
    def is_right(self) -> bool:
        """Whether the text can be read; if not, what was read last from it still stands."""
        return not self.problems

    @property
    def is_dirty(self) -> bool:
        """Whether there is anything to save."""
        return self.text != self._saved_text

    @property
    def undo_name(self) -> str | None:
        """What undoing would take back; None when there is nothing to undo."""
        return self._history.undo_name

    @property
    def redo_name(self) -> str | None:
        """What redoing would bring back; None when there is nothing to redo."""
        return self._history.redo_name

    def typed(self, key: str) -> Any:
        """What is typed at a key path such as `travel.droop`; None where nothing is."""
        return value_at(self.data, key)

    def set(self, values: Mapping[str, Any], name: str = "", joined: bool = False) -> None:
        """Type values at key paths; None takes a key away. One step for undo, called `name`.

        joined : it goes on with the last step, if that has the same name, and makes one with it.
        Raises EditError for a place that is not there; the text is then as it was.
        """
        text = tomlkit.parse(self.text)
        for key, value in values.items():
            typed_into(text, key, value)
        self.take(tomlkit.dumps(text), name or ", ".join(values), joined)

    def replace(self, text: str, name: str) -> None:
        """Take another text as a whole. Raises EditError when it is no TOML."""
        try:
            parse_toml(text, self.name)
        except RigError as error:
            raise EditError(error_words(error)) from None
        self.take(text, name)

    def undo(self) -> None:
        """Go back one step, if there is one."""
        if self._history.undo():
            self.read()

    def redo(self) -> None:
        """Go forward again, if there is a way."""
        if self._history.redo():
            self.read()

    def save(self, path: Path | None = None, put: Callable[[str], str] | None = None) -> None:
        """Write the file, under its own name or another. Raises OSError when that fails.

        put : how its text is put in its new place, such as with other names of files; every
            version of it is, so that undo goes on to work.
        The file is replaced as a whole, so that a failure leaves the old one.
        """
        place = path or self.path
        if place is None:
            raise ValueError("save: no path for what lies in no file, expected one")
        replace_file(place, (put(self.text) if put else self.text).encode())
        self.path = place
        if put:
            self._history.rewrite(put)
            self.rewritten.emit(put)
        self._saved_text, self._seen = self.text, stamp(place)
        self.read()

    @property
    def changed_outside(self) -> bool:
        """Whether another program has written the file since it was read or saved."""
        return self.path is not None and stamp(self.path) != self._seen

    def keep_mine(self) -> None:
        """Take note of the file as another program left it, and go on with this text."""
        self._seen = stamp(self.path)
        self._saved_text = None
        self.changed.emit()

    def take(self, text: str, name: str, joined: bool = False) -> None:
        """Go on with another text, as a step of that name."""
        if text != self.text:
            self._history.take(text, name, joined)
            self.read()

    def read(self) -> None:
        """Read the text as it stands; what was right before stays where it cannot be read."""
        try:
            self.take_in(self.text)
            self.problems = ()
        except RigError as error:
            self.problems = error.problems
        self.changed.emit()


def stamp(path: Path | None) -> str | None:
    """Name of what is in a file; None where there is none."""
    try:
        return sha256(path.read_bytes()).hexdigest() if path is not None else None
    except OSError:
        return None
