"""The rig file being worked on: its text, every version of it, and what is wrong with it.

The text is the truth: remarks and layout of a file that somebody wrote stay as they are, and a
value that cannot be right stays where it was typed until it is mended. The last rig that was right
is kept beside it.
"""

from collections.abc import Callable, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

import tomlkit
from psygnal import Signal

from sim.kept.atomic import replace_file
from sim.rig import Problem, Rig, RigError, parse_rig
from sim.rig.change import EditError
from sim.rig.demos import demo_text
from sim.rig.document import rig_text
from sim.table.reading import parse_toml, read_text
from viewer.session.text.edits import typed_into, value_at
from viewer.session.text.history import History
from viewer.session.text.order import Order
from viewer.words.problems import error_words

UNTITLED = "new rig"


class Document:
    """A rig file open for work.

    Signals
    -------
    changed : the text is another one, however that came about.
    rewritten : every version of it was put another way, by the function told.
    """

    changed = Signal()
    rewritten = Signal(object)

    def __init__(
        self,
        text: str,
        path: Path | None = None,
        demo: str | None = None,
        folder: Path | None = None,
    ) -> None:
        """Start from a text that is a rig: from the file `path`, from a demo, or from nowhere.

        folder : from where one that lies in no file sees the files it names.
        Raises RigError when the text is no rig.
        """
        self.path = path
        self._folder = folder or Path()
        self._demo = demo
        self._history = History(text)
        self._saved_text: str | None = text if path is not None or demo is not None else None
        self._seen = _stamp(path)
        self.problems: tuple[Problem, ...] = ()
        self.rig = self._parsed(text)

    @classmethod
    def open(cls, path: Path) -> "Document":
        """Open a rig file. Raises RigError with everything that is wrong with it."""
        return cls(read_text(path), path)

    @classmethod
    def demo(cls, name: str) -> "Document":
        """Open a demo rig; saving it asks for a place. Raises RigError for an unknown name."""
        return cls(demo_text(name), demo=name)

    @classmethod
    def of(cls, rig: Rig) -> "Document":
        """Start from a rig that lies in no file."""
        return cls(rig_text(rig))

    @property
    def text(self) -> str:
        """The rig file as it stands."""
        return self._history.now

    @property
    def data(self) -> dict[str, Any]:
        """What is typed, as plain data."""
        return parse_toml(self.text, self.name)

    @property
    def name(self) -> str:
        """What the file is called."""
        return self.path.name if self.path is not None else self._demo or UNTITLED

    @property
    def folder(self) -> Path:
        """The folder from which it sees the files it names."""
        return self.path.parent if self.path is not None else self._folder

    @property
    def is_right(self) -> bool:
        """Whether the text is a rig; if not, `rig` is the last one that was."""
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

    def order(self, without: tuple[str, ...] = ()) -> Order:
        """What a worker is given to compute it, with the codes of remedies it is not to try."""
        return Order(self.text, self.name, self.rig.folder, without)

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
        self._take(tomlkit.dumps(text), name or ", ".join(values), joined)

    def replace(self, text: str, name: str) -> None:
        """Take another text as a whole. Raises EditError when it is no TOML."""
        try:
            parse_toml(text, self.name)
        except RigError as error:
            raise EditError(error_words(error)) from None
        self._take(text, name)

    def undo(self) -> None:
        """Go back one step, if there is one."""
        if self._history.undo():
            self._read()

    def redo(self) -> None:
        """Go forward again, if there is a way."""
        if self._history.redo():
            self._read()

    def save(self, path: Path | None = None, put: Callable[[str], str] | None = None) -> None:
        """Write the file, under its own name or another. Raises OSError when that fails.

        put : how its text is put in its new place, such as with other names of files; every
            version of it is, so that undo goes on to work.
        The file is replaced as a whole, so that a failure leaves the old one.
        """
        place = path or self.path
        if place is None:
            raise ValueError("save: no path for a rig without a file, expected one")
        replace_file(place, (put(self.text) if put else self.text).encode())
        self.path = place
        if put:
            self._history.rewrite(put)
            self.rewritten.emit(put)
        self._saved_text, self._seen = self.text, _stamp(place)
        self._read()

    @property
    def changed_outside(self) -> bool:
        """Whether another program has written the file since it was read or saved."""
        return self.path is not None and _stamp(self.path) != self._seen

    def keep_mine(self) -> None:
        """Take note of the file as another program left it, and go on with this text."""
        self._seen = _stamp(self.path)
        self._saved_text = None
        self.changed.emit()

    def reload(self) -> None:
        """Take the file as it is on disk; undo brings back what was here.

        Raises RigError when it is no rig.
        """
        if self.path is None:
            return
        text = read_text(self.path)
        self._parsed(text)
        self._seen, self._saved_text = _stamp(self.path), text
        self._take(text, "the file as another program left it")

    def _take(self, text: str, name: str, joined: bool = False) -> None:
        if text != self.text:
            self._history.take(text, name, joined)
            self._read()

    def _read(self) -> None:
        try:
            self.rig = self._parsed(self.text)
            self.problems = ()
        except RigError as error:
            self.problems = error.problems
        self.changed.emit()

    def _parsed(self, text: str) -> Rig:
        rig = parse_rig(text, self.name)
        rig._folder = self.folder
        return rig


def _stamp(path: Path | None) -> str | None:
    """Name of what is in a file; None where there is none."""
    try:
        return sha256(path.read_bytes()).hexdigest() if path is not None else None
    except OSError:
        return None
