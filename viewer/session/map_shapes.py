"""The travel map as shapes: areas of each verdict, contour lines, and where their words go.

Places are shares of the map: (0, 0) is full droop and nose down, (1, 1) full bump and nose up.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, inf
from typing import Any

import numpy as np
from contourpy import FillType, LineType, contour_generator
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt

from sim.findings import ORDER, Verdict
from sim.units import format_fraction
from viewer.session.travel_map import Layer, TravelMap

Floats = NDArray[np.float64]

INCH = 25.4

MOST_LINES = 8
"""More lines than this and a small map is all lines."""

_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
"""deg between lines."""

_INCH_STEPS = tuple(INCH * part for part in (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4))
"""mm between lines of the slip."""

_SHARES = (0.0, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0)


@dataclass(frozen=True, eq=False)
class ContourLine:
    """One level: its value, its words, whether a verdict changes there, and its pieces (n, 2)."""

    level: float
    words: str
    is_border: bool
    pieces: tuple[Floats, ...]


@dataclass(frozen=True, eq=False)
class MapShapes:
    """What there is to draw of one layer.

    Attributes
    ----------
    areas : by verdict, polygons; each is an outline with its holes, (n, 2) each.
    lines : contour lines, borders of verdicts last so that they are drawn on top.
    middles : by what is said there (a verdict, or "beyond" where out of reach), the place farthest
        inside the largest such area and how far inside that is, as a share of the map's height.
    """

    areas: Mapping[Verdict, tuple[tuple[Floats, ...], ...]]
    lines: tuple[ContourLine, ...]
    middles: Mapping[str, tuple[float, float, float]]


def map_shapes(found: TravelMap, layer: Layer) -> MapShapes:
    """Shapes of one layer; a map of one row or column is drawn as a band."""
    room = found.room[layer]
    room = np.repeat(room, 2, axis=0) if room.shape[0] == 1 else room
    room = np.repeat(room, 2, axis=1) if room.shape[1] == 1 else room
    across = np.linspace(0.0, 1.0, room.shape[1])
    up = np.linspace(0.0, 1.0, room.shape[0])
    reserve = found.reserve[layer]
    known = room[np.isfinite(room)]
    middles = _middles(room, reserve)
    if not known.size:
        return MapShapes({}, (), middles)
    maker = contour_generator(
        across,
        up,
        np.ma.masked_invalid(room),
        fill_type=FillType.OuterOffset,
        line_type=LineType.Separate,
    )
    ends = {"touches": (-inf, 0.0), "close": (0.0, reserve), "clear": (reserve, inf)}
    low, high = float(known.min()) - 1.0, float(known.max()) + 1.0
    areas: dict[Verdict, tuple[tuple[Floats, ...], ...]] = {}
    for verdict in ORDER:
        least, most = max(ends[verdict][0], low), min(ends[verdict][1], high)
        if least < most:
            areas[verdict] = tuple(
                tuple(points[a:b] for a, b in pairwise(offsets))
                for points, offsets in zip(*maker.filled(least, most), strict=True)
            )
    lines = [
        ContourLine(level, _words(layer, level, reserve), border, _pieces(maker.lines(level)))
        for level, border in _levels(layer, known, reserve)
    ]
    lines.sort(key=lambda line: line.is_border)
    return MapShapes(areas, tuple(line for line in lines if line.pieces), middles)


def _pieces(lines: Any) -> tuple[Floats, ...]:
    """Lines of contourpy, which come as a list of arrays for the kind that was asked for."""
    return tuple(np.asarray(line) for line in lines)


def _levels(layer: Layer, known: Floats, reserve: float) -> list[tuple[float, bool]]:
    low, high = float(known.min()), float(known.max())
    if layer == "worst":
        return [(share, share in (0.0, 1.0)) for share in _SHARES if low < share < high]
    steps = _INCH_STEPS if layer == "slip" else _STEPS
    step = next((each for each in steps if (high - low) / each <= MOST_LINES), steps[-1])
    levels = {i * step: False for i in range(ceil(low / step), floor(high / step) + 1)}
    near = 0.3 * step
    levels = {each: False for each in levels if min(abs(each), abs(each - reserve)) > near}
    levels |= {each: True for each in (0.0, reserve) if low < each < high}
    return sorted(levels.items())


def _words(layer: Layer, level: float, reserve: float) -> str:
    if layer == "worst":
        return {0.0: "none left", 1.0: "as wanted"}.get(level, f"{level:.0f} x wanted")
    number = format_fraction(level) if layer == "slip" else f"{level:.1f}".removesuffix(".0")
    words = number if layer == "slip" else f"{number} deg"
    return f"{words} wanted" if level == reserve else words


def _middles(room: Floats, reserve: float) -> dict[str, tuple[float, float, float]]:
    """Place farthest inside each kind of area, asked of the grid."""
    beyond = np.isnan(room)
    kinds = {
        "touches": ~beyond & ~(room > 0.0),
        "close": (room > 0.0) & (room < reserve),
        "clear": room >= reserve,
        "beyond": beyond,
    }
    rows, columns = room.shape
    scale = (1.0 / (rows - 1), _SHAPE / (columns - 1))
    found = {}
    for name, inside in kinds.items():
        if inside.any():
            depth = distance_transform_edt(np.pad(inside, 1), sampling=scale)[1:-1, 1:-1]
            row, column = np.unravel_index(int(np.argmax(depth - _tie(depth))), depth.shape)
            place = float(column) / (columns - 1), float(row) / (rows - 1)
            found[name] = (*place, float(depth[row, column]))
    return found


def _tie(depth: Floats) -> Floats:
    """A little off for places far from the middle, so that equals are decided."""
    rows, columns = (np.linspace(-1.0, 1.0, count) for count in depth.shape)
    off: Floats = 0.01 * (np.abs(rows)[:, None] + np.abs(columns)[None, :])
    return off


_SHAPE = 2.0
"""Width of a map against its height, near enough to find the middle of an area."""
