"""Hearing a session for as long as it takes, and what every panel has in common: that it does."""

from collections.abc import Callable, Sequence
from typing import Any

from psygnal import SignalInstance
from PyQt6.QtCore import QEvent
from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session

Link = tuple[SignalInstance, Callable[..., Any]]
"""A signal and what is done when it is heard."""


class Links:
    """What is listened to, until it is let go or other links take its place."""

    def __init__(self, *links: Link) -> None:
        self._links: tuple[Link, ...] = ()
        self.take(*links)

    def take(self, *links: Link) -> None:
        """Listen to these and to nothing else."""
        self.let_go()
        self._links = links
        for signal, slot in links:
            signal.connect(slot)

    def let_go(self) -> None:
        """Listen no more."""
        for signal, slot in self._links:
            signal.disconnect(slot, missing_ok=True)
        self._links = ()

    def __bool__(self) -> bool:
        """Whether anything is listened to."""
        return bool(self._links)


class Follower(QWidget):
    """A panel that shows a session and keeps nothing of it.

    A subclass builds its widgets, says what it listens to (`links`), shows everything anew in
    `refresh`, and calls `follow` at the end of its own `__init__`.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._links = Links()

    def links(self) -> Sequence[Link]:
        """What is listened to; asked again when another document is opened."""
        return ()

    def refresh(self) -> None:
        """Show everything anew; there is nothing yet."""

    def follow(self) -> None:
        """Start to listen, and show what there is."""
        self._links.take(*self.links(), (self.session.opened, self._on_opened))
        self.refresh()

    def unfollow(self) -> None:
        """Listen no more."""
        self._links.let_go()

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
