"""Inspection files in the room for a failed joint: new, open, save, and never losing a tick."""

from collections.abc import Callable

from PyQt6.QtCore import QObject, pyqtSignal

from geometry.errors import BindpointError
from sim.rig import RigError
from viewer.session.why.room import WhyRoom
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import BACK, Answer, Asker
from viewer.words.problems import error_words
from viewer.written.outputs import INSPECTION

KINDS = "Inspections (*.toml);;All files (*)"
ENDING = ".toml"

SAVE = Answer("save", "&Save", "Write the inspection, then go on.")
THROW = Answer("throw away", "&Throw away", "Go on; what was not saved is lost.")


class InspectionFiles(QObject):
    """What can be done with the file of an inspection.

    flush : takes what is being typed.

    Signals
    -------
    told : something to show in passing, such as "Saved".
    """

    told = pyqtSignal(str)

    def __init__(
        self, room: WhyRoom, asker: Asker, flush: Callable[[], None], parent: QObject
    ) -> None:
        super().__init__(parent)
        self._room, self._ask, self._flush = room, asker, flush

    def new(self) -> None:
        """Start with nothing looked at."""
        if self.may_leave():
            self._room.begin()

    def open(self) -> None:
        """Ask for an inspection file and open it."""
        if not self.may_leave():
            return
        path = self._ask.file_to_open("Open an inspection", self._room.place.parent, KINDS)
        if path is None:
            return
        try:
            self._room.open(path)
        except RigError as error:
            self._ask.list_problems(
                "Something is wrong with the file",
                "This is no inspection that can be used. Everything wrong with it:",
                error.problems,
            )
        except BindpointError as error:
            self._ask.tell("Open an inspection", error_words(error))

    def save(self) -> bool:
        """Write the inspection, asking for a place where it has none; whether it is written."""
        self._flush()
        file = self._room.file
        path = file.path
        if path is None:
            path = place_to_save(
                self._ask, "Save the inspection", self._room.place, KINDS, ENDING, INSPECTION
            )
        if path is None:
            return False
        try:
            file.save(path)
        except OSError as error:
            reason = error.strerror or str(error)
            self._ask.tell("Not saved", f"{path} could not be written: {reason}.")
            return False
        self.told.emit(f"Saved {path}.")
        return True

    def may_leave(self) -> bool:
        """Whether this inspection may be left: saved, or thrown away knowingly."""
        self._flush()
        if not self._room.file.is_dirty:
            return True
        answer = self._ask.choose(
            "Not saved",
            f"The inspection ({self._room.file.name}) has changes that are not saved.",
            (SAVE, THROW, BACK),
            "back",
        )
        return answer == "throw away" or (answer == "save" and self.save())
