"""The true extreme of a function of the axle pose over the poses that the axle's stops allow.

A grid over each piece of the region finds the neighbourhoods, a refinement of each, bounded by its
piece, finds the extreme itself. What is handed out is never a mere grid node, and does not depend
on the grid as long as that resolves the hills at all; the bends and lengths of a shaft have few
and wide ones. Within a piece nothing is creased, so the steps of the refinement go as far along a
slanting side of the region as along any other.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.tolerances import TOL
from sim.travel.pieces import Piece, pieces
from sim.vehicle import Pose, TravelRegion

IntArray = NDArray[np.intp]

Flags = NDArray[np.bool_]

Kind = Literal["most", "least"]

PoseFunction = Callable[[FloatArray, FloatArray, FloatArray], FloatArray]
"""Value (...) for travel (mm), roll and wrap (rad) of one shape (...); nan where there is none."""

NODES = (33, 9, 9)
"""Grid over travel, roll and wrap. Travel is the finest: readings and arcs bend along it."""

FEWEST = 5
"""Nodes over the travel of the shortest piece."""

STARTS = 8
"""Neighbourhoods refined in each piece for each extreme, the most promising first."""

STENCIL = np.array(list(product((-1.0, 0.0, 1.0), repeat=3)))
"""The points asked around a pose, in steps; the middle one is the pose itself."""

LEAPS = np.array([0.5, 1.0, 2.0, 4.0])
"""Shares tried of the last gain, which carries the search along a ridge, and of the step to the
summit of the paraboloid through the stencil, which ends it."""

MIDDLE = len(STENCIL) // 2


@dataclass(frozen=True)
class Extreme:
    """An extreme value and the pose it belongs to; nan at ride where no pose has a value."""

    value: float
    at: Pose


def extreme(
    fn: PoseFunction,
    region: TravelRegion,
    kind: Kind,
    nodes: tuple[int, int, int] = NODES,
) -> Extreme:
    """Find the most or the least of `fn` over the whole region.

    `fn` should have no creases: of a bend, which has one where it is zero, ask for the least of
    its square.
    """
    return extremes(lambda t, r, w: fn(t, r, w)[None], region, [(0, kind)], nodes)[0]


def extremes(
    fn: PoseFunction,
    region: TravelRegion,
    wanted: Sequence[tuple[int, Kind]],
    nodes: tuple[int, int, int] = NODES,
    knots: Sequence[float] = (),
) -> tuple[Extreme, ...]:
    """Find several extremes of a function with several channels, asking it once for all.

    `fn` answers (channels, ...); each of `wanted` names a channel and whether its most or its
    least is asked for. `knots` are travels (mm) that the grid is to have as well, because a hill
    may be sharper there.
    """
    search = _Search(fn, region, wanted)
    return search.refine(search.neighbourhoods(nodes, knots))


@dataclass(frozen=True)
class _Starts:
    """Where the climbing begins, m hills.

    rows : (m,) which of what is wanted; pieces : (m,) in which piece; at : (m, 3) in its cube
    step : (m, 3) of its grid
    """

    rows: IntArray
    pieces: IntArray
    at: FloatArray
    step: FloatArray


class _Search:
    """Seeks several maxima at once, in coordinates that make each piece the unit cube."""

    def __init__(
        self,
        fn: PoseFunction,
        region: TravelRegion,
        wanted: Sequence[tuple[int, Kind]],
    ) -> None:
        self.fn, self.pieces = fn, pieces(region)
        self.channel = np.array([channel for channel, _ in wanted])
        self.rounding = np.zeros(len(wanted))
        self.sign = np.array([1.0 if kind == "most" else -1.0 for _, kind in wanted])

    def neighbourhoods(self, nodes: tuple[int, int, int], knots: Sequence[float] = ()) -> _Starts:
        """Hills of the grids of all pieces."""
        whole = self.pieces[-1].top - self.pieces[0].bottom
        grids, steps = [], []
        for piece in self.pieces:
            share = (piece.top - piece.bottom) / whole if whole > 0.0 else 1.0
            count = max(FEWEST, round((nodes[0] - 1) * share) + 1)
            grid, step = _grid(piece, (count, *nodes[1:]), knots)
            grids.append(grid)
            steps.append(step)
        answers = [
            self.fn(*piece.poses(grid)) for piece, grid in zip(self.pieces, grids, strict=True)
        ]
        found: list[tuple[int, int, FloatArray, FloatArray]] = []
        for number, (grid, step, values) in enumerate(zip(grids, steps, answers, strict=True)):
            finite = np.where(np.isfinite(values), np.abs(values), 0.0)
            size = TOL.rounding * finite.reshape(len(values), -1).max(axis=1)[self.channel]
            self.rounding = np.maximum(self.rounding, size)
            for row, (channel, sign) in enumerate(zip(self.channel, self.sign, strict=True)):
                hills = _hills(_high(sign * values[channel]))
                found += [(row, number, grid[node], step) for node in hills]
        return _Starts(
            np.array([row for row, *_ in found], dtype=np.intp),
            np.array([number for _, number, *_ in found], dtype=np.intp),
            np.array([at for *_, at, _ in found]).reshape(-1, 3),
            np.array([step for *_, step in found]).reshape(-1, 3),
        )

    def refine(self, starts: _Starts) -> tuple[Extreme, ...]:
        """Climb every hill to its top, bounded by its piece, and keep the highest top of each."""
        rows, where = starts.rows, starts.pieces
        at, value = starts.at.copy(), self.asked_for(starts.at[:, None], rows, where)[:, 0]
        scale, gain = np.ones(len(at)), np.zeros_like(at)
        active = np.arange(len(at))
        while active.size:
            start, here = at[active], np.arange(len(active))
            spread = starts.step[active] * scale[active, None]
            around = np.clip(start[:, None] + STENCIL * spread[:, None], 0.0, 1.0)
            nearby = self.asked_for(around, rows[active], where[active])
            leaps = np.stack([gain[active], _summit(nearby, start, spread)], axis=1)
            beyond = np.clip(start[:, None] + _times(leaps, LEAPS), 0.0, 1.0)
            points = np.concatenate([around, beyond], axis=1)
            further = self.asked_for(beyond, rows[active], where[active])
            values = np.concatenate([nearby, further], axis=1)
            best = np.argmax(values, axis=1)
            better = values[here, best] > value[active] + self.rounding[rows[active]]
            at[active] = np.where(better[:, None], points[here, best], start)
            value[active] = np.where(better, values[here, best], value[active])
            gain[active] = at[active] - start
            scale[active[~better]] *= 0.5
            active = active[
                (scale[active] > TOL.pose_step) & ~self._hopeless(nearby, active, rows, value)
            ]
        tops = [(rows == row, at, value, where) for row in range(len(self.sign))]
        return tuple(self._top(row, *top) for row, top in enumerate(tops))

    def _hopeless(
        self, nearby: FloatArray, active: IntArray, rows: IntArray, value: FloatArray
    ) -> Flags:
        """Hills that lag behind the highest of their kind by more than their surroundings vary."""
        known = np.where(np.isfinite(nearby), nearby, value[active, None])
        leader = np.full(len(self.sign), -np.inf)
        np.maximum.at(leader, rows, value)
        behind: Flags = value[active] + 2.0 * np.ptp(known, axis=1) < leader[rows[active]]
        return behind

    def asked_for(self, points: FloatArray, rows: IntArray, where: IntArray) -> FloatArray:
        """The wanted channel, signed so that more is better, at points (m, k, 3): (m, k)."""
        poses = np.empty((3, *points.shape[:2]))
        for number in np.unique(where):
            mine = where == number
            poses[:, mine] = self.pieces[number].poses(points[mine])
        values = self.fn(*poses)[self.channel[rows], np.arange(len(rows))]
        return _high(self.sign[rows, None] * values)

    def _top(
        self, row: int, mine: Flags, at: FloatArray, value: FloatArray, where: IntArray
    ) -> Extreme:
        if not mine.any():
            return Extreme(float("nan"), Pose())
        best = np.flatnonzero(mine)[np.argmax(value[mine])]
        poses = self.pieces[where[best]].poses(at[best][None])
        return Extreme(
            float(self.sign[row] * value[best]), Pose(*(float(each[0]) for each in poses))
        )


def _grid(
    piece: Piece, nodes: tuple[int, int, int], knots: Sequence[float]
) -> tuple[FloatArray, FloatArray]:
    """Nodes (i, j, k, 3) in the cube of a piece, the knots (mm of travel) as well, and the step."""
    axes = [
        np.linspace(0.0, 1.0, n) if is_open else np.full(1, 0.5)
        for n, is_open in zip(nodes, piece.open, strict=True)
    ]
    step = np.array([1.0 / (len(axis) - 1) if len(axis) > 1 else 0.0 for axis in axes])
    if piece.open[0]:
        also = (np.array(knots, dtype=np.float64) - piece.bottom) / (piece.top - piece.bottom)
        axes[0] = np.unique([*axes[0], *also[(also > 0.0) & (also < 1.0)]])
    return np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1), step


def _times(leaps: FloatArray, shares: FloatArray) -> FloatArray:
    """Each of the leaps (m, l, 3) by each of the shares (k,), (m, l k, 3)."""
    steps: FloatArray = (leaps[:, :, None] * shares[:, None]).reshape(len(leaps), -1, 3)
    return steps


def _summit(nearby: FloatArray, at: FloatArray, spread: FloatArray) -> FloatArray:
    """Step (m, 3) to the summit of the paraboloid through the values at the stencil (m, 27).

    Directions that are closed, or that end at a side of the piece within the stencil, are left
    alone; where the paraboloid has no summit the step goes up its slope.
    """
    v = np.where(np.isfinite(nearby), nearby, nearby[:, MIDDLE, None]).reshape(-1, 3, 3, 3)
    slope, curve = np.zeros((len(v), 3)), np.zeros((len(v), 3, 3))
    free = (spread > 0.0) & (at - spread >= 0.0) & (at + spread <= 1.0)
    for i in range(3):
        line = np.moveaxis(v, i + 1, -1)[:, 1, 1]
        slope[:, i] = 0.5 * (line[:, 2] - line[:, 0])
        curve[:, i, i] = line[:, 2] - 2.0 * line[:, 1] + line[:, 0]
        for j in range(i):
            plane = np.moveaxis(v, (i + 1, j + 1), (-2, -1))[:, 1]
            twist = plane[:, 2, 2] - plane[:, 2, 0] - plane[:, 0, 2] + plane[:, 0, 0]
            curve[:, i, j] = curve[:, j, i] = 0.25 * twist
    both = free[:, :, None] & free[:, None, :]
    curve = np.where(both, curve, -np.eye(3))
    bend, turn = np.linalg.eigh(curve)
    along = np.einsum("mji,mj->mi", turn, np.where(free, slope, 0.0))
    steepness = np.maximum(np.abs(bend), TOL.rounding)
    step = np.einsum("mij,mj->mi", turn, along / steepness)
    leap: FloatArray = np.clip(step, -REACH, REACH) * spread
    return leap


REACH = 1e6
"""Longest step to a summit, in steps of the stencil; only keeps the numbers finite."""


def _high(values: FloatArray) -> FloatArray:
    """Values with nan as minus infinity: a pose without a value is never the best."""
    return np.where(np.isnan(values), -np.inf, values)


def _hills(values: FloatArray) -> list[tuple[int, ...]]:
    """Nodes that no neighbour exceeds, one for each connected plateau, highest first."""
    tops = (values == _highest_around(values)) & np.isfinite(values)
    plateaus = _named_alike(tops).ravel()
    nodes = np.flatnonzero(tops)
    order = nodes[np.argsort(-values.ravel()[nodes], kind="stable")]
    _, first = np.unique(plateaus[order], return_index=True)
    chosen = order[np.sort(first)][:STARTS]
    return [tuple(int(i) for i in np.unravel_index(node, values.shape)) for node in chosen]


def _highest_around(values: FloatArray) -> FloatArray:
    """The highest of each node of a grid and all beside it, across corners too."""
    for axis in range(values.ndim):
        first = np.moveaxis(values, axis, 0)
        highest = first.copy()
        np.maximum(highest[1:], first[:-1], out=highest[1:])
        np.maximum(highest[:-1], first[1:], out=highest[:-1])
        values = np.moveaxis(highest, 0, axis)
    return values


def _named_alike(flags: Flags) -> FloatArray:
    """A number for each node with a flag, the same for all that hang together; -inf elsewhere."""
    names = np.where(flags, np.arange(flags.size).reshape(flags.shape), -np.inf)
    while True:
        spread = np.where(flags, _highest_around(names), -np.inf)
        if np.array_equal(spread, names):
            return names
        names = spread
