"""Has the pictures of yokes drawn by a program of its own, so that the window stays quick."""

from collections.abc import Callable
from pathlib import Path

from PyQt6.QtCore import QObject, QProcess, QProcessEnvironment, pyqtSignal

from viewer.own_program import own_program, own_surroundings
from viewer.yoke.shelf import shelf_place

Command = Callable[[str], list[str]]
"""Program and arguments that draw the pictures for a size of cross."""

PATIENCE = 2000
"""ms. A process that was killed is gone long before."""


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
        self._process: QProcess | None = None

    def want(self, cross: str) -> Path | None:
        """Where the pictures are; None while they are being drawn."""
        place = shelf_place(cross)
        if place.exists():
            return place
        if self._process is None or self._cross != cross:
            self.stop()
            self._start(cross)
        return None

    def stop(self) -> None:
        """Draw no more."""
        if self._process is not None:
            process, self._process = self._process, None
            process.finished.disconnect(self._on_finished)
            process.errorOccurred.disconnect(self._on_error)
            process.kill()
            process.waitForFinished(PATIENCE)
            process.deleteLater()

    def _start(self, cross: str) -> None:
        self._cross = cross
        process = QProcess(self)
        around = QProcessEnvironment.systemEnvironment()
        for name, value in own_surroundings(around.value("PYTHONPATH")).items():
            around.insert(name, value)
        process.setProcessEnvironment(around)
        process.finished.connect(self._on_finished)
        process.errorOccurred.connect(self._on_error)
        self._process = process
        program, *arguments = self._command(cross)
        process.start(program, arguments)

    def _on_finished(self) -> None:
        self._end(shelf_place(self._cross).exists())

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart:
            self._end(there=False)

    def _end(self, there: bool) -> None:
        if self._process is not None:
            self._process.deleteLater()
            self._process = None
        (self.ready if there else self.failed).emit(self._cross)
