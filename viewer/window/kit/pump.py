"""Keeps the session going between events: hears the worker, does the exact work piece by piece."""

from PyQt6.QtCore import QObject

from viewer.session.session import Session
from viewer.window.kit.follower import Links
from viewer.window.kit.pieces import every, once

HEARD_EVERY = 30
"""ms between looks at what the worker said."""

REST = 4
"""ms between two pieces of exact work, so that events and drawing come first."""


class Pump(QObject):
    """Two timers that drive a session."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._ticks = every(self, session.tick, HEARD_EVERY)
        self._pieces = once(self, self._piece, REST)
        heard = (session.posed, session.answered, session.measured)
        self._links = Links(*((signal, self._wake) for signal in heard))
        self._ticks.start()
        self._wake()

    def stop(self) -> None:
        """Rest for good."""
        self._ticks.stop()
        self._pieces.stop()
        self._links.let_go()

    def _wake(self) -> None:
        if self._session.has_work and not self._pieces.isActive():
            self._pieces.start()

    def _piece(self) -> None:
        if self._session.idle():
            self._pieces.start()
