"""Small things that are painted in more than one place."""

from collections.abc import Callable, Iterator, Sequence
from math import ceil, floor

import numpy as np
from PyQt6.QtCore import QPointF, QRectF, QSizeF, Qt
from PyQt6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QPixmap
from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image

CENTRE = int(Qt.AlignmentFlag.AlignCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


def painted(
    size: QSizeF,
    ratio: float,
    paint: Callable[[QPainter], object],
    ground: QColor | Qt.GlobalColor = Qt.GlobalColor.transparent,
) -> QPixmap:
    """A picture of a size in px of the window, sharp on a screen with `ratio` pixels to each."""
    wide, tall = (max(1, round(side * ratio)) for side in (size.width(), size.height()))
    picture = QPixmap(wide, tall)
    picture.setDevicePixelRatio(ratio)
    picture.fill(ground)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint(painter)
    painter.end()
    return picture


def held(box: QRectF, low: float, high: float) -> QRectF:
    """A box moved sideways, just far enough to lie between two px."""
    moved = QRectF(box)
    moved.moveLeft(min(max(box.left(), low), high - box.width()))
    return moved


def around(middle: QPointF, wide: float, tall: float) -> QRectF:
    """A box around its middle."""
    box = QRectF(0.0, 0.0, wide, tall)
    box.moveCenter(middle)
    return box


def wedge(painter: QPainter, tip: QPointF, half: float, tall: float) -> None:
    """A triangle that stands on its tip; with a negative height it points up."""
    path = QPainterPath(tip)
    path.lineTo(tip.x() - half, tip.y() - tall)
    path.lineTo(tip.x() + half, tip.y() - tall)
    painter.drawPath(path)


def ticks(
    low: float, high: float, steps: Sequence[float], most: float
) -> Iterator[tuple[float, str]]:
    """Round places of a scale, at most so many, each with its size in figures."""
    step = next((each for each in steps if (high - low) / each <= most), steps[-1])
    for i in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1):
        yield i * step, f"{abs(i) * step:g}"


def frame_focus(painter: QPainter, widget: QWidget, colour: str) -> None:
    """A frame around a widget that has the focus."""
    if widget.hasFocus():
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(colour), 2.0))
        painter.drawRect(widget.rect().adjusted(1, 1, -1, -1))


def pixels(image: QImage) -> Image:
    """Pixels of a picture of Qt, (height, width, 3), first row on top."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    bits = plain.constBits()
    if bits is None:
        return np.zeros((plain.height(), plain.width(), 3), dtype=np.uint8)
    rows = np.frombuffer(bits.asstring(plain.sizeInBytes()), dtype=np.uint8)
    rows = rows.reshape(plain.height(), plain.bytesPerLine())[:, : 3 * plain.width()]
    return rows.reshape(plain.height(), plain.width(), 3).copy()
