"""Keys pressed in tests: the functions of Qt's own test module, with the types they really have."""

from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QWidget

NONE = Qt.KeyboardModifier.NoModifier


def press(widget: QWidget, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    """Press one key, with others held."""
    QTest.keyClick(widget, key, held)  # type: ignore[call-overload]


def write(widget: QWidget, text: str) -> None:
    """Type a text."""
    QTest.keyClicks(widget, text)  # type: ignore[arg-type, call-arg]
