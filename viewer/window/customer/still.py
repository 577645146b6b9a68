"""The frame last taken of a clip, while the views themselves rest."""

import numpy as np
from PyQt6.QtGui import QImage, QPainter, QPaintEvent
from PyQt6.QtWidgets import QWidget

from viewer.draw.base import Image
from viewer.window.customer.pictures import Pictures


class Still(QWidget):
    """The frame last taken, over views that rest: it is seen whatever becomes of them."""

    def __init__(self, pictures: Pictures, parent: QWidget) -> None:
        super().__init__(parent)
        self._pictures = pictures
        self._image: QImage | None = None
        self.hide()

    def show_frame(self, frame: Image) -> None:
        """Show a frame, (height, width, 3), as wide as the views and at their lower edge."""
        high, wide = frame.shape[:2]
        rows = np.ascontiguousarray(frame).tobytes()
        self._image = QImage(rows, wide, high, 3 * wide, QImage.Format.Format_RGB888).copy()
        place = self._pictures.place()
        parent = self.parentWidget()
        if parent is not None:
            place.moveTopLeft(self._pictures.mapTo(parent, place.topLeft()))
        place.setTop(place.bottom() + 1 - min(place.height(), round(place.width() * high / wide)))
        self.setGeometry(place)
        self.show()
        self.raise_()
        self.update()

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Paint the frame."""
        if self._image is not None:
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(self.rect(), self._image)
            painter.end()
