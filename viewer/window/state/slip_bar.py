"""The slip as a bar: where it bottoms and runs short, where it is, what the travel uses."""

from math import isfinite

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PyQt6.QtWidgets import QSizePolicy, QWidget

from viewer.session.session import Session
from viewer.window.chart.hatch import paint_area
from viewer.window.kit.painting import CENTRE, held, wedge
from viewer.window.kit.theme import Colours, colours, em, enlarged
from viewer.words.verdicts import NOT_MEASURED

AIR = 0.12
"""Share of the room between the ends that is shown beyond them."""


class SlipBar(QWidget):
    """Closed on the left, open on the right."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Slip")
        self.setToolTip(
            "How far the slip is closed or open now, between where it bottoms and where too "
            "little spline is left; the dark band is what the whole travel uses."
        )

    def sizeHint(self) -> QSize:
        """A line of words, the bar, two lines of words."""
        return QSize(round(18 * em(self)), round(5.0 * em(self)))

    def minimumSizeHint(self) -> QSize:
        """As high, and narrow."""
        return QSize(round(12 * em(self)), round(5.0 * em(self)))

    def span(self) -> tuple[float, float]:
        """Slip (mm from ride height, opening positive) at the left and right ends of the bar."""
        check = self._session.check
        if check is None:
            return -1.0, 1.0
        swept = check.found.swept.slip
        ends = [-swept.has.closes, swept.has.opens, swept.shortest.value, swept.longest.value]
        ends = [end for end in ends if isfinite(end)]
        if swept.has.comes_apart is not None:
            ends.append(swept.has.comes_apart)
        now = self.slip_now()
        if now is not None:
            ends.append(now)
        low, high = min(ends), max(ends)
        air = max(1.0, AIR * (high - low))
        return low - air, high + air

    def slip_now(self) -> float | None:
        """Slip (mm from ride height) in this pose; None out of reach."""
        now = self._session.now
        return None if now is None or not now.reached else float(now.state.line.slip)

    def x_of(self, slip: float) -> float:
        """Where a slip (mm from ride height) lies, px."""
        low, high = self.span()
        return (slip - low) / (high - low) * self.width()

    def paintEvent(self, _event: QPaintEvent | None) -> None:
        """Draw the bar, its ends, and the pose that is shown."""
        check = self._session.check
        if check is None:
            return
        painter, look, line = QPainter(self), colours(self), em(self)
        swept = check.found.swept.slip
        bar = QRectF(0.0, 1.5 * line, self.width(), 1.1 * line)
        ride = self.x_of(0.0)
        for end, edge in ((-swept.has.closes, 0.0), (swept.has.opens, bar.right())):
            if not isfinite(end):  # nobody measured it: no verdict on that side
                continue
            limit = self.x_of(end)
            for (a, b), area in (((ride, limit), "clear"), ((limit, edge), "touches")):
                self._fill(painter, look, bar, min(a, b), max(a, b), area)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        used = QRectF(self.x_of(swept.shortest.value), bar.center().y() - 0.14 * line, 0.0, 0.0)
        used.setSize(QRectF(0, 0, self.x_of(swept.longest.value) - used.left(), 0.28 * line).size())
        painter.setPen(QPen(QColor(look.paper), 1.5))
        painter.setBrush(QColor(look.ink))
        painter.drawRect(used)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(look.line), 1.0))
        painter.drawRect(bar)
        self._ends(painter, look, bar)
        self._now(painter, look, bar)

    def _fill(
        self, painter: QPainter, look: Colours, bar: QRectF, start: float, end: float, area: str
    ) -> None:
        brush = paint_area(look, area, 0.5 * em(self), self.devicePixelRatioF())
        painter.fillRect(QRectF(start, bar.top(), end - start, bar.height()), brush)

    def _ends(self, painter: QPainter, look: Colours, bar: QRectF) -> None:
        """Words under the bar: the limits on one line, ride height and the rest on the next."""
        has = self._session.check.found.swept.slip.has if self._session.check is not None else None
        if has is None:
            return
        line = em(self)
        ends, unknown = [(0.0, "ride", 1)], list[float]()
        sides = ((-has.closes, "bottoms", 0.0), (has.opens, "runs short", float(self.width())))
        for end, words, edge in sides:
            if isfinite(end):
                ends.append((end, words, 0))
            else:
                unknown.append(edge)
        if has.comes_apart is not None:
            ends.append((has.comes_apart, "comes apart", 1))
        painter.setFont(enlarged(self.font(), 0.95))
        for slip, words, row in ends:
            x = self.x_of(slip)
            bottom = bar.bottom() + (0.25 + row) * line
            painter.setPen(QPen(QColor(look.ink), 2.0 if row == 0 else 1.2))
            painter.drawLine(QPointF(x, bar.top()), QPointF(x, bottom))
            wide = painter.fontMetrics().horizontalAdvance(words) + 4.0
            painter.setPen(QColor(look.ink if row == 0 else look.quiet))
            box = held(QRectF(x - 0.5 * wide, bottom, wide, 1.05 * line), 0.0, self.width())
            painter.drawText(box, CENTRE, words)
        for edge in unknown:
            self._unknown(painter, look, bar, edge)

    def _unknown(self, painter: QPainter, look: Colours, bar: QRectF, edge: float) -> None:
        """Say of one side of the bar that nobody measured it."""
        painter.setFont(enlarged(self.font(), 0.95))
        painter.setPen(QColor(look.ink))
        wide = painter.fontMetrics().horizontalAdvance(NOT_MEASURED) + 4.0
        box = QRectF(edge, bar.bottom() + 0.25 * em(self), wide, 1.05 * em(self))
        box = held(box, 0.0, self.width())
        painter.fillRect(box, self.palette().window())
        painter.drawText(box, CENTRE, NOT_MEASURED)

    def _now(self, painter: QPainter, look: Colours, bar: QRectF) -> None:
        slip = self.slip_now()
        if slip is None:
            return
        x, line = self.x_of(slip), em(self)
        for colour, wide in ((look.paper, 5.0), (look.accent, 2.6)):
            painter.setPen(QPen(QColor(colour), wide))
            painter.drawLine(QPointF(x, bar.top() - 0.1 * line), QPointF(x, bar.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.accent))
        wedge(painter, QPointF(x, bar.top() + 0.05 * line), 0.4 * line, 0.55 * line)
        painter.setFont(enlarged(self.font(), 1.0, bold=True))
        painter.setPen(QColor(look.accent))
        wide = painter.fontMetrics().horizontalAdvance("now") + 4.0
        box = held(QRectF(x - 0.5 * wide, 0.0, wide, line), 0.0, self.width())
        painter.drawText(box, CENTRE, "now")
