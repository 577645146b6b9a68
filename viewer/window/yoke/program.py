"""A program of the house that works beside the window, so that this stays quick; one at a time."""

from collections.abc import Sequence

from PyQt6.QtCore import QObject, QProcess, QProcessEnvironment, pyqtSignal

from viewer.own_program import own_surroundings

PATIENCE = 2000
"""ms. A process that was killed is gone long before."""


class Program(QObject):
    """Runs one program; a new one takes the place of one that runs.

    Signals
    -------
    ended : it is through, or could not be started.
    """

    ended = pyqtSignal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._process: QProcess | None = None

    @property
    def runs(self) -> bool:
        """Whether it is at work."""
        return self._process is not None

    def start(self, command: Sequence[str]) -> None:
        """Run a program with its arguments."""
        self.stop()
        process = QProcess(self)
        around = QProcessEnvironment.systemEnvironment()
        for name, value in own_surroundings(around.value("PYTHONPATH")).items():
            around.insert(name, value)
        process.setProcessEnvironment(around)
        process.finished.connect(self._on_finished)
        process.errorOccurred.connect(self._on_error)
        self._process = process
        process.start(command[0], list(command[1:]))

    def stop(self) -> None:
        """End it, and say nothing of it."""
        if self._process is not None:
            process, self._process = self._process, None
            process.finished.disconnect(self._on_finished)
            process.errorOccurred.disconnect(self._on_error)
            process.kill()
            process.waitForFinished(PATIENCE)
            process.deleteLater()

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart:
            self._on_finished()

    def _on_finished(self) -> None:
        if self._process is not None:
            self._process.deleteLater()
            self._process = None
        self.ended.emit()
