"""The panels of the main window, and how each is made: one line for each."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session

Maker = Callable[[Session], QWidget]


@runtime_checkable
class Shuts(Protocol):
    """A panel that holds more than its widgets, such as OpenGL."""

    def shut(self) -> None:
        """Let go of it; the panel shows nothing afterwards."""


@dataclass(frozen=True)
class Panels:
    """What makes each panel; tests put something simple in place of the view."""

    view: Maker
    rig: Maker
    compare: Maker
    cures: Maker
    motion: Maker
    map: Maker
    strip: Maker
    state: Maker


def real_panels() -> Panels:
    """The panels of the program."""
    from viewer.window.compare.panel import ComparePanel
    from viewer.window.cures.panel import CuresPanel
    from viewer.window.map.view import MapView
    from viewer.window.motion.panel import MotionPanel
    from viewer.window.rig_panel import RigPanel
    from viewer.window.state.panel import StatePanel
    from viewer.window.strip.view import StripView
    from viewer.window.view.late_view import LateView

    return Panels(
        LateView,
        RigPanel,
        ComparePanel,
        CuresPanel,
        MotionPanel,
        MapView,
        StripView,
        StatePanel,
    )
