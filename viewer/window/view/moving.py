"""How mouse and keys move what is looked at in 3D, wherever that is."""

from math import radians
from typing import Final, Protocol

from PyQt6.QtCore import QPointF, Qt
from PyQt6.QtGui import QKeyEvent

TURN: Final = radians(0.4)
"""rad a pixel of the mouse turns the view."""

STEP: Final = radians(7.5)
"""rad one press of an arrow key turns it."""

PAN: Final = 0.05
"""Share of the view's height that one moves it, with Shift held."""

NOTCH: Final = 1.15
"""Factor one notch of the wheel or press of + goes nearer."""

STILL: Final = 4.0
"""px; a press and release no further apart is a click."""

SHIFT: Final = Qt.KeyboardModifier.ShiftModifier

_ARROWS: Final[dict[int, tuple[float, float]]] = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
_NEARER: Final[dict[int, float]] = {
    Qt.Key.Key_Plus: NOTCH,
    Qt.Key.Key_Equal: NOTCH,
    Qt.Key.Key_Minus: 1.0 / NOTCH,
}


class Moved(Protocol):
    """What is looked at."""

    def orbit(self, right: float, up: float) -> None:
        """Go round it, rad."""

    def pan(self, right: float, up: float) -> None:
        """Move what is seen, in shares of the height of the view."""

    def zoom(self, factor: float) -> None:
        """Go nearer by a factor above 1."""


def key_moves(event: QKeyEvent, scene: Moved) -> bool:
    """Turn, move, or go nearer or farther by a key; whether it is one that does."""
    key = event.key()  # a number: a keyboard may have keys that Qt has no name for
    if key in _ARROWS:
        right, up = _ARROWS[key]
        if event.modifiers() & SHIFT:
            scene.pan(PAN * right, PAN * up)
        else:
            scene.orbit(STEP * right, STEP * up)
    elif key in _NEARER:
        scene.zoom(_NEARER[key])
    else:
        return False
    return True


def is_click(aside: QPointF) -> bool:
    """Whether a press and a release so far apart, px, are a click."""
    return abs(aside.x()) + abs(aside.y()) <= STILL
