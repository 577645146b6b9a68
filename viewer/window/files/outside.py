"""Noticing that another program has changed the rig file, and asking what counts."""

from pathlib import Path

from PyQt6.QtCore import QEvent, QFileSystemWatcher, QObject, pyqtSignal
from PyQt6.QtWidgets import QWidget

from sim.rig import RigError
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.kit.asker import BACK, Answer, Asker
from viewer.window.kit.follower import Links
from viewer.window.kit.pieces import once

SETTLED = 300
"""ms after the system said that a file changed until it is looked at: writers write in pieces."""


class Outside(QObject):
    """Watches the file that is open, also when the window comes to the front.

    Signals
    -------
    told : something to show in passing.
    wants_saving : the user wants the file written again.
    """

    told = pyqtSignal(str)
    wants_saving = pyqtSignal()

    def __init__(self, session: Session, window: QWidget, asker: Asker) -> None:
        super().__init__(window)
        self._session = session
        self._window = window
        self._ask = asker
        self._asking = False
        self._watcher = QFileSystemWatcher(self)
        self._watcher.fileChanged.connect(self._on_touched)
        self._settle = once(self, self.look, SETTLED)
        window.installEventFilter(self)
        # Saving tells that the rig is another one, too.
        self._links = Links((session.opened, self._watch), (session.rig_changed, self._watch))
        self._watch()

    def look(self) -> None:
        """Ask what to do if another program has changed or taken away the file."""
        document = self._session.document
        if self._asking or document.path is None or not document.changed_outside:
            return
        self._asking = True
        try:
            if document.path.exists():
                self._ask_which(document)
            else:
                self._ask_gone(document)
        finally:
            self._asking = False
            self._watch()

    def _ask_which(self, document: Document) -> None:
        mine = "Your unsaved changes" if document.is_dirty else "What is open here"
        answer = self._ask.choose(
            "Changed by another program",
            f"{document.name} has been changed by another program. {mine} and the file now differ.",
            (
                Answer("theirs", "&Take the file", "Show the file as it is now; undo goes back."),
                Answer("mine", "&Keep mine", "Go on with what is here; saving replaces the file."),
            ),
            "mine",
            uncalled=True,
        )
        if answer == "theirs":
            try:
                document.reload()
                self.told.emit(f"Took {document.name} as another program left it.")
                return
            except RigError as error:
                self._ask.list_problems(
                    "Something is wrong with the file",
                    "The file cannot be taken; what was here stays.",
                    error.problems,
                )
        document.keep_mine()

    def _ask_gone(self, document: Document) -> None:
        answer = self._ask.choose(
            "The file is gone",
            f"{document.path} has been taken away or renamed.",
            (
                Answer("again", "&Save it again", "Write the file where it was."),
                Answer("mine", "&Keep mine", "Go on with what is here, not saved."),
            ),
            "mine",
            uncalled=True,
        )
        document.keep_mine()
        if answer == "again" and document.path is not None:
            self.wants_saving.emit()

    def may_replace(self) -> bool:
        """Whether saving may go on: the file is as it was, gone, or given up knowingly."""
        document = self._session.document
        path: Path | None = document.path
        if path is None or not document.changed_outside or not path.exists():
            return True
        answer = self._ask.choose(
            "Changed by another program",
            f"{path.name} has been changed by another program since it was opened here.",
            (Answer("replace", "&Replace it", "What the other program wrote is lost."), BACK),
            "back",
        )
        return answer == "replace"

    def close(self) -> None:
        """Watch no more."""
        self._settle.stop()
        self._window.removeEventFilter(self)
        self._links.let_go()
        if files := self._watcher.files():
            self._watcher.removePaths(files)

    def _watch(self) -> None:
        """Watch the file that is open; one that was replaced has to be watched anew."""
        path = self._session.document.path
        wanted = str(path) if path is not None and path.exists() else None
        others = [file for file in self._watcher.files() if file != wanted]
        if others:
            self._watcher.removePaths(others)
        if wanted is not None and wanted not in self._watcher.files():
            self._watcher.addPath(wanted)

    def _on_touched(self, _: str) -> None:
        self._watch()
        self._settle.start()

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Look at the file again when the window comes to the front."""
        if (
            event is not None
            and watched is self._window
            and event.type() == QEvent.Type.WindowActivate
        ):
            self._settle.start()
        return super().eventFilter(watched, event)
