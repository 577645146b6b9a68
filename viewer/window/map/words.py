"""Where the words on the travel map stand: beside each other, beside the marks and beside lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from PyQt6.QtCore import QPointF, QRectF
from PyQt6.QtGui import QFont, QFontMetricsF, QPainter

from sim.findings import ORDER
from viewer.session.charts.map_shapes import MapShapes
from viewer.window.chart.haloed import is_free, write_on
from viewer.window.kit.painting import around, held
from viewer.window.kit.theme import Colours, enlarged
from viewer.window.map.axes import MapPlace
from viewer.words.verdicts import VERDICT_WORDS, verdict_word

AREA_WORDS: dict[str, str] = {
    **{str(verdict): word for verdict, word in VERDICT_WORDS.items()},
    "runs out": verdict_word("touches", metal=False),
    "beyond": "out of reach",
}
"""What is written in an area, by its name in `MapShapes.middles`."""

_SHARES = sorted(np.arange(0.05, 0.96, 0.05), key=lambda share: abs(share - 0.5))
"""Places along a line, from its middle outward."""


@dataclass(frozen=True)
class MapWord:
    """Words, the box they fill (px of the widget), the name of their colour, and their type."""

    words: str
    box: QRectF
    area: str
    font: QFont


def map_words(
    shapes: MapShapes, place: MapPlace, font: QFont, line: float, marks: Sequence[QRectF]
) -> tuple[MapWord, ...]:
    """Words of areas and lines, none over another, over a mark, or cut by the frame.

    They keep off the lines through ride height as well, where the cross hair is at first; the name
    of an area or of the border of a verdict stands on them rather than nowhere.
    """
    inside = place.box.adjusted(2.0, 2.0, -2.0, -2.0)
    taken, lines = [*marks], _ride_lines(place, line)
    found: list[MapWord] = []
    for words, area, kind, spots, is_due in _wanted(shapes, place, font, line):
        metrics = QFontMetricsF(kind)
        size = metrics.horizontalAdvance(words) + 0.5 * line, metrics.height()
        boxes = [_within(spot, size, inside) for spot in spots]
        free = [box for box in boxes if is_free(box, taken, inside)]
        box = next((box for box in free if is_free(box, lines, inside)), None)
        if box is None and is_due:
            box = next(iter(free), None)
        if box is not None:
            found.append(MapWord(words, box, area, kind))
            taken.append(box.adjusted(-4.0, -2.0, 4.0, 2.0))
    return tuple(found)


def _wanted(
    shapes: MapShapes, place: MapPlace, font: QFont, line: float
) -> Iterator[tuple[str, str, QFont, list[QPointF], bool]]:
    """Words, area, type, places from the best on, and whether they have to be there."""
    bold, small = enlarged(font, 1.0, bold=True), enlarged(font, 0.9)
    deep = 0.45 * line / max(1.0, place.box.height())
    for name in ("runs out", *reversed(ORDER), "beyond"):
        spots = [place.at(x, y) for x, y, depth in shapes.middles.get(name, ()) if depth > deep]
        yield AREA_WORDS[name], name, bold, spots, True
    for each in reversed(shapes.lines):
        spots = [
            place.at(*map(float, piece[round(share * (len(piece) - 1))]))
            for piece in sorted(each.pieces, key=len, reverse=True)
            for share in _SHARES
        ]
        yield each.words, "", small, spots, each.is_border


def _within(middle: QPointF, size: tuple[float, float], inside: QRectF) -> QRectF:
    """A box around a place, moved just far enough to lie inside."""
    box = held(around(middle, *size), inside.left(), inside.right())
    box.moveTop(max(inside.top(), min(box.top(), inside.bottom() - box.height())))
    return box


def _ride_lines(place: MapPlace, line: float) -> list[QRectF]:
    """The lines through ride height and no wrap, and the ring where they meet."""
    middle, box, near = place.point(0.0, 0.0), place.box, 0.9 * line
    return [
        QRectF(middle.x() - 2.0, box.top(), 4.0, box.height()),
        QRectF(box.left(), middle.y() - 2.0, box.width(), 4.0),
        around(middle, 2.0 * near, 2.0 * near),
    ]


def paint_words(painter: QPainter, words: Sequence[MapWord], look: Colours, here: QRectF) -> None:
    """Write them over whatever lines there are; what stands where the axle is makes way."""
    for each in words:
        if each.box.intersects(here):
            continue
        verdict = "touches" if each.area == "runs out" else each.area
        ink = look.verdicts.get(verdict, look.quiet if each.area else look.ink)  # type: ignore[call-overload]
        painter.setFont(each.font)
        write_on(painter, look, each.words, each.box, ink, opaque=True)
