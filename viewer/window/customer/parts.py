"""Parts of the customer view: large marks and sliders, the strip that shows where it binds."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import ceil, floor
from typing import Any, Protocol, runtime_checkable

import numpy as np
from psygnal import SignalInstance
from PyQt6.QtCore import QRectF, Qt
from PyQt6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PyQt6.QtWidgets import QSlider, QWidget

from sim.findings import Verdict
from sim.vehicle import Pose
from viewer.draw.base import Image
from viewer.session.session import Session
from viewer.window.kit.theme import Colours, colours, em
from viewer.window.kit.verdict_mark import VerdictMark
from viewer.words.axes import FINE
from viewer.words.poses import pose_words


class Showing(Protocol):
    """What shows the shaft: a widget that also can do this."""

    aimed: SignalInstance
    """Tells that the eye is elsewhere."""

    bar: QWidget
    """What chooses the way to look."""

    def snapshot(self) -> Image:
        """What is seen, (height, width, 3)."""

    def finely(self) -> Iterator[Image | None]:
        """The same as smooth as can be, after some steps of None."""

    def fill(self) -> None:
        """Do everything that is due at once."""

    def look_at(self, view: str) -> None:
        """Look from one of the views there are, or at a joint."""

    def see_with(self, other: Any) -> None:
        """Look with the eye of another."""

    def see_alone(self) -> None:
        """Look at what is here alone again."""

    def see_again(self) -> None:
        """Look from where the eye has gone."""

    def shut(self) -> None:
        """Let go of what it draws with."""


@runtime_checkable
class Coverable(Protocol):
    """A view that need not follow what it shows while something stands over it."""

    def cover(self, on: bool) -> None:
        """Take no notice of the session, or catch up with it."""


ViewMaker = Callable[[Session, QWidget], Any]
"""Makes a widget that is `Showing`."""


def real_view(session: Session, parent: QWidget) -> QWidget:
    """The view of the program; needs OpenGL."""
    from viewer.window.view.view3d import View3D

    view = View3D(session, parent)
    view.scene.has_ghost = False  # another version has a picture of its own here
    return view


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
    """A strip under the slider of the axle: where in the travel it is clear, close or touching.

    With two versions side by side there are two, that of the left one above.
    """

    def __init__(self, slider: BigSlider, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._slider = slider
        self._sessions: tuple[Session, ...] = ()
        self.setAccessibleName("Where in the travel it binds")
        self.setToolTip("Where in the travel it is clear, close or touching.")

    def show_of(self, *sessions: Session) -> None:
        """Show the strips of these, the first above."""
        self._sessions = sessions
        self.setFixedHeight(round(0.9 * em(self._slider) * max(1, len(sessions))))
        self.update()

    def says(self) -> str:
        """For which roll and wrap the strip holds: "level, no wrap"."""
        at = self._sessions[-1].motion.at
        parts = pose_words(Pose(0.0, at.roll, at.wrap)).split(", ")[1:]
        if not any("crossed" in part for part in parts):
            parts.insert(0, "level")
        if not any("nose" in part for part in parts):
            parts.append("no wrap")
        return ", ".join(parts)

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Paint the stretches and a line at ride height."""
        look = colours(self)
        painter = QPainter(self)
        count = max(1, len(self._sessions))
        for number, session in enumerate(self._sessions):
            top, high = number * self.height() / count, self.height() / count
            low = top + high - (2.0 if number + 1 < count else 0.0)
            for start, end, verdict in zones_of(session):
                left, right = floor(self.across(start)), ceil(self.across(end))
                place = QRectF(left, top, right - left, low - top)
                colour = QColor(look.grid if verdict is None else look.verdicts[verdict])
                painter.fillRect(place, colour)
                if verdict in _PATTERNS:
                    painter.fillRect(place, QBrush(QColor(look.paper), _PATTERNS[verdict]))
        ride = round(self.across(0.0))
        painter.setPen(QPen(QColor(look.paper), max(2.0, 0.2 * em(self))))
        painter.drawLine(ride, 0, ride, self.height())
        painter.end()

    def across(self, travel: float) -> float:
        """Where the middle of the slider's handle is at an axle height (mm), px from the left."""
        fine, slider = FINE["travel"], self._slider
        low, high = fine * slider.minimum(), fine * slider.maximum()
        share = (travel - low) / (high - low) if high > low else 0.5
        return 0.5 * slider.grip + share * (self.width() - slider.grip)


def zones_of(session: Session) -> list[tuple[float, float, Verdict | None]]:
    """Stretches of the travel from the bottom up: mm from, mm to, verdict (None out of reach).

    They are those of the wrap and the roll that the axle has now.
    """
    now_map = session.map
    if now_map is None or len(now_map.travel) < 2:
        return []
    row = int(np.argmin(np.abs(now_map.wrap - session.motion.at.wrap)))
    room = now_map.room["worst"][row]
    verdicts = [now_map.verdict("worst", float(each)) for each in room]
    cuts = [0, *(i for i in range(1, len(room)) if verdicts[i] != verdicts[i - 1]), len(room)]
    inner = 0.5 * (now_map.travel[1:] + now_map.travel[:-1])
    edges = np.concatenate([now_map.travel[:1], inner, now_map.travel[-1:]])
    return [(float(edges[low]), float(edges[high]), verdicts[low]) for low, high in pairwise(cuts)]
