"""What the turn strip shows: a band of the bend left at each turn, and the gaps below it."""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, pi, tau

import numpy as np
from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QPainter, QPen, QPolygonF
from PyQt6.QtWidgets import QWidget

from sim.findings import ORDER
from sim.rig.wanted import Wanted
from viewer.session.charts.turn_strip import TurnStrip
from viewer.window.chart.haloed import is_free, words_box, write_on
from viewer.window.chart.hatch import paint_area
from viewer.window.kit.painting import CENTRE, LEFT, RIGHT, held, wedge
from viewer.window.kit.theme import Colours, em, enlarged
from viewer.words.units import left_degrees

QUARTER = pi / 2.0
INCH = 25.4
_INCH_STEPS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0)


def across(box: QRectF, spin: float) -> float:
    """Where a turn (rad) lies, px."""
    return box.left() + spin / tau * box.width()


@dataclass(frozen=True, eq=False)
class StripChart:
    """A turn strip on its page.

    Attributes
    ----------
    strip, spin : what is shown, and the turn (rad) of the shaft now.
    wanted : reserves.
    page : what it is painted on, with its type.
    box : the chart without its scales, px.
    look : colours.
    highest : mm to go by as long as not every gap is found, so that the scale stays.
    """

    strip: TurnStrip
    spin: float
    wanted: Wanted
    page: QWidget
    box: QRectF
    look: Colours
    highest: float

    @property
    def line(self) -> float:
        """Height of a line, px."""
        return em(self.page)

    def x_of(self, spin: float) -> float:
        """Where a turn (rad) lies, px."""
        return across(self.box, spin)

    def paint(self, painter: QPainter, more_to_come: bool) -> None:
        """Paint all of it; `more_to_come` while gaps are still being found."""
        look, strip, box, line = self.look, self.strip, self.box, self.line
        painter.fillRect(box, QColor(look.paper))
        band = QRectF(box.left(), box.top() - 1.4 * line, box.width(), 1.1 * line)
        self._band(painter, band)
        known = np.isfinite(strip.gap)
        highest = float(strip.gap[known].max()) if known.any() else self.highest
        highest = highest if known.all() else max(highest, self.highest)
        rows = max(2.0, min(5.0, box.height() / (1.8 * line)))
        step = next((s for s in _INCH_STEPS if highest <= rows * s * INCH), highest / INCH)
        top = max(1, ceil(highest / (step * INCH) - 1e-9)) * step * INCH
        self._scales(painter, top, step)
        self._wanted(painter, top)
        self._gaps(painter, top)
        self._name_cuts(painter)
        self._spots(painter, band)
        self._present(painter, band)
        if more_to_come and not known.all():
            self._say_how_far(painter, int(known.sum()))
        if not known.any() and not more_to_come:
            words = "Bent farther than any yoke goes: no gap to find."
            write_on(painter, look, words, words_box(painter, words, box.center()), look.ink)

    def _band(self, painter: QPainter, band: QRectF) -> None:
        """Verdict of the bend left around each turn; where metal is in metal, all the way down."""
        line, ratio = self.line, self.page.devicePixelRatioF()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        brushes = {verdict: paint_area(self.look, verdict, 0.5 * line, ratio) for verdict in ORDER}
        verdicts = [*self.strip.verdicts, self.strip.verdicts[0]]
        count = len(verdicts) - 1
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
        painter.setPen(QPen(QColor(self.look.line), 1.0))
        painter.drawRect(band)

    def _scales(self, painter: QPainter, top: float, step: float) -> None:
        box, line = self.box, self.line
        painter.setFont(enlarged(self.page.font(), 0.95))
        for i in range(round(top / (step * INCH)) + 1):
            mm = i * step * INCH
            y = self._y_of(mm, top)
            painter.setPen(QPen(QColor(self.look.grid), 1.0))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(QColor(self.look.ink))
            painter.drawText(
                QRectF(0.0, y - 0.5 * line, box.left() - 0.3 * line, line),
                RIGHT,
                f"{i * step:.3f}",
            )
            right = QRectF(box.right() + 0.3 * line, y - 0.5 * line, 4.0 * line, line)
            painter.drawText(right, LEFT, f"{mm:.1f}")
        painter.setPen(QColor(self.look.quiet))
        row = QRectF(0.0, 0.0, self.page.width(), 1.1 * line)
        painter.drawText(row, LEFT, " gap, in")
        painter.drawText(row, RIGHT, "mm ")
        painter.setPen(QPen(QColor(self.look.line), 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        for i in range(5):
            x = self.x_of(i * QUARTER)
            painter.setPen(QColor(self.look.ink))
            painter.drawLine(QPointF(x, box.bottom()), QPointF(x, box.bottom() + 0.25 * line))
            spot = QRectF(x - 3.0 * line, box.bottom() + 0.25 * line, 6.0 * line, line)
            painter.drawText(spot, CENTRE, f"{90 * i}")
        painter.setPen(QColor(self.look.quiet))
        row = QRectF(box.left(), box.bottom() + 1.25 * line, box.width(), line)
        for words in ("turn of the shaft at its output end, deg", "turn of the shaft, deg", "deg"):
            if painter.fontMetrics().horizontalAdvance(words) <= row.width():
                painter.drawText(row, CENTRE, words)
                break

    def _wanted(self, painter: QPainter, top: float) -> None:
        """The gap that is wanted, as a line, named where the gaps are farthest from it."""
        wanted = self.wanted.gap.mm
        if not 0.0 < wanted < top:
            return
        y = self._y_of(wanted, top)
        painter.setPen(QPen(QColor(self.look.verdicts["close"]), 1.6, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(self.box.left(), y), QPointF(self.box.right(), y))
        painter.setFont(enlarged(self.page.font(), 0.9))
        away = np.abs(np.where(np.isfinite(self.strip.gap), self.strip.gap, wanted) - wanted)
        away[self.strip.left <= 0.0] = 0.0
        near = 2.2 * self.line / max(1.0, self.box.width()) * tau
        away[(self.strip.spin < near) | (self.strip.spin > tau - near)] = 0.0
        place = float(self.strip.spin[int(np.argmax(away))]) if away.any() else tau - near
        middle = QPointF(self.x_of(place), y)
        box = words_box(painter, "wanted", middle)
        write_on(painter, self.look, "wanted", box, self.look.verdicts["close"])

    def _y_of(self, gap: float, top: float) -> float:
        return self.box.bottom() - gap / top * self.box.height()

    def _gaps(self, painter: QPainter, top: float) -> None:
        strip = self.strip
        known = np.flatnonzero(np.isfinite(strip.gap))
        points = [
            QPointF(self.x_of(float(strip.spin[i])), self._y_of(float(strip.gap[i]), top))
            for i in known
        ]
        if known.size < len(strip.spin):
            # A line through some of them would pass over the dips between.
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(self.look.quiet))
            for point in points:
                painter.drawEllipse(point, 2.5, 2.5)
            return
        painter.setPen(QPen(QColor(self.look.ink), 2.4))
        painter.drawPolyline(QPolygonF([*points, QPointF(self.box.right(), points[0].y())]))

    def _say_how_far(self, painter: QPainter, known: int) -> None:
        """Say over the chart how many gaps are found, if there is room between the units."""
        words = f"finding gaps: {known} of {len(self.strip.spin)}"
        painter.setFont(enlarged(self.page.font(), 0.95))
        metrics = painter.fontMetrics()
        if metrics.horizontalAdvance(f" gap, in  {words}  mm ") <= self.page.width():
            painter.setPen(QColor(self.look.quiet))
            painter.drawText(QRectF(0.0, 0.0, self.page.width(), 1.1 * self.line), CENTRE, words)

    def _name_cuts(self, painter: QPainter) -> None:
        """Write what the crossed columns mean, in the widest of them."""
        free = self.strip.around.left > 0.0
        runs = np.split(np.arange(free.size), np.flatnonzero(np.diff(free)) + 1)
        cuts = [run for run in runs if not free[run[0]]]
        if not cuts:
            return
        run = max(cuts, key=len)
        start, end = (self.x_of(int(run[i]) / free.size * tau) for i in (0, -1))
        painter.setFont(enlarged(self.page.font(), 1.0, bold=True))
        middle = QPointF(0.5 * (start + end), self.box.center().y())
        words = "METAL IN METAL"
        box = held(words_box(painter, words, middle), self.box.left(), self.box.right())
        write_on(painter, self.look, words, box, self.look.verdicts["touches"])

    def _spots(self, painter: QPainter, band: QRectF) -> None:
        """A wedge over each tight spot, with the bend left there."""
        line = self.line
        painter.setFont(enlarged(self.page.font(), 0.95, bold=True))
        taken: list[QRectF] = []
        for spot in sorted(self.strip.spots, key=lambda spot: spot.left):
            left, x = spot.left, self.x_of(spot.spin)
            ink = self.look.verdicts[spot.verdict]
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(ink))
            wedge(painter, QPointF(x, band.top() + 0.35 * line), 0.35 * line, 0.65 * line)
            words = left_degrees(left, self.wanted.bend.rad)
            words += " deg" if left > 0.0 else " too far"
            middle = QPointF(x, band.top() - 0.85 * line)
            box = held(words_box(painter, words, middle), 0.0, self.page.width())
            if is_free(box, taken, QRectF(self.page.rect())):
                painter.setPen(QColor(ink))
                painter.drawText(box, CENTRE, words)
                taken.append(box)

    def _present(self, painter: QPainter, band: QRectF) -> None:
        x, line = self.x_of(self.spin), self.line
        for colour, wide in ((self.look.paper, 4.5), (self.look.accent, 2.0)):
            painter.setPen(QPen(QColor(colour), wide))
            painter.drawLine(QPointF(x, band.top()), QPointF(x, self.box.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self.look.accent))
        wedge(painter, QPointF(x, self.box.bottom() - 0.1 * line), 0.4 * line, -0.55 * line)
