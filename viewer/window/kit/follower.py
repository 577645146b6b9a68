"""Hearing a session for as long as it takes, and what every panel has in common: that it does."""

from collections.abc import Callable
from typing import Any

from psygnal import SignalInstance
from PyQt6.QtCore import QEvent
from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session

Link = tuple[SignalInstance, Callable[..., Any]]
"""A signal and what is done when it is heard."""


class Links:
    """What is listened to, until it is let go."""

    def __init__(self, *links: Link) -> None:
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

    A subclass builds its widgets, shows everything anew in `refresh`, and tells `follow` what it
    listens to at the end of its own `__init__`.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._links = Links()

    def refresh(self) -> None:
        """Show everything anew; there is nothing yet."""

    def follow(self, *links: Link) -> None:
        """Listen to these and to whether another rig is opened, and show what there is."""
        self._links = Links(*links, (self.session.opened, self.on_opened))
        self.refresh()

    def on_opened(self) -> None:
        """Show another rig."""
        self.refresh()

    def changeEvent(self, event: QEvent | None) -> None:
        """Show everything anew in other colours."""
        super().changeEvent(event)
        if event is not None and event.type() == QEvent.Type.PaletteChange and self._links:
            self.refresh()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Leave the session in peace."""
        self._links.let_go()
        super().closeEvent(event)
