"""Parts of the customer view: large marks and sliders, and the strip that shows where it binds."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import ceil, floor
from typing import Protocol

import numpy as np
from PyQt6.QtCore import QRectF, Qt
from PyQt6.QtGui import QBrush, QColor, QImage, QPainter, QPaintEvent, QPen
from PyQt6.QtWidgets import QSlider, QWidget

from sim.findings import Verdict
from sim.vehicle import Pose
from viewer.draw.base import Image
from viewer.session.session import Session
from viewer.window.kit.theme import Colours, colours, em
from viewer.window.kit.verdict_mark import VerdictMark
from viewer.words.poses import pose_words


class Showing(Protocol):
    """What shows the shaft: a widget that also can do this."""

    def snapshot(self) -> Image:
        """What is seen, (height, width, 3)."""

    def finely(self) -> Iterator[Image | None]:
        """The same as smooth as can be, after some steps of None."""

    def shut(self) -> None:
        """Let go of what it draws with."""


ViewMaker = Callable[[Session, QWidget], QWidget]
"""Makes a widget that is `Showing`."""


def real_view(session: Session, parent: QWidget) -> QWidget:
    """The view of the program; needs OpenGL."""
    from viewer.window.view.view3d import View3D

    return View3D(session, parent)


class Mark(VerdictMark):
    """The mark of a verdict, which says more while there is none, and has no tip."""

    def show_verdict(self, verdict: Verdict | None, is_old: bool = False) -> None:
        """Show another one, grey where it is that of an old answer."""
        super().show_verdict(verdict, is_old)
        lead = "Old verdict" if is_old else "Verdict"
        self.setAccessibleName(f"{lead}: {verdict or 'not known yet'}")
        self.setToolTip("")


class BigSlider(QSlider):
    """A slider for a thumb or a shaky hand; sizes follow the type."""

    def __init__(self, way: Qt.Orientation, parent: QWidget | None = None) -> None:
        super().__init__(way, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.grip = round(2.2 * em(self))
        """Size of the handle, px."""
        self.dress()

    def dress(self, look: Colours | None = None) -> None:
        """Take on colours and type; a sheet of its own hides the palette from a widget."""
        look, grip = look or colours(self), self.grip
        thin, edge = max(4, grip // 5), max(2, grip // 16)
        lying = self.orientation() == Qt.Orientation.Horizontal
        groove = f"height: {thin}px" if lying else f"width: {thin}px"
        out = grip // 2 - thin // 2
        margin = f"-{out}px 0" if lying else f"0 -{out}px"
        inner = grip - 2 * edge
        side = f"width: {inner}px" if lying else f"height: {inner}px"
        # Written only when it is another one: setting a sheet comes back as a change of style.
        sheet = (
            f"QSlider::groove {{ background: {look.line}; {groove};"
            f" border-radius: {thin // 2}px; }}"
            f"QSlider::handle {{ background: {look.accent}; border: {edge}px solid {look.window};"
            f" {side}; margin: {margin}; border-radius: {grip // 2 - 1}px; }}"
            f"QSlider::handle:focus {{ border-color: {look.ink}; }}"
            f"QSlider::handle:disabled {{ background: {look.line}; }}"
        )
        if sheet != self.styleSheet():
            self.setStyleSheet(sheet)
        if lying:
            self.setMinimumHeight(grip + 2 * edge)
        else:
            self.setMinimumWidth(grip + 2 * edge)


_PATTERNS: dict[Verdict | None, Qt.BrushStyle] = {
    "close": Qt.BrushStyle.Dense6Pattern,
    "touches": Qt.BrushStyle.BDiagPattern,
}
"""Over the colours of a strip, for print and for eyes that mix colours up."""


class Zones(QWidget):
    """A strip beside the slider of the axle: where in the travel it is clear, close or touching."""

    def __init__(self, session: Session, slider: BigSlider, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._slider = slider
        self.setFixedWidth(round(1.5 * em(slider)))
        self.setAccessibleName("Where in the travel it binds")
        self.setToolTip(
            "Where in the travel it is clear, close or touching, roll and wrap as they are now."
        )

    def says(self) -> str:
        """For which roll and wrap the strip holds: "level, no wrap"."""
        at = self._session.motion.at
        parts = pose_words(Pose(0.0, at.roll, at.wrap)).split(", ")[1:]
        if not any("crossed" in part for part in parts):
            parts.insert(0, "level")
        if not any("nose" in part for part in parts):
            parts.append("no wrap")
        return ", ".join(parts)

    def zones(self) -> list[tuple[float, float, Verdict | None]]:
        """Stretches of the travel from the bottom up: mm from, mm to, verdict (None out of reach).

        They are those of the wrap and the roll that the axle has now.
        """
        now_map = self._session.map
        if now_map is None or len(now_map.travel) < 2:
            return []
        row = int(np.argmin(np.abs(now_map.wrap - self._session.motion.at.wrap)))
        room = now_map.room["worst"][row]
        verdicts = [now_map.verdict("worst", float(each)) for each in room]
        cuts = [0, *(i for i in range(1, len(room)) if verdicts[i] != verdicts[i - 1]), len(room)]
        edges = np.concatenate(
            [
                now_map.travel[:1],
                0.5 * (now_map.travel[1:] + now_map.travel[:-1]),
                now_map.travel[-1:],
            ]
        )
        return [
            (float(edges[low]), float(edges[high]), verdicts[low]) for low, high in pairwise(cuts)
        ]

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Paint the stretches and a line at ride height."""
        look = colours(self)
        painter = QPainter(self)
        low, high = self._session.motion.bounds("travel")
        for start, end, verdict in self.zones():
            top, bottom = self._y(end, low, high), self._y(start, low, high)
            place = QRectF(0.0, floor(top), self.width(), ceil(bottom) - floor(top))
            colour = QColor(look.grid if verdict is None else look.verdicts[verdict])
            painter.fillRect(place, colour)
            if verdict in _PATTERNS:
                painter.fillRect(place, QBrush(QColor(look.paper), _PATTERNS[verdict]))
        ride = self._y(0.0, low, high)
        painter.setPen(QPen(QColor(look.paper), max(2.0, 0.2 * em(self))))
        painter.drawLine(0, round(ride), self.width(), round(ride))
        painter.end()

    def _y(self, travel: float, low: float, high: float) -> float:
        """Where the middle of the slider's handle is at an axle height, px from the top."""
        grip = float(self._slider.grip)
        share = (travel - low) / (high - low) if high > low else 0.5
        return 0.5 * grip + (1.0 - share) * (self.height() - grip)


class Still(QWidget):
    """The frame last taken, over a view that rests: it is seen whatever becomes of the view."""

    def __init__(self, view: QWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self._view = view
        self._image: QImage | None = None
        self.hide()

    def show_frame(self, frame: Image) -> None:
        """Show a frame, (height, width, 3), as wide as the view and at its lower edge."""
        high, wide = frame.shape[:2]
        rows = np.ascontiguousarray(frame).tobytes()
        self._image = QImage(rows, wide, high, 3 * wide, QImage.Format.Format_RGB888).copy()
        place = self._view.geometry()
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
