"""Keeps the session going between events: hears the worker, does the exact work piece by piece."""

from PyQt6.QtCore import QObject, QTimer

from viewer.session.session import Session

HEARD_EVERY = 30
"""ms between looks at what the worker said."""

REST = 4
"""ms between two pieces of exact work, so that events and drawing come first."""


class Pump(QObject):
    """Two timers that drive a session."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._ticks = QTimer(self)
        self._ticks.setInterval(HEARD_EVERY)
        self._ticks.timeout.connect(self._tick)
        self._pieces = QTimer(self)
        self._pieces.setSingleShot(True)
        self._pieces.timeout.connect(self._piece)
        for signal in (session.posed, session.answered, session.measured):
            signal.connect(self._wake)
        self._ticks.start()
        self._wake()

    def stop(self) -> None:
        """Rest for good."""
        self._ticks.stop()
        self._pieces.stop()
        for signal in (self._session.posed, self._session.answered, self._session.measured):
            signal.disconnect(self._wake)

    def _tick(self) -> None:
        self._session.tick()

    def _wake(self) -> None:
        if self._session.has_work and not self._pieces.isActive():
            self._pieces.start(REST)

    def _piece(self) -> None:
        if self._session.idle():
            self._pieces.start(REST)
