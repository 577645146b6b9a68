"""What is taller than its panel: it scrolls up and down, and never sideways."""

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QFrame, QScrollArea, QWidget


def tall(inside: QWidget | None = None) -> QScrollArea:
    """An area for something tall; the focus goes to what is in it."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    if inside is not None:
        area.setWidget(inside)
    return area
