"""The turn strip itself: gap against the turn of the shaft, tight spots, and where it is turned."""

from itertools import pairwise
from math import ceil, degrees, pi, tau

import numpy as np
from PyQt6.QtCore import QPointF, QRectF, QSize, Qt
from PyQt6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PyQt6.QtWidgets import QToolTip, QWidget

from sim.findings import Verdict, judged
from viewer.session.session import Session
from viewer.session.strip_words import strip_words
from viewer.session.turn_strip import TurnStrip
from viewer.window.haloed import is_free, words_box, write_on
from viewer.window.hatch import paint_area
from viewer.window.theme import Colours, colours, em, enlarged

CENTRE = int(Qt.AlignmentFlag.AlignCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

QUARTER = pi / 2.0
STEP_KEYS = {
    Qt.Key.Key_Left: -1.0,
    Qt.Key.Key_Down: -1.0,
    Qt.Key.Key_Right: 1.0,
    Qt.Key.Key_Up: 1.0,
}
INCH = 25.4
_INCH_STEPS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0)


class StripCanvas(QWidget):
    """Turn of the output yoke across, gap up; on top, a band of the bend left at each turn.

    A click or a drag turns the shaft. Left and right step by 5 deg, with Ctrl by a tenth of
    that; Page Up and Down go from one tight spot to the next, Home to no turn.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
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
        return self.box.left() + spin / tau * self.box.width()

    def spin_at(self, x: float) -> float:
        """Turn (rad) at a px."""
        share = (x - self.box.left()) / max(1.0, self.box.width())
        return min(max(share, 0.0), 1.0 - 1e-6) * tau

    def verdict(self, left: float) -> Verdict:
        """Verdict on the bend (rad) left at one turn."""
        check = self.session.check
        return judged(left, 0.0 if check is None else check.rig.wanted.bend.rad)

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
            self._chart(painter, look, strip)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(look.accent), 2.0))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _nothing(self) -> str:
        now = self.session.now
        if now is not None and now.state is None:
            return now.says
        if self.session.answers.is_computing or self.session.has_work:
            return "The strip comes with the answer."
        return "No strip: there is no answer."

    def _chart(self, painter: QPainter, look: Colours, strip: TurnStrip) -> None:
        box, line = self.box, em(self)
        painter.fillRect(box, QColor(look.paper))
        band = QRectF(box.left(), box.top() - 1.4 * line, box.width(), 1.1 * line)
        self._band(painter, look, strip, band)
        known = np.isfinite(strip.gap)
        highest = float(strip.gap[known].max()) if known.any() else 1.0
        rows = max(2.0, min(5.0, box.height() / (1.8 * line)))
        step = next((s for s in _INCH_STEPS if highest <= rows * s * INCH), highest / INCH)
        top = max(1, ceil(highest / (step * INCH) - 1e-9)) * step * INCH
        self._scales(painter, look, top, step)
        self._wanted(painter, look, strip, top)
        self._gaps(painter, look, strip, top)
        self._name_cuts(painter, look, strip)
        self._spots(painter, look, strip, band)
        self._present(painter, look, band)
        if not known.any() and not self.session.has_work:
            words = "Bent farther than any yoke goes: no gap to find."
            write_on(painter, look, words, words_box(painter, words, box.center()), look.ink)

    def _band(self, painter: QPainter, look: Colours, strip: TurnStrip, band: QRectF) -> None:
        """Verdict of the bend left around each turn; where metal is in metal, all the way down."""
        count, line, ratio = len(strip.spin), em(self), self.devicePixelRatioF()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        brushes = {
            verdict: paint_area(look, verdict, 0.5 * line, ratio)
            for verdict in ("clear", "close", "touches")
        }
        verdicts = [self.verdict(float(left)) for left in (*strip.left, strip.left[0])]
        changes = [i for i in range(1, count + 1) if verdicts[i] != verdicts[i - 1]]
        for i, j in pairwise([0, *changes, count + 1]):
            start = self.x_of(max(0.0, (i - 0.5) / count) * tau)
            end = self.x_of(min(1.0, (j - 0.5) / count) * tau)
            area = QRectF(start, band.top(), end - start, band.height())
            if verdicts[i] == "touches":
                area.setBottom(self.box.bottom())
            painter.fillRect(area, brushes[verdicts[i]])
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(look.line), 1.0))
        painter.drawRect(band)

    def _scales(self, painter: QPainter, look: Colours, top: float, step: float) -> None:
        box, line = self.box, em(self)
        painter.setFont(enlarged(self.font(), 0.95))
        for i in range(round(top / (step * INCH)) + 1):
            mm = i * step * INCH
            y = self._y_of(mm, top)
            painter.setPen(QPen(QColor(look.grid), 1.0))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(QColor(look.ink))
            painter.drawText(
                QRectF(0.0, y - 0.5 * line, box.left() - 0.3 * line, line),
                RIGHT,
                f"{i * step:.3f}",
            )
            right = QRectF(box.right() + 0.3 * line, y - 0.5 * line, 4.0 * line, line)
            painter.drawText(right, LEFT, f"{mm:.1f}")
        painter.setPen(QColor(look.quiet))
        row = QRectF(0.0, 0.0, self.width(), 1.1 * line)
        painter.drawText(row, LEFT, " gap, in")
        painter.drawText(row, RIGHT, "mm ")
        painter.setPen(QPen(QColor(look.line), 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        for i in range(5):
            x = self.x_of(i * QUARTER)
            painter.setPen(QColor(look.ink))
            painter.drawLine(QPointF(x, box.bottom()), QPointF(x, box.bottom() + 0.25 * line))
            spot = QRectF(x - 3.0 * line, box.bottom() + 0.25 * line, 6.0 * line, line)
            painter.drawText(spot, CENTRE, f"{90 * i}")
        painter.setPen(QColor(look.quiet))
        row = QRectF(box.left(), box.bottom() + 1.25 * line, box.width(), line)
        for words in ("turn of the shaft at its output end, deg", "turn of the shaft, deg", "deg"):
            if painter.fontMetrics().horizontalAdvance(words) <= row.width():
                painter.drawText(row, CENTRE, words)
                break

    def _wanted(self, painter: QPainter, look: Colours, strip: TurnStrip, top: float) -> None:
        """The gap that is wanted, as a line, named where the gaps are farthest from it."""
        check = self.session.check
        if check is None or not 0.0 < check.rig.wanted.gap.mm < top:
            return
        wanted = check.rig.wanted.gap.mm
        y = self._y_of(wanted, top)
        painter.setPen(QPen(QColor(look.verdicts["close"]), 1.6, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(self.box.left(), y), QPointF(self.box.right(), y))
        painter.setFont(enlarged(self.font(), 0.9))
        away = np.abs(np.where(np.isfinite(strip.gap), strip.gap, wanted) - wanted)
        away[strip.left <= 0.0] = 0.0
        near = 2.2 * em(self) / max(1.0, self.box.width()) * tau
        away[(strip.spin < near) | (strip.spin > tau - near)] = 0.0
        place = float(strip.spin[int(np.argmax(away))]) if away.any() else tau - near
        middle = QPointF(self.x_of(place), y)
        box = words_box(painter, "wanted", middle)
        write_on(painter, look, "wanted", box, look.verdicts["close"])

    def _y_of(self, gap: float, top: float) -> float:
        return self.box.bottom() - gap / top * self.box.height()

    def _gaps(self, painter: QPainter, look: Colours, strip: TurnStrip, top: float) -> None:
        known = np.flatnonzero(np.isfinite(strip.gap))
        if not known.size:
            return
        spins = [float(strip.spin[i]) for i in known]
        gaps = [float(strip.gap[i]) for i in known]
        first = spins[0] + tau, gaps[0]
        points = [
            QPointF(self.x_of(min(spin, tau)), self._y_of(gap, top))
            for spin, gap in (*zip(spins, gaps, strict=True), first)
        ]
        path = QPainterPath(points[0])
        for point in points[1:]:
            path.lineTo(point)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(look.ink), 2.4))
        painter.drawPath(path)
        if len(points) < len(strip.spin):
            painter.setBrush(QColor(look.ink))
            for point in points[:-1]:
                painter.drawEllipse(point, 2.5, 2.5)

    def _name_cuts(self, painter: QPainter, look: Colours, strip: TurnStrip) -> None:
        """Write what the crossed columns mean, in the widest of them."""
        runs = np.split(np.arange(strip.left.size), np.flatnonzero(np.diff(strip.left > 0.0)) + 1)
        cuts = [run for run in runs if not strip.left[run[0]] > 0.0]
        if not cuts:
            return
        run = max(cuts, key=len)
        start, end = self.x_of(float(strip.spin[run[0]])), self.x_of(float(strip.spin[run[-1]]))
        painter.setFont(enlarged(self.font(), 1.0, bold=True))
        middle = QPointF(0.5 * (start + end), self.box.center().y())
        words = "METAL IN METAL"
        box = words_box(painter, words, middle)
        box.moveLeft(min(max(box.left(), self.box.left()), self.box.right() - box.width()))
        write_on(painter, look, words, box, look.verdicts["touches"])

    def _spots(self, painter: QPainter, look: Colours, strip: TurnStrip, band: QRectF) -> None:
        """A wedge over each tight spot, with the bend left there."""
        line = em(self)
        painter.setFont(enlarged(self.font(), 0.95, bold=True))
        taken: list[QRectF] = []
        for i in sorted(strip.tight, key=lambda i: float(strip.left[i])):
            left = float(strip.left[i])
            x = self.x_of(float(strip.spin[i]))
            ink = look.verdicts[self.verdict(left)]
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(ink))
            wedge = QPainterPath(QPointF(x, band.top() + 0.35 * line))
            wedge.lineTo(x - 0.35 * line, band.top() - 0.3 * line)
            wedge.lineTo(x + 0.35 * line, band.top() - 0.3 * line)
            painter.drawPath(wedge)
            words = f"{degrees(left):.1f} deg" if left > 0.0 else f"{-degrees(left):.1f} too far"
            box = words_box(painter, words, QPointF(x, band.top() - 0.85 * line))
            box.moveLeft(min(max(box.left(), 0.0), self.width() - box.width()))
            if is_free(box, taken, QRectF(self.rect())):
                painter.setPen(QColor(ink))
                painter.drawText(box, CENTRE, words)
                taken.append(box)

    def _present(self, painter: QPainter, look: Colours, band: QRectF) -> None:
        x, line = self.x_of(self.session.motion.spin), em(self)
        for colour, wide in ((look.paper, 4.5), (look.accent, 2.0)):
            painter.setPen(QPen(QColor(colour), wide))
            painter.drawLine(QPointF(x, band.top()), QPointF(x, self.box.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.accent))
        handle = QPainterPath(QPointF(x, self.box.bottom() - 0.1 * line))
        handle.lineTo(x - 0.4 * line, self.box.bottom() + 0.45 * line)
        handle.lineTo(x + 0.4 * line, self.box.bottom() + 0.45 * line)
        painter.drawPath(handle)

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
        if strip is None or not strip.tight:
            return
        spots = [float(strip.spin[i]) for i in strip.tight]
        ahead = [(way * (spot - motion.spin)) % tau for spot in spots]
        far = [away if away > 1e-6 else tau for away in ahead]
        motion.stop()
        motion.go(spin=spots[far.index(min(far))])
