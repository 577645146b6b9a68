"""What was typed and not saved, kept against a crash, and found again after one.

Every running program writes the text it is working on into a file of its own in the state folder,
shortly after each change, and takes it away when it has been saved or thrown away. A file whose
program is no longer alive holds lost work. The user's own file is never written here.
"""

import os
import secrets
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic
from typing import Literal

from psygnal import Signal
from pydantic import AwareDatetime, BaseModel, Field, ValidationError

from sim.kept.lock import Lock
from sim.rig import RigError
from sim.rig.demos import demo_names
from sim.table.reading import read_text
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.state_folder import keep, recall, state_folder

REST = 1.0
"""s without a change until the text is written."""

LONGEST = 5.0
"""s after which it is written even while changes go on."""

RECOVERED = "what was not saved when the program ended"
"""Name of the step that brings lost work back, for undo."""


def autosave_folder() -> Path:
    """Where unsaved work is kept."""
    return state_folder() / "unsaved"


class Autosave:
    """Keeps the unsaved text of a session.

    `tick` is called often and never waits: writing happens in a thread of its own.

    Signals
    -------
    failed : the work cannot be kept; says why, once for each reason.
    """

    failed = Signal(str)

    def __init__(
        self,
        session: Session,
        folder: Path | None = None,
        clock: Callable[[], float] = monotonic,
    ) -> None:
        self._session = session
        self._clock = clock
        place = folder or autosave_folder()
        own = f"{os.getpid()}-{secrets.token_hex(4)}"
        self.file = place / f"{own}.json"
        self._lock = Lock(place / f"{own}.lock")
        self._first: float | None = None
        self._last = 0.0
        self._right = ""
        self._said: str | None = None
        self._writing: list[Future[None]] = []
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="autosave")
        for signal in (session.rig_changed, session.opened):
            signal.connect(self._on_changed)
        self._on_changed()

    def tick(self) -> None:
        """Write if it is time, and hear how the last writing went."""
        now = self._clock()
        if self._first is not None and (now - self._last >= REST or now - self._first >= LONGEST):
            self.write()
        self._hear()

    def write(self) -> None:
        """Write now, or take the file away where there is nothing to save."""
        self._first = None
        document = self._session.document
        if document.is_dirty:
            work = Lost(
                name=document.name,
                path=document.path and document.path.absolute(),
                written=datetime.now(UTC),
                text=document.text,
                right=self._right,
                file=self.file,
                folder=document.folder.absolute(),
            )
            self._writing.append(self._thread.submit(self._write, work))
        else:
            self._writing.append(self._thread.submit(self._take_away))

    def wait(self) -> None:
        """Wait until what was told is on the disk."""
        for each in self._writing:
            each.exception()
        self._hear()

    def close(self) -> None:
        """Take the file away: everything has been saved or thrown away."""
        for signal in (self._session.rig_changed, self._session.opened):
            signal.disconnect(self._on_changed)
        self._thread.shutdown(wait=True)
        self._hear()
        with suppress(OSError):
            self._take_away()
        self._lock.release()

    def _on_changed(self) -> None:
        document = self._session.document
        if document.is_right:
            self._right = document.text
        self._last = self._clock()
        if self._first is None:
            self._first = self._last

    def _write(self, work: "Lost") -> None:
        if not self._lock.is_held:
            self._lock.path.parent.mkdir(parents=True, exist_ok=True)
            self._lock.take()
        keep(self.file, work.model_dump(mode="json"))

    def _take_away(self) -> None:
        self.file.unlink(missing_ok=True)

    def _hear(self) -> None:
        over = [each for each in self._writing if each.done()]
        self._writing = [each for each in self._writing if not each.done()]
        for each in over:
            fault = each.exception()
            said = None if fault is None else _reason(fault)
            if said is not None and said != self._said:
                self.failed.emit(f"{self.file.parent}: unsaved work cannot be kept here ({said})")
            self._said = said


class Lost(BaseModel, frozen=True):
    """Work of a program that ended without saving it, as it is kept.

    Attributes
    ----------
    name : what the rig file was called. path : the user's file; None where there was none.
    written : when it was kept.
    text : the work. right : the last text before it that was a rig.
    file : where it is kept. folder : from where it sees the files it names.
    """

    format: Literal[1] = 1
    name: str
    path: Path | None
    written: AwareDatetime
    text: str
    right: str
    file: Path = Field(exclude=True)
    folder: Path = Path()

    @property
    def file_is_newer(self) -> bool:
        """Whether the user's file was written after this work was kept."""
        try:
            return self.path is not None and self.path.stat().st_mtime > self.written.timestamp()
        except OSError:
            return False

    @property
    def is_saved(self) -> bool:
        """Whether the user's file holds this very work."""
        with suppress(RigError):
            return self.path is not None and read_text(self.path) == self.text
        return False

    def document(self) -> Document:
        """The work as an open document with unsaved changes; undo goes back to the file.

        Raises RigError or EditError where the work is no rig file at all.
        """
        document = self._start()
        document.replace(self.text, RECOVERED)
        return document

    def forget(self) -> None:
        """Throw it away; nothing happens where it is gone."""
        for each in (self.file, self.file.with_suffix(".lock")):
            with suppress(OSError):
                each.unlink(missing_ok=True)

    def _start(self) -> Document:
        if self.path is not None:
            with suppress(RigError):
                return Document.open(self.path)
        elif self.name in demo_names():
            return Document.demo(self.name)
        return Document(self.right, folder=self.folder)


def lost_work(folder: Path | None = None) -> list[Lost]:
    """Work of programs that are no longer alive, the newest first.

    What has been saved after all, just before the end, is forgotten.
    """
    place = folder or autosave_folder()
    try:
        files = sorted(place.glob("*.json"))
    except OSError:
        return []
    found = [lost for file in files if _is_dead(file) and (lost := _lost(file)) is not None]
    for lost in found:
        if lost.is_saved:
            lost.forget()
    left = [lost for lost in found if not lost.is_saved]
    return sorted(left, key=lambda lost: lost.written, reverse=True)


def _is_dead(file: Path) -> bool:
    lock = Lock(file.with_suffix(".lock"))
    try:
        dead = lock.take()
    except OSError:
        return False
    lock.release()
    return dead


def _lost(file: Path) -> Lost | None:
    data = recall(file)
    if isinstance(data, dict):
        with suppress(ValidationError):
            return Lost.model_validate(data | {"file": file})
    return None


def _reason(fault: BaseException) -> str:
    return getattr(fault, "strerror", None) or str(fault) or type(fault).__name__
