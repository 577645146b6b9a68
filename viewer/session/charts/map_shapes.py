"""The travel map as shapes: areas of each verdict, contour lines, and where their words go.

Places are shares of the map: (0, 0) is full droop and nose down, (1, 1) full bump and nose up.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, inf
from typing import Any

import numpy as np
from contourpy import FillType, LineType, contour_generator
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt

from sim.findings import ORDER, Verdict
from viewer.session.charts.travel_map import Layer, TravelMap
from viewer.words.units import format_fraction

Floats = NDArray[np.float64]

INCH = 25.4

Place = tuple[float, float, float]
"""Share across, share up, and how far inside its area, as a share of the map's height."""

MOST_PLACES = 12
"""Places of one name; the words need one that nothing else is at."""

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
    middles : by what is said there (a verdict, "runs out" where no metal meets but the slip has no
        more to give, "beyond" where out of reach), places well inside such areas, each with how
        far inside it is as a share of the map's height; the deepest first.
    """

    areas: Mapping[Verdict, tuple[tuple[Floats, ...], ...]]
    lines: tuple[ContourLine, ...]
    middles: Mapping[str, tuple[Place, ...]]


def map_shapes(found: TravelMap, layer: Layer) -> MapShapes:
    """Shapes of one layer; a map of one row or column is drawn as a band."""
    room, metal = _band(found.room[layer]), _band(_metal(found, layer))
    across = np.linspace(0.0, 1.0, room.shape[1])
    up = np.linspace(0.0, 1.0, room.shape[0])
    reserve = found.reserve[layer]
    known = room[np.isfinite(room)]
    middles = _middles(room, metal, reserve)
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
        ContourLine(level, _words(found, layer, level), border, _pieces(maker.lines(level)))
        for level, border in _levels(layer, known, reserve)
    ]
    lines.sort(key=lambda line: line.is_border)
    return MapShapes(areas, tuple(line for line in lines if line.pieces), middles)


def _band(values: NDArray[Any]) -> NDArray[Any]:
    """The same with at least two rows and columns."""
    values = np.repeat(values, 2, axis=0) if values.shape[0] == 1 else values
    return np.repeat(values, 2, axis=1) if values.shape[1] == 1 else values


def _metal(found: TravelMap, layer: Layer) -> NDArray[np.bool_]:
    """Where metal meets, so far as a layer shows it: never in that of the slip."""
    joints = [room for name, room in found.room.items() if name not in ("slip", "worst")]
    if layer not in ("slip", "worst"):
        joints = [found.room[layer]]
    shape = found.room[layer].shape
    meets = [room <= 0.0 for room in joints if layer != "slip"]
    return np.logical_or.reduce(meets) if meets else np.zeros(shape, dtype=bool)


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


def _words(found: TravelMap, layer: Layer, level: float) -> str:
    if level == 0.0:
        return "no room left"
    if level == found.reserve[layer] and layer in found.by_gap:
        return "gap as wanted"
    if layer == "worst":
        return "room as wanted" if level == 1.0 else f"{level:.0f} x the room wanted"
    size = abs(level)
    words = format_fraction(size) if layer == "slip" else f"{size:g} deg"
    if level < 0.0:
        return f"{words} {'short' if layer == 'slip' else 'too far'}"
    return f"{words} wanted" if level == found.reserve[layer] else words


def _middles(
    room: Floats, metal: NDArray[np.bool_], reserve: float
) -> dict[str, tuple[Place, ...]]:
    """Places well inside each kind of area, asked of the grid."""
    beyond = np.isnan(room)
    bad = ~beyond & ~(room > 0.0)
    kinds = {
        "touches": bad & metal,
        "runs out": bad & ~metal,
        "close": (room > 0.0) & (room < reserve),
        "clear": room >= reserve,
        "beyond": beyond,
    }
    return {name: tuple(_deepest(inside)) for name, inside in kinds.items() if inside.any()}


def _deepest(inside: NDArray[np.bool_]) -> Iterator[Place]:
    """Places of an area from the deepest on, none in the neighbourhood of another."""
    rows, columns = inside.shape
    scale = (1.0 / (rows - 1), _SHAPE / (columns - 1))
    depth = distance_transform_edt(np.pad(inside, 1), sampling=scale)[1:-1, 1:-1]
    ranked = np.where(inside, depth - _tie(depth), -inf)
    up, across = np.meshgrid(
        *(scale[i] * np.arange(inside.shape[i]) for i in (0, 1)), indexing="ij"
    )
    for _ in range(MOST_PLACES):
        row, column = np.unravel_index(int(np.argmax(ranked)), ranked.shape)
        if ranked[row, column] == -inf:
            return
        yield (
            float(column) / (columns - 1),
            float(row) / (rows - 1),
            float(depth[row, column]),
        )
        near = np.hypot(up - up[row, column], across - across[row, column]) < _APART
        ranked[near] = -inf


_APART = 0.16
"""How far places of one area are apart, as a share of the map's height."""


def _tie(depth: Floats) -> Floats:
    """A little off for places far from the middle, so that equals are decided."""
    rows, columns = (np.linspace(-1.0, 1.0, count) for count in depth.shape)
    off: Floats = 0.01 * (np.abs(rows)[:, None] + np.abs(columns)[None, :])
    return off


_SHAPE = 2.0
"""Width of a map against its height, near enough to find the middle of an area."""
