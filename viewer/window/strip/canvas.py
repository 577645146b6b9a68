"""The turn strip itself: gap against the turn of the shaft, tight spots, and where it is turned."""

from math import tau
from typing import ClassVar

import numpy as np
from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QFontMetricsF, QPainter
from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session
from viewer.session.told.strip_words import strip_words
from viewer.window.chart.canvas import ChartCanvas
from viewer.window.kit.theme import Colours, em
from viewer.window.strip.chart import StripChart, across
from viewer.words.now import now_says


class StripCanvas(ChartCanvas):
    """Turn of the output yoke across, gap up; on top, a band of the bend left at each turn.

    A click or a drag turns the shaft. Left and right step by 5 deg, with Ctrl by a tenth of
    that; Page Up and Down go from one tight spot to the next, Home to no turn.
    """

    CALLED, HINT, LEAST = "Turn strip", (26, 15), (15, 9)
    STEPS: ClassVar = {
        Qt.Key.Key_Left: ("spin", -1.0),
        Qt.Key.Key_Down: ("spin", -1.0),
        Qt.Key.Key_Right: ("spin", 1.0),
        Qt.Key.Key_Up: ("spin", 1.0),
    }

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._highest = 1.0

    @property
    def box(self) -> QRectF:
        """The chart without its scales, px."""
        line = em(self)
        side = QFontMetricsF(self.font()).horizontalAdvance("0.000") + 0.5 * line
        right = QFontMetricsF(self.font()).horizontalAdvance("10.5") + 0.5 * line
        return QRectF(self.rect()).adjusted(side, 3.9 * line, -right, -2.4 * line)

    def x_of(self, spin: float) -> float:
        """Where a turn (rad) lies, px."""
        return across(self.box, spin)

    def spin_at(self, x: float) -> float:
        """Turn (rad) at a px."""
        share = (x - self.box.left()) / max(1.0, self.box.width())
        return min(max(share, 0.0), 1.0 - 1e-6) * tau

    @property
    def chart(self) -> QRectF | None:
        """The chart, where there is a strip."""
        return None if self.session.strip is None else self.box

    def paint(self, painter: QPainter, look: Colours) -> None:
        """Draw the band at once and the gaps as far as they are known."""
        strip, check = self.session.strip, self.session.check
        if strip is None or check is None:
            return
        if np.isfinite(strip.gap).all():
            self._highest = max(1.0, float(strip.gap.max()))
        spin, wanted = self.session.motion.spin, check.rig.wanted
        page = StripChart(strip, spin, wanted, self, self.box, look, self._highest)
        page.paint(painter, self.session.has_work)

    def nothing(self) -> str:
        """Why there is no strip: the axle may be out of reach."""
        now = self.session.now
        return now_says(now) if now is not None and not now.reached else super().nothing()

    # Mouse and keys

    def words_at(self, point: QPointF) -> str:
        """What holds at the turn at a px."""
        strip, check, x = self.session.strip, self.session.check, point.x()
        if strip is None or check is None or not self.box.left() <= x <= self.box.right():
            return ""
        place = round(self.spin_at(x) / tau * len(strip.spin)) % len(strip.spin)
        return strip_words(strip, place)

    def go(self, point: QPointF) -> None:
        """Turn the shaft to there."""
        self.session.motion.stop()
        self.session.motion.go(spin=self.spin_at(point.x()))

    def take_key(self, key: int) -> bool:
        """Go from tight spot to tight spot, or to no turn."""
        if key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._to_spot(1 if key == Qt.Key.Key_PageDown else -1)
        elif key == Qt.Key.Key_Home:
            self.session.motion.go(spin=0.0)
        else:
            return False
        return True

    def _to_spot(self, way: int) -> None:
        """Turn to the next tight spot on (1) or back (-1)."""
        strip, motion = self.session.strip, self.session.motion
        if strip is None:
            return
        spots = [spot.spin for spot in strip.spots]
        ahead = [(way * (spot - motion.spin)) % tau for spot in spots]
        far = [away if away > 1e-6 else tau for away in ahead]
        motion.stop()
        motion.go(spin=spots[far.index(min(far))])
