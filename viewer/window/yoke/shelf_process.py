"""Has the pictures of yokes drawn by a program of its own, so that the window stays quick."""

from collections.abc import Callable
from pathlib import Path

from PyQt6.QtCore import QObject, pyqtSignal

from viewer.own_program import own_program
from viewer.window.yoke.program import Program
from viewer.yoke.shelf import shelf_place

Command = Callable[[str], list[str]]
"""Program and arguments that draw the pictures for a size of cross."""


def _drawing(cross: str) -> list[str]:
    return [*own_program("viewer.yoke.shelf"), cross]


class ShelfProcess(QObject):
    """Gives the pictures for one size of cross at a time.

    Signals
    -------
    ready : the size whose pictures are there now.
    failed : the size there will be no pictures for.
    """

    ready = pyqtSignal(str)
    failed = pyqtSignal(str)

    def __init__(self, parent: QObject | None = None, command: Command = _drawing) -> None:
        super().__init__(parent)
        self._command = command
        self._cross = ""
        self._program = Program(self)
        self._program.ended.connect(self._on_ended)

    def want(self, cross: str) -> Path | None:
        """Where the pictures are; None while they are being drawn."""
        place = shelf_place(cross)
        if place.exists():
            return place
        if not self._program.runs or self._cross != cross:
            self._cross = cross
            self._program.start(self._command(cross))
        return None

    def stop(self) -> None:
        """Draw no more."""
        self._program.stop()

    def _on_ended(self) -> None:
        there = shelf_place(self._cross).exists()
        (self.ready if there else self.failed).emit(self._cross)
