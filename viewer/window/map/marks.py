"""Marks on the travel map: ride height, where the axle is, and where the worst of it is."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, isclose, pi, sin

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QPainter, QPen, QPolygonF

from sim.findings import Finding
from sim.vehicle import RIDE, Pose
from viewer.window.kit.painting import CENTRE, around
from viewer.window.kit.theme import Colours, enlarged
from viewer.window.map.axes import MapPlace

CORNERS = {"joint": 4, "slip": 0, "near": 5}
"""Corners of the mark of a finding, by what it is about; 0 is an upright bar with round ends."""

KINDS = {
    "joint-bend": "joint",
    "joint-gap": "joint",
    "slip-closes": "slip",
    "slip-opens": "slip",
    "slip-comes-apart": "slip",
    "surroundings": "near",
    "surroundings-unfinished": "near",
}


@dataclass(frozen=True)
class WorstMark:
    """The worst pose of a finding: its number in the list of findings, and where it lies."""

    number: int
    finding: Finding
    point: QPointF
    same_roll: bool


def worst_marks(
    findings: tuple[Finding, ...], place: MapPlace, roll: float, size: float
) -> Iterator[WorstMark]:
    """Places of the marks, whole inside the map; those of one pose stand side by side."""
    taken: list[QPointF] = []
    for number, finding in enumerate(findings, start=1):
        at = finding.at
        if at is None or at == RIDE or finding.code not in KINDS:
            continue
        point = _whole(place.point(at.travel, at.wrap), place.box, 0.72 * size)
        step = -1.0 if point.x() > place.box.center().x() else 1.0
        while any(abs(p.x() - point.x()) + abs(p.y() - point.y()) < 0.9 * size for p in taken):
            point = QPointF(point.x() + step * size, point.y())
        taken.append(point)
        yield WorstMark(number, finding, point, isclose(at.roll, roll, abs_tol=1e-3))


def _whole(point: QPointF, box: QRectF, reach: float) -> QPointF:
    """A point moved so far into a box that `reach` px around it are inside."""
    reach = min(reach, 0.5 * box.width(), 0.5 * box.height())
    return QPointF(
        min(max(point.x(), box.left() + reach), box.right() - reach),
        min(max(point.y(), box.top() + reach), box.bottom() - reach),
    )


def paint_worst(painter: QPainter, mark: WorstMark, look: Colours, size: float) -> None:
    """A shape with the number in it: filled where the map is for that roll, else an outline."""
    colour = QColor(look.verdicts[mark.finding.verdict])
    corners = CORNERS[KINDS[mark.finding.code]]
    painter.setPen(QPen(colour if not mark.same_roll else QColor(look.paper), 1.6))
    painter.setBrush(colour if mark.same_roll else QColor(look.paper))
    if corners:
        painter.drawPolygon(polygon(mark.point, corners, 0.64 * size))
    else:
        bar = around(mark.point, 0.86 * size, 1.2 * size)
        painter.drawRoundedRect(bar, 0.43 * size, 0.43 * size)
    painter.setPen(QColor(look.paper) if mark.same_roll else colour)
    painter.setFont(enlarged(painter.font(), 1.0, bold=True))
    painter.drawText(around(mark.point, 2.0 * size, size), CENTRE, str(mark.number))


def polygon(middle: QPointF, corners: int, radius: float) -> QPolygonF:
    """A regular polygon with a corner on top."""
    turn = 2.0 * pi / corners
    return QPolygonF(
        [middle + QPointF(radius * sin(i * turn), -radius * cos(i * turn)) for i in range(corners)]
    )


def paint_ride(painter: QPainter, place: MapPlace, look: Colours, size: float) -> None:
    """Thin lines through ride height and no wrap, and a ring where they meet."""
    middle, box = place.point(0.0, 0.0), place.box
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(look.ink), 1.0, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(middle.x(), box.top()), QPointF(middle.x(), box.bottom()))
    painter.drawLine(QPointF(box.left(), middle.y()), QPointF(box.right(), middle.y()))
    for colour, wide in ((look.paper, 4.0), (look.ink, 1.8)):
        painter.setPen(QPen(QColor(colour), wide))
        painter.drawEllipse(middle, 0.42 * size, 0.42 * size)


def here_box(place: MapPlace, at: Pose, size: float) -> QRectF:
    """The open middle of the cross hair."""
    return around(place.point(at.travel, at.wrap), 1.5 * size, 1.5 * size)


def paint_here(painter: QPainter, place: MapPlace, at: Pose, look: Colours, size: float) -> None:
    """A cross hair through the pose that is shown; its open middle frames a mark that is there."""
    frame, box = here_box(place, at, size), place.box
    middle, gap = frame.center(), 0.5 * frame.width()
    arms = (
        (QPointF(box.left(), middle.y()), QPointF(middle.x() - gap, middle.y())),
        (QPointF(middle.x() + gap, middle.y()), QPointF(box.right(), middle.y())),
        (QPointF(middle.x(), box.top()), QPointF(middle.x(), middle.y() - gap)),
        (QPointF(middle.x(), middle.y() + gap), QPointF(middle.x(), box.bottom())),
    )
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for colour, wide in ((look.paper, 4.5), (look.accent, 2.0)):
        painter.setPen(QPen(QColor(colour), wide))
        for start, end in arms:
            if end.x() > start.x() or end.y() > start.y():
                painter.drawLine(start, end)
        painter.drawRect(frame)
    painter.setBrush(QColor(look.accent))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawEllipse(middle, 2.2, 2.2)
