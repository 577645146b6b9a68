"""The true extreme of a function of the axle pose over a travel box.

A grid finds the neighbourhoods, a bounded refinement of each finds the extreme itself. What is
handed out is never a mere grid node, and does not depend on the grid as long as that resolves
the hills at all; the bends and lengths of a shaft have few and wide ones.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import label, maximum_filter

from sim.frames import FloatArray
from sim.tolerances import TOL
from sim.vehicle import Pose, TravelBox

IntArray = NDArray[np.intp]

Kind = Literal["most", "least"]

PoseFunction = Callable[[FloatArray, FloatArray, FloatArray], FloatArray]
"""Value (...) for travel (mm), roll and wrap (rad) of one shape (...); nan where there is none."""

NODES = (33, 9, 9)
"""Grid over travel, roll and wrap. Travel is the finest: readings and arcs bend along it."""

STARTS = 8
"""Neighbourhoods refined for each extreme, the most promising first."""

STENCIL = np.array(list(product((-1.0, 0.0, 1.0), repeat=3)))
"""The points asked around a pose, in steps; the middle one is the pose itself."""

SPURTS = np.array([1.0, 2.0, 4.0, 8.0])[:, None]
"""Lengths tried along the direction of the last gain, which carry the search along a ridge."""


@dataclass(frozen=True)
class Extreme:
    """An extreme value and the pose it belongs to; nan at ride where no pose has a value."""

    value: float
    at: Pose


def extreme(
    fn: PoseFunction,
    box: TravelBox,
    kind: Kind,
    nodes: tuple[int, int, int] = NODES,
) -> Extreme:
    """Find the most or the least of `fn` over the whole box."""
    return extremes(lambda t, r, w: fn(t, r, w)[None], box, [(0, kind)], nodes)[0]


def extremes(
    fn: PoseFunction,
    box: TravelBox,
    wanted: Sequence[tuple[int, Kind]],
    nodes: tuple[int, int, int] = NODES,
) -> tuple[Extreme, ...]:
    """Find several extremes of a function with several channels, asking it once for all.

    `fn` answers (channels, ...); each of `wanted` names a channel and whether its most or its
    least is asked for.
    """
    search = _Search(fn, box, wanted)
    rows, starts, steps = search.neighbourhoods(nodes)
    return search.refine(rows, starts, steps)


class _Search:
    """Seeks several maxima at once, in coordinates that make the box the unit cube."""

    def __init__(
        self, fn: PoseFunction, box: TravelBox, wanted: Sequence[tuple[int, Kind]]
    ) -> None:
        self.fn = fn
        self.low, self.size = box.low, box.high - box.low
        self.channel = np.array([channel for channel, _ in wanted])
        self.sign = np.array([1.0 if kind == "most" else -1.0 for _, kind in wanted])

    def ask(self, points: FloatArray) -> FloatArray:
        """All channels at points (..., 3) of the unit cube, (channels, ...)."""
        poses = self.low + points * self.size
        return self.fn(poses[..., 0], poses[..., 1], poses[..., 2])

    def neighbourhoods(
        self, nodes: tuple[int, int, int]
    ) -> tuple[IntArray, FloatArray, FloatArray]:
        """Hills of the grid: which of `wanted` (m,), node (m, 3) and grid step (3,)."""
        open_sides = self.size > 0.0
        axes = [
            np.linspace(0.0, 1.0, n) if is_open else np.zeros(1)
            for n, is_open in zip(nodes, open_sides, strict=True)
        ]
        grid = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1)
        values = self.ask(grid)
        rows, starts = [], []
        for row, (channel, sign) in enumerate(zip(self.channel, self.sign, strict=True)):
            for node in _hills(_high(sign * values[channel])):
                rows.append(row)
                starts.append(grid[node])
        step = np.array([1.0 / (len(axis) - 1) if len(axis) > 1 else 0.0 for axis in axes])
        return np.array(rows, dtype=np.intp), np.array(starts).reshape(-1, 3), step

    def refine(self, rows: IntArray, starts: FloatArray, step: FloatArray) -> tuple[Extreme, ...]:
        """Climb every hill to its top, bounded by the box, and keep the highest top of each."""
        at = starts.copy()
        value = self.asked_for(at[:, None], rows)[:, 0]
        scale = np.ones(len(at))
        gain = np.zeros_like(at)
        active = np.arange(len(at))
        while active.size:
            around = at[active, None] + STENCIL * step * scale[active, None, None]
            along = at[active, None] + SPURTS * gain[active, None]
            points = np.clip(np.concatenate([around, along], axis=1), 0.0, 1.0)
            values = self.asked_for(points, rows[active])
            best = np.argmax(values, axis=1)
            here = np.arange(len(active))
            better = values[here, best] > value[active] + TOL.rounding * np.abs(value[active])
            moved = points[here, best] - at[active]
            at[active[better]] += moved[better]
            gain[active] = np.where(better[:, None], moved, 0.0)
            scale[active[~better]] *= 0.5
            value[active[better]] = values[here, best][better]
            rise = np.ptp(np.where(np.isfinite(values), values, value[active, None]), axis=1)
            leader = np.full(len(self.sign), -np.inf)
            np.maximum.at(leader, rows, value)
            hopeless = value[active] + 2.0 * rise < leader[rows[active]]
            active = active[(scale[active] > TOL.pose_step) & ~hopeless]
        return tuple(self._top(rows == row, at, value, row) for row in range(len(self.sign)))

    def asked_for(self, points: FloatArray, rows: IntArray) -> FloatArray:
        """The wanted channel, signed so that more is better, at points (m, k, 3): (m, k)."""
        values = self.ask(points)[self.channel[rows], np.arange(len(rows))]
        return _high(self.sign[rows, None] * values)

    def _top(self, mine: NDArray[np.bool_], at: FloatArray, value: FloatArray, row: int) -> Extreme:
        if not mine.any():
            return Extreme(float("nan"), Pose())
        best = np.flatnonzero(mine)[np.argmax(value[mine])]
        pose = self.low + at[best] * self.size
        return Extreme(float(self.sign[row] * value[best]), Pose(*map(float, pose)))


def _high(values: FloatArray) -> FloatArray:
    """Values with nan as minus infinity: a pose without a value is never the best."""
    return np.where(np.isnan(values), -np.inf, values)


def _hills(values: FloatArray) -> list[tuple[int, ...]]:
    """Nodes that no neighbour exceeds, one for each connected plateau, highest first."""
    tops = (values == maximum_filter(values, size=3, mode="nearest")) & np.isfinite(values)
    plateaus, count = label(tops, structure=np.ones((3, 3, 3)))
    flat = plateaus.ravel()
    nodes = np.flatnonzero(flat)
    order = nodes[np.argsort(-values.ravel()[nodes], kind="stable")]
    _, first = np.unique(flat[order], return_index=True)
    chosen = order[np.sort(first)][: min(count, STARTS)]
    return [tuple(int(i) for i in np.unravel_index(node, values.shape)) for node in chosen]
