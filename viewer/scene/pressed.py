"""The pressure on a trunnion, unrolled: bands of shade with lines between, corners marked.

All of it is the map that was computed. Dark is hard pressed in colour as in grey; past what
hardened steel takes it is hatched. A corner is marked by a triangle that points at it, filled on
drive and hollow on coast.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from contourpy import LineType, contour_generator

from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked import Corner, PressureMap
from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Floats, Region
from viewer.draw.stage import Page
from viewer.scene.labels import LEADING
from viewer.scene.page import fitted
from viewer.words.pressed import (
    AROUND,
    COAST_CORNER,
    DRIVE_CORNER,
    INNER,
    NOT_PRESSED,
    OUTER,
    SCALE,
    level_caption,
)

LEVELS: Final = tuple(STATIC_PRESSURE * share / 8.0 for share in range(1, 9))
"""MPa at which one shade ends and the next begins; the last is what hardened steel takes."""

SHADES: Final[tuple[Colour, ...]] = (
    (0.96, 0.96, 0.94),
    (1.00, 0.93, 0.70),
    (1.00, 0.84, 0.48),
    (0.99, 0.71, 0.29),
    (0.95, 0.56, 0.18),
    (0.88, 0.40, 0.11),
    (0.75, 0.25, 0.08),
    (0.57, 0.13, 0.07),
    (0.33, 0.05, 0.06),
)
"""One under each level, from light to dark, and one past the last."""

FINE: Final = 4
"""Rows of the drawn map for each slice."""

SCALE_ROOM: Final = 120.0
"""px at the right of the map for its scale."""

NOTHING: Final = 1e-6
"""MPa under which nothing is pressed."""

SMALL: Final = 21.0
"""Height of words, px."""

THIN, LIMIT = Pen((0.25, 0.25, 0.25), 1.0), Pen(BLACK, 3.5)
"""A line between two shades, and that at what hardened steel takes."""

HEAD: Final = 17.0
"""Length of a triangle that marks a corner, px."""


def fine_map(found: PressureMap, fine: int = FINE) -> tuple[Floats, Floats, Floats]:
    """The map finer along and seamless round: angle (m,), along (k,), pressure (m, k).

    The first and last place are one, half a turn from the drive side. Places that no needle comes
    by are nan; the ends of the needles are as their last slices.
    """
    width = found.along[1] - found.along[0]
    half = found.along[-1] + 0.5 * width
    along = np.linspace(-half, half, fine * len(found.along) + 1)
    step = 2.0 * np.pi / len(found.angle)
    angle = np.concatenate([found.angle[:1] - step, found.angle, found.angle[-1:] + step])
    seamless = np.concatenate([found.pressure[-1:], found.pressure, found.pressure[:1]])
    passed = np.concatenate([found.passed[-1:], found.passed, found.passed[:1]])
    pressure = np.array([np.interp(along, found.along, row) for row in seamless])
    pressure[~passed] = np.nan
    return angle, along, pressure


def level_lines(found: PressureMap) -> list[tuple[float, Floats]]:
    """Each level with its lines, (n, 2, 2): rad round the trunnion and mm along it."""
    angle, along, pressure = fine_map(found)
    maker = contour_generator(
        angle, along, np.ma.masked_invalid(pressure.T), line_type=LineType.Separate
    )
    lines = []
    for level in LEVELS:
        points = [np.asarray(each) for each in maker.lines(level)]
        pieces = [np.stack([each[:-1], each[1:]], axis=1) for each in points]
        lines.append((level, np.concatenate(pieces) if pieces else np.empty((0, 2, 2))))
    return lines


def shaded(found: PressureMap, fine: int = FINE) -> list[tuple[int, Floats, Floats]]:
    """Shades that there are: number, low and high corners (n, 2) of what has each, rad and mm."""
    _, along, pressure = fine_map(found, fine)
    middle = 0.5 * (pressure[1:-1, :-1] + pressure[1:-1, 1:])
    band = np.searchsorted(LEVELS, np.nan_to_num(middle), side="right")
    band[~(middle > NOTHING)] = -1
    half = np.pi / len(found.angle)
    boxes = []
    for number in range(len(SHADES)):
        i, j = np.nonzero(band == number)
        if len(i):
            low = np.stack([found.angle[i] - half, along[j]], axis=1)
            boxes.append((number, low, np.stack([found.angle[i] + half, along[j + 1]], axis=1)))
    return boxes


def draw_unrolled(
    page: Page, region: Region, found: PressureMap, corners: Sequence[Corner] = ()
) -> None:
    """Draw the map in a region of a page, with words round it and its scale at the right."""
    mark, row = 1.3 * HEAD, SMALL * LEADING
    aside = max(page.extent(word, Letters(SMALL, bold=True)) for word in (*OUTER, *INNER)) + 14.0
    low = np.array([region.left + aside, region.bottom + 1.6 * row + mark])
    chart = Region.between(low, region.corners[1] - [SCALE_ROOM, 1.6 * row + mark])
    _map(page, chart, found)
    for corner in corners:
        _corner(page, chart, corner)
    _words(page, chart, mark, region.left)
    _scale(page, Region(chart.right + 26.0, chart.bottom, 26.0, chart.height))


def _map(page: Page, chart: Region, found: PressureMap) -> None:
    length = float(found.along[-1] - found.along[0]) * len(found.along) / (len(found.along) - 1)
    scale = np.array([chart.width, chart.height]) / [2.0 * np.pi, length]

    def at(places: Floats) -> Floats:
        return np.asarray(chart.middle + places * scale)

    page.area(chart.rim[[[0, 1, 2], [0, 2, 3]]], WHITE)
    for number, low, high in shaded(found):
        page.area(_boxes(at(low), at(high)), SHADES[number])
        if number == len(SHADES) - 1:
            some = slice(None, None, 2)
            page.stroke(np.stack([at(low)[some], at(high)[some]], axis=1), Pen(WHITE, 1.2))
    for level, lines in level_lines(found):
        inside = (np.abs(lines[..., 0]) <= np.pi).all(axis=1)
        if inside.any():
            limit = level == LEVELS[-1]
            page.stroke(at(lines[inside]), LIMIT if limit else THIN)
    rim = chart.rim
    page.stroke(np.stack([rim, np.roll(rim, -1, axis=0)], axis=1), Pen(BLACK, 2.0))


def _boxes(low: Floats, high: Floats) -> Floats:
    """Triangles, (2 n, 3, 2), of boxes by their lower left and upper right corners, (n, 2)."""
    right, up = np.stack([high[:, 0], low[:, 1]], axis=1), np.stack([low[:, 0], high[:, 1]], axis=1)
    return np.concatenate([np.stack([low, right, high], axis=1), np.stack([low, high, up], axis=1)])


def _corner(page: Page, chart: Region, corner: Corner) -> None:
    """A triangle beyond the chart's edge that points at where a corner is worst."""
    out = 1.0 if corner.end == "outer" else -1.0
    x = chart.left + chart.width * (corner.angle / (2.0 * np.pi) + 0.5)
    tip = np.array([x, (chart.top if out > 0.0 else chart.bottom) + 3.0 * out])
    _triangle(page, tip, out, corner.way == "drive")


def _triangle(page: Page, tip: Floats, out: float, filled: bool) -> None:
    corners = tip + HEAD * np.array([[0.0, 0.0], [0.6, out], [-0.6, out]])
    page.area(corners[None], BLACK if filled else WHITE)
    page.stroke(np.stack([corners, np.roll(corners, -1, axis=0)], axis=1), Pen(BLACK, 2.5))


def _words(page: Page, chart: Region, mark: float, left: float) -> None:
    row, bold = SMALL * LEADING, Letters(SMALL, bold=True)
    for number, (upper, lower) in enumerate((OUTER, INNER)):
        base = chart.top - row if number == 0 else chart.bottom + row
        page.write(upper, (left, base), bold)
        page.write(lower, (left, base - row), bold)
    quarter = chart.width / (len(AROUND) - 1)
    for number, word in enumerate(AROUND):
        x = chart.left + quarter * number
        page.stroke(np.array([[[x, chart.bottom], [x, chart.bottom - 7.0]]]), Pen(BLACK, 2.0))
        letters = fitted(page, word, Letters(SMALL), 0.94 * quarter)
        wide = page.extent(word, letters)
        start = min(max(x - 0.5 * wide, chart.left), chart.right - wide)
        page.write(word, (start, chart.bottom - mark - row), letters)
    above, x = chart.top + mark + 0.5 * SMALL, chart.left
    for word, filled in ((DRIVE_CORNER, True), (COAST_CORNER, False)):
        _triangle(page, np.array([x + 0.6 * HEAD, above]), 1.0, filled)
        page.write(word, (x + 1.8 * HEAD, above), Letters(SMALL))
        x += 1.8 * HEAD + page.extent(word, Letters(SMALL)) + 30.0
    box = Region(x, above + 0.1 * HEAD, HEAD, HEAD)
    page.stroke(np.stack([box.rim, np.roll(box.rim, -1, axis=0)], axis=1), Pen(BLACK, 1.5))
    page.write(NOT_PRESSED, (x + 1.8 * HEAD, above), Letters(SMALL))
    x += 1.8 * HEAD + page.extent(NOT_PRESSED, Letters(SMALL)) + 30.0
    letters = fitted(page, SCALE, Letters(SMALL), chart.right + SCALE_ROOM - x)
    page.write(SCALE, (chart.right + SCALE_ROOM - page.extent(SCALE, letters), above), letters)


def _scale(page: Page, bar: Region) -> None:
    """The shades from light to dark, the levels beside them."""
    tall = bar.height / len(SHADES)
    for number, shade in enumerate(SHADES):
        low = np.array([[bar.left, bar.bottom + number * tall]])
        page.area(_boxes(low, low + np.array([bar.width, tall])), shade)
        if number == len(SHADES) - 1:
            ends = low[0] + np.array([[[0.0, 0.0], [bar.width, tall]]])
            page.stroke(ends, Pen(WHITE, 1.5))
    rim = bar.rim
    page.stroke(np.stack([rim, np.roll(rim, -1, axis=0)], axis=1), Pen(BLACK, 2.0))
    for number, level in enumerate(LEVELS, 1):
        y = bar.bottom + number * tall
        last = number == len(LEVELS)
        page.stroke(np.array([[[bar.left, y], [bar.right + 5.0, y]]]), LIMIT if last else THIN)
        if number % 2 == 0:
            at = bar.right + 9.0, y - 0.35 * SMALL
            page.write(level_caption(level), at, Letters(SMALL, bold=last))
