"""What every panel has in common: it hears a session for as long as it is open."""

from collections.abc import Callable, Sequence

from psygnal import SignalInstance
from PyQt6.QtCore import QEvent
from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session

Link = tuple[SignalInstance, Callable[[], None]]
"""A signal and what is done when it is heard."""


class Follower(QWidget):
    """A panel that shows a session and keeps nothing of it.

    A subclass builds its widgets, says what it listens to (`links`), shows everything anew in
    `refresh`, and calls `follow` at the end of its own `__init__`.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._links: list[Link] = []

    def links(self) -> Sequence[Link]:
        """What is listened to; asked again when another document is opened."""
        return ()

    def refresh(self) -> None:
        """Show everything anew; there is nothing yet."""

    def follow(self) -> None:
        """Start to listen, and show what there is."""
        self._links = [*self.links(), (self.session.opened, self._on_opened)]
        for signal, slot in self._links:
            signal.connect(slot)
        self.refresh()

    def unfollow(self) -> None:
        """Listen no more."""
        for signal, slot in self._links:
            signal.disconnect(slot, missing_ok=True)
        self._links = []

    def _on_opened(self) -> None:
        self.unfollow()
        self.follow()

    def changeEvent(self, event: QEvent | None) -> None:
        """Show everything anew in other colours."""
        super().changeEvent(event)
        if event is not None and event.type() == QEvent.Type.PaletteChange and self._links:
            self.refresh()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Leave the session in peace."""
        self.unfollow()
        super().closeEvent(event)
