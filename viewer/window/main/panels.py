"""The panels of the main window, and how each is made: one line for each."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from typing import Generic, Protocol, TypeVar, runtime_checkable

from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session

Maker = Callable[[Session], QWidget]

P = TypeVar("P")


@runtime_checkable
class Shuts(Protocol):
    """A panel that holds more than its widgets, such as OpenGL."""

    def shut(self) -> None:
        """Let go of it; the panel shows nothing afterwards."""


@runtime_checkable
class Offers(Protocol):
    """A screen that can offer the joint that failed."""

    def offer_joint(self, shows: Callable[[], object]) -> None:
        """Offer it; a press shows it."""


@runtime_checkable
class Looks(Protocol):
    """A panel with an eye."""

    def look_at(self, view: str) -> None:
        """Look from one of `viewer.live.sight.TITLES`."""


@dataclass(frozen=True)
class Panels(Generic[P]):
    """One of each for every panel: what makes it, or the panel itself."""

    view: P
    rig: P
    compare: P
    cures: P
    motion: P
    map: P
    strip: P
    head: P
    state: P

    def __iter__(self) -> Iterator[P]:
        """Each of them, the view of the shaft first."""
        return (getattr(self, each.name) for each in fields(self))


def real_panels() -> Panels[Maker]:
    """What makes the panels of the program; tests put something simple in place of the view."""
    from viewer.window.compare.panel import ComparePanel
    from viewer.window.cures.panel import CuresPanel
    from viewer.window.map.view import MapView
    from viewer.window.motion.panel import MotionPanel
    from viewer.window.rig.panel import RigPanel
    from viewer.window.state.head import StateHead
    from viewer.window.state.panel import StatePanel
    from viewer.window.strip.view import StripView
    from viewer.window.view.late_view import LateView

    left = LateView, RigPanel, ComparePanel, CuresPanel
    return Panels(*left, MotionPanel, MapView, StripView, StateHead, StatePanel)
