"""Rig files in the window: new, open, save, and never losing what somebody typed.

Everything is asked through an `Asker`. The user's file is written only by Save and Save as.
"""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PyQt6.QtCore import QObject, pyqtSignal
from PyQt6.QtGui import QKeySequence
from PyQt6.QtWidgets import QMenu, QWidget

from geometry.errors import BindpointError
from sim.rig import RigError
from viewer.session.kept.recent import Recent, RecentFiles
from viewer.session.kept.recovery import Autosave, Lost, lost_work
from viewer.session.session import Session
from viewer.session.text.beside import Moves, copied, left_behind, nearer, pointed_at, repointed
from viewer.session.text.document import Document
from viewer.session.text.file_names import plain_name
from viewer.window.files.outside import Outside
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import BACK, Answer, Asker, Dialogs
from viewer.window.kit.pieces import entry, every
from viewer.window.rig.new_rig import ask_new_rig
from viewer.written.outputs import RIG

KINDS = "Rig files (*.toml);;All files (*)"
ENDING = ".toml"

BEAT = 250
"""ms between looks whether unsaved work is to be kept."""

_SAVE = Answer("save", "&Save", "Write the rig file, then go on.")
_THROW = Answer("throw away", "&Throw away", "Go on; what was not saved is lost.")


class FileActions(QObject):
    """What can be done with rig files, for one session in one window.

    ask_new : gives a new document, or None when the user goes back.

    Signals
    -------
    told : something to show in passing, such as "Saved".
    """

    told = pyqtSignal(str)

    def __init__(
        self,
        session: Session,
        window: QWidget,
        asker: Asker | None = None,
        ask_new: Callable[[QWidget], Document | None] = ask_new_rig,
    ) -> None:
        super().__init__(window)
        self._session = session
        self._window = window
        self._ask = asker or Dialogs(window)
        self._ask_new = ask_new
        self.recent = RecentFiles()
        self.autosave = Autosave(session)
        self.autosave.failed.connect(self.told.emit)
        self.outside = Outside(session, window, self._ask)
        self.outside.told.connect(self.told)
        self.outside.wants_saving.connect(self.save)
        self._beat = every(self, self.autosave.tick, BEAT)
        self._beat.start()
        self._recent_menu: QMenu | None = None

    # What the menu offers

    def fill(self, menu: QMenu) -> None:
        """Put the actions into a menu."""
        keys = QKeySequence.StandardKey
        entry(menu, "&New rig ...", self.new, keys.New, "Start from questions or a demo rig.")
        entry(menu, "&Open ...", self.open, keys.Open, "Open a rig file.")
        self._recent_menu = menu.addMenu("Open &recent")
        if self._recent_menu is not None:
            self._recent_menu.aboutToShow.connect(self._fill_recent)
        menu.addSeparator()
        entry(menu, "&Save", self.save, keys.Save, "Write the rig file.")
        entry(menu, "Save &as ...", self.save_as, "Ctrl+Shift+S", "Write it under another name.")
        menu.addSeparator()
        entry(menu, "&Quit", self._window.close, keys.Quit, "Close the window.")

    def new(self) -> bool:
        """Start another rig; whether that happened."""
        if not self.may_close():
            return False
        document = self._made(lambda: self._ask_new(self._window), "New rig")
        return self._take(document)

    def open(self) -> bool:
        """Ask for a rig file and open it; whether that happened."""
        if not self.may_close():
            return False
        path = self._ask.file_to_open("Open a rig file", self._folder(), KINDS)
        return path is not None and self._load(path)

    def open_path(self, path: Path) -> bool:
        """Open this rig file; whether that happened."""
        return self.may_close() and self._load(path)

    def save(self) -> bool:
        """Write the rig file, asking for a place where it has none; whether it is written."""
        path = self._session.document.path
        if path is None:
            return self.save_as()
        return self.outside.may_replace() and self._may_be_wrong() and self._put(path)

    def save_as(self) -> bool:
        """Ask for a place and write the rig file there; whether it is written."""
        path = place_to_save(self._ask, "Save the rig file", self._suggestion(), KINDS, ENDING, RIG)
        if path is None:
            return False
        moves = self._kept(path) if self._may_be_wrong() else None
        return moves is not None and self._put(path, lambda text: repointed(text, moves))

    def may_close(self) -> bool:
        """Whether this rig may be left: saved, or thrown away knowingly."""
        document = self._session.document
        if not document.is_dirty:
            return True
        answer = self._ask.choose(
            "Not saved",
            f"{document.rig.name} ({document.name}) has changes that are not saved.",
            (_SAVE, _THROW, BACK),
            "back",
        )
        return answer == "throw away" or (answer == "save" and self.save())

    def close(self) -> None:
        """Let go of the file, after `may_close`: nothing is kept for recovery any more."""
        self._beat.stop()
        self.outside.close()
        self.autosave.close()

    # Work that was lost

    def offer_lost(self) -> bool:
        """Ask about work of programs that ended without saving; whether some was brought back."""
        for lost in lost_work():
            answer = self._ask.choose(
                "Work that was not saved", _told_of(lost), _LOST_ANSWERS, "later"
            )
            if answer == "throw away":
                lost.forget()
            if answer == "bring back":
                if self.may_close() and self._take(self._made(lost.document, "Lost work")):
                    self.autosave.write()
                    self.autosave.wait()
                    lost.forget()
                    self.told.emit(f"Brought back {lost.name}; it is not saved yet.")
                    return True
                return False
        return False

    # Inside

    def _load(self, path: Path) -> bool:
        return self._take(self._made(lambda: Document.open(path), f"Open {path.name}"))

    def _made(self, make: Callable[[], Document | None], title: str) -> Document | None:
        try:
            return make()
        except RigError as error:
            self._ask.list_problems(
                "Something is wrong with the file",
                "This is no rig file that can be used. Everything wrong with it:",
                error.problems,
            )
        except BindpointError as error:
            self._ask.tell(title, str(error))
        return None

    def _take(self, document: Document | None) -> bool:
        if document is None:
            return False
        self._session.open(document)
        if document.path is not None:
            self.recent.add(document.path)
        return True

    def _put(self, path: Path, put: Callable[[str], str] | None = None) -> bool:
        try:
            self._session.document.save(path, put)
        except OSError as error:
            reason = error.strerror or str(error)
            self._ask.tell(
                "Not saved", f"{path} could not be written: {reason}. The old file is unharmed."
            )
            return False
        self.recent.add(path)
        self.told.emit(f"Saved {path}.")
        return True

    def _kept(self, path: Path) -> Moves | None:
        """Ask once how the rig keeps the files it names; their names then, None to go back."""
        document = self._session.document
        files, moves = left_behind(document, path), dict(nearer(document, path))
        if not files:
            return moves
        names = ", ".join(each.said for each in files)
        answer = self._ask.choose(
            "Files of the rig",
            f"The rig uses files that do not lie in the folder it is saved to: {names}.",
            (
                Answer("copy", "&Copy them there", "The rig then takes its own copies; nothing "
                       "that is there is overwritten."),
                Answer("point", "&Point at them", "The rig goes on to use them where they are."),
                BACK,
            ),
            "back",
        )  # fmt: skip
        if answer == "back":
            return None
        if answer == "point":
            return moves | dict(pointed_at(files))
        try:
            return moves | dict(copied(files, path))
        except OSError as error:
            reason = error.strerror or str(error)
            self._ask.tell("Not copied", f"{path.parent}: files could not be copied: {reason}.")
            return None

    def _may_be_wrong(self) -> bool:
        """Whether the rig is right, or is to be saved all the same."""
        document = self._session.document
        if document.is_right:
            return True
        count = len(document.problems)
        values = "one value that cannot" if count == 1 else f"{count} values that cannot"
        answer = self._ask.choose(
            "Not right yet",
            f"The rig has {values} be right. A file saved like this cannot be opened again here "
            "until it is mended in a text editor.",
            (BACK, Answer("save", "&Save anyway", "Write the file as it stands.")),
            "back",
        )
        return answer == "save"

    def _suggestion(self) -> Path:
        document = self._session.document
        if document.path is not None:
            return document.path
        name = plain_name(document.rig.name) or "rig"
        return (self._folder() or Path.home()) / f"{name}{ENDING}"

    def _folder(self) -> Path | None:
        path = self._session.document.path
        return path.parent if path is not None else self.recent.last_folder

    def _fill_recent(self) -> None:
        menu = self._recent_menu
        if menu is None:
            return
        menu.clear()
        files = self.recent.files
        for number, each in enumerate(files, start=1):
            key = f"&{number} " if number < 10 else ""
            name = each.says.replace("&", "&&")
            entry(menu, f"{key}{name}", partial(self._open_recent, each))
        if not files:
            entry(menu, "No rig file has been opened yet", lambda: None).setEnabled(False)
            return
        menu.addSeparator()
        entry(menu, "&Forget these", self.recent.clear)

    def _open_recent(self, recent: Recent) -> None:
        if not recent.missing:
            self.open_path(recent.path)
            return
        answer = self._ask.choose(
            "The file is missing",
            f"{recent.path} is not there any more.",
            (
                Answer("forget", "&Forget it", "Take it off this list."),
                Answer("keep", "&Keep it", "It may come back, as on a drive that is unplugged."),
            ),
            "keep",
        )
        if answer == "forget":
            self.recent.forget(recent.path)


_LOST_ANSWERS = (
    Answer("bring back", "&Bring it back", "Open it with its changes, not saved yet."),
    Answer("throw away", "&Throw it away", "It is lost for good."),
    Answer("later", "Ask &later", "Leave it and ask again at the next start."),
)


def _told_of(lost: Lost) -> str:
    when = lost.written.astimezone().strftime("%d %b %Y, %H:%M")
    where = f" in {lost.path.parent}" if lost.path is not None else ""
    newer = " The file itself has been changed since; it stays as it is until you save."
    newer *= lost.file_is_newer
    return f"{lost.name}{where} had changes, kept on {when}, when the program ended.{newer}"
