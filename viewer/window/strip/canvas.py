"""The turn strip itself: gap against the turn of the shaft, tight spots, and where it is turned."""

from math import tau

import numpy as np
from PyQt6.QtCore import QRectF, QSize, Qt
from PyQt6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PyQt6.QtWidgets import QToolTip, QWidget

from viewer.session.charts.turn_strip import TurnStrip
from viewer.session.session import Session
from viewer.session.state_words import OLD, is_old
from viewer.session.strip_words import strip_words
from viewer.window.chart.haloed import stamp
from viewer.window.chart.hatch import faded
from viewer.window.kit.theme import colours, em
from viewer.window.strip.chart import StripChart, across

CENTRE = int(Qt.AlignmentFlag.AlignCenter)

STEP_KEYS = {
    Qt.Key.Key_Left: -1.0,
    Qt.Key.Key_Down: -1.0,
    Qt.Key.Key_Right: 1.0,
    Qt.Key.Key_Up: 1.0,
}


class StripCanvas(QWidget):
    """Turn of the output yoke across, gap up; on top, a band of the bend left at each turn.

    A click or a drag turns the shaft. Left and right step by 5 deg, with Ctrl by a tenth of
    that; Page Up and Down go from one tight spot to the next, Home to no turn.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._highest = 1.0
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Turn strip")
        self.setCursor(Qt.CursorShape.CrossCursor)

    def sizeHint(self) -> QSize:
        """Wide enough to read along."""
        return QSize(round(26 * em(self)), round(15 * em(self)))

    def minimumSizeHint(self) -> QSize:
        """Small, and still with its scales."""
        return QSize(round(15 * em(self)), round(9 * em(self)))

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

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Draw the band at once and the gaps as far as they are known."""
        painter, look, strip = QPainter(self), colours(self), self.session.strip
        painter.fillRect(self.rect(), QColor(look.window))
        if strip is None:
            painter.setPen(QColor(look.quiet))
            flags = CENTRE | int(Qt.TextFlag.TextWordWrap)
            painter.drawText(QRectF(self.rect()), flags, self._nothing())
        else:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._chart(strip).paint(painter, self.session.has_work)
            if is_old(self.session):
                stamp(painter, faded(look), OLD, self.box, self.font())
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(look.accent), 2.0))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _chart(self, strip: TurnStrip) -> StripChart:
        check, look = self.session.check, colours(self)
        if np.isfinite(strip.gap).all():
            self._highest = max(1.0, float(strip.gap.max()))
        return StripChart(
            strip,
            self.session.motion.spin,
            0.0 if check is None else check.rig.wanted.bend.rad,
            0.0 if check is None else check.rig.wanted.gap.mm,
            QRectF(self.rect()),
            self.box,
            faded(look) if is_old(self.session) else look,
            self.font(),
            em(self),
            self.devicePixelRatioF(),
            self._highest,
        )

    def _nothing(self) -> str:
        now = self.session.now
        if now is not None and now.state is None:
            return now.says
        if self.session.answers.is_computing or self.session.has_work:
            return "The strip comes with the answer."
        return "No strip: there is no answer."

    # Mouse and keys

    def words_at(self, x: float) -> str:
        """What the pointer tells at a px across."""
        strip, check = self.session.strip, self.session.check
        if strip is None or check is None or not self.box.left() <= x <= self.box.right():
            return ""
        place = round(self.spin_at(x) / tau * len(strip.spin)) % len(strip.spin)
        return strip_words(strip, place)

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """Turn the shaft to there."""
        if event is not None and event.button() == Qt.MouseButton.LeftButton:
            self._turn(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent | None) -> None:
        """Turn the shaft along, or tell what is under the pointer."""
        if event is None:
            return
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._turn(event.position().x())
        QToolTip.showText(
            event.globalPosition().toPoint(), self.words_at(event.position().x()), self
        )

    def _turn(self, x: float) -> None:
        self.session.motion.stop()
        self.session.motion.go(spin=self.spin_at(x))

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Step the turn, or go from tight spot to tight spot."""
        if event is None:
            return
        motion, key = self.session.motion, event.key()
        if key in STEP_KEYS:
            fine = event.modifiers() & Qt.KeyboardModifier.ControlModifier
            motion.stop()
            motion.step("spin", STEP_KEYS[Qt.Key(key)] / (8.0 if fine else 1.0))
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._to_spot(1 if key == Qt.Key.Key_PageDown else -1)
        elif key == Qt.Key.Key_Home:
            motion.go(spin=0.0)
        else:
            super().keyPressEvent(event)

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
