"""The smallest clearance of a moving rod over all its poses, with a certificate.

The rod's ends move with three numbers that fill a box; what makes them move is no business of
this module. Branch and bound over that box: at the middle of a cell the empty slab between rod
and thing is found; the slab then stands still while the rod moves through the rest of the cell,
and how far the rod moves toward it is read at 27 poses of the cell. Between those the motion is
taken to be no more than twice as curved as the second differences of those poses say (`BOW`).
That is all the certificate rests on, and it holds for any motion whose curvature does not double
within a small part of the box. Own derivation.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from geometry.convex import Index, Pieces
from geometry.errors import ShapeError
from geometry.rod import Near, nearest
from geometry.tolerances import TOL
from geometry.triangles import dot

Array = NDArray[np.float64]

Motion = Callable[[Array], tuple[Array, Array]]
"""Ends (n, 3) of the rod's axis, mm, for poses (n, 3); nan for poses that do not exist."""


@dataclass(frozen=True)
class Clearance:
    """The smallest clearance of a rod over a box of poses.

    Attributes
    ----------
    distance : mm, 0 where rod and thing meet.
    certified : mm, no pose of the box has less; 0 where they meet.
    pose : (3,) where it is; where they meet, the first pose that was found to.
    points : (2, 3) mm, on the rod and on the thing.
    piece : number of the piece of the thing that is nearest.
    """

    distance: float
    certified: float
    pose: Array
    points: Array
    piece: int

    @property
    def meets(self) -> bool:
        """Whether rod and thing meet in some pose."""
        return self.distance == 0.0


def clearance(
    motion: Motion,
    low: Array,
    high: Array,
    radius: float,
    pieces: Pieces,
    beat: float = np.inf,
    within: float = TOL.clearance,
) -> Clearance:
    """Find the smallest clearance between a rod and the pieces of a thing.

    low, high : (3,) corners of the box of poses; a side without width is closed.
    beat : mm, clearance above which nothing is looked at more closely, for one of several rods.
    within : mm, how far the certified clearance may lie below the one found, or below `beat`.

    Raises
    ------
    ShapeError
        When there is nothing to come near to, or no pose of the box exists.
    """
    if not pieces.count:
        raise ShapeError("nothing to keep clear of; expected at least one piece")
    search = _Search(motion, np.asarray(low, float), np.asarray(high, float), radius, pieces)
    return search.run(beat, within)


@dataclass(frozen=True)
class _Moves:
    """What the rod does in each of m cells, read at the k poses of the stencil.

    poses : (m, k, 3); ends : (2, m, k, 3) mm; lean : (m, k, 3) unit directions
    there : (m, k) poses that exist; middle : (m,) which pose stands for the cell
    """

    poses: Array
    ends: Array
    lean: Array
    there: NDArray[np.bool_]
    middle: Index

    def at_middle(self, values: Array) -> Array:
        """Values (..., m, k, 3) at the middle pose of each cell."""
        return np.asarray(values[..., np.arange(len(self.middle)), self.middle, :])


class _Search:
    """The smallest clearance so far, and the pairs of cell and piece that may beat it."""

    def __init__(
        self, motion: Motion, low: Array, high: Array, radius: float, pieces: Pieces
    ) -> None:
        self.motion, self.radius, self.pieces = motion, radius, pieces
        self.size = high - low
        wide = self.size > 0.0
        axes = [np.array([-1.0, 0.0, 1.0]) if w else np.zeros(1) for w in wide]
        self.shape = tuple(len(axis) for axis in axes)
        self.stencil = np.array(list(product(*axes)))
        counts = np.where(wide, FIRST_CUT, 1)
        grid = np.array(list(product(*map(range, counts))), dtype=np.float64)
        self.centre: Array = low + (grid + 0.5) / counts * self.size
        self.half: Array = np.tile(0.5 * self.size / counts, (len(grid), 1))
        self.distance, self.beaten = np.inf, np.inf
        self.beat, self.within = np.inf, 0.0
        self.found: tuple[Array, Array, int] | None = None
        self.ball_centre, self.ball_radius = pieces.spheres()

    def run(self, beat: float, within: float) -> Clearance:
        """Branch until nothing can be nearer by more than `within`, or something meets."""
        self.beat, self.within = beat, within
        moves = self._moves()
        cell, piece = self._first_pairs(moves)
        for _ in range(ROUNDS):
            cell, piece = self._round(moves, cell, piece)
            if not len(cell) or self.distance == 0.0:
                break
            moves = self._moves()
        if self.found is None:
            raise ShapeError("no pose of the box exists; expected at least one that can be reached")
        pose, points, number = self.found
        certified = max(0.0, min(self.beaten, self.distance))
        for array in (pose, points):
            array.flags.writeable = False
        return Clearance(float(self.distance), float(certified), pose, points, number)

    def _first_pairs(self, moves: _Moves) -> tuple[Index, Index]:
        """Pairs of cell and piece to begin with, cell by cell since the pieces may be many."""
        every = np.arange(self.pieces.count)
        cells = np.flatnonzero(moves.there.any(axis=1))
        if len(cells) * len(every) <= EXACT:
            return np.repeat(cells, len(every)), np.tile(every, len(cells))
        few = min(FIRST_TRIED, len(every))
        for number in cells:
            bound, _ = self._rough(moves, np.full(len(every), number), every)
            first = np.argpartition(bound, few - 1)[:few]
            self._exact(moves, np.full(few, number), first)
        kept = []
        for number in cells:
            bound, _ = self._rough(moves, np.full(len(every), number), every)
            kept.append(self._may(bound))
        which = [every[may] for may in kept]
        pairs = np.repeat(cells, [len(each) for each in which])
        return pairs, np.concatenate([*which, every[:0]])

    def _round(self, moves: _Moves, cell: Index, piece: Index) -> tuple[Index, Index]:
        """Bound every pair, drop what cannot be nearer, halve the cells of the rest."""
        known = moves.there.any(axis=1)[cell]
        cell, piece = cell[known], piece[known]
        bound, spread = self._rough(moves, cell, piece)
        may = self._may(bound)
        cell, piece, bound, spread = cell[may], piece[may], bound[may], spread[may]
        if len(cell) <= EXACT:
            for start in range(0, len(cell), CHUNK):
                part = slice(start, start + CHUNK)
                finer, spread[part] = self._exact(moves, cell[part], piece[part])
                bound[part] = np.maximum(bound[part], finer)
            may = self._may(bound)
            cell, piece, bound, spread = cell[may], piece[may], bound[may], spread[may]
        if len(cell) > MOST:
            self._drop(bound)
        if not 0 < len(cell) <= MOST:
            return cell[:0], piece[:0]
        return self._halved(moves, cell, piece, bound, spread)

    def _may(self, bound: Array) -> NDArray[np.bool_]:
        """Which of the bounds leave room for a smaller clearance; the others are remembered."""
        may = bound < min(self.distance, self.beat) - self.within
        self._drop(bound[~may])
        return np.asarray(may)

    def _drop(self, bounds: Array) -> None:
        self.beaten = min(self.beaten, float(np.min(bounds, initial=np.inf)))

    def _moves(self) -> _Moves:
        poses = self.centre[:, None] + self.stencil * self.half[:, None]
        flat = self.motion(poses.reshape(-1, 3))
        ends = np.stack([end.reshape(poses.shape) for end in flat])
        there = np.isfinite(ends).all(axis=(0, 3))
        axis = ends[1] - ends[0]
        lean = axis / np.linalg.norm(axis, axis=-1, keepdims=True)
        middle = np.full(len(poses), poses.shape[1] // 2)
        odd = ~there[:, poses.shape[1] // 2]
        middle[odd] = np.argmax(there[odd], axis=1)
        return _Moves(poses, ends, lean, there, middle)

    def _rough(self, moves: _Moves, cell: Index, piece: Index) -> tuple[Array, Array]:
        """Bound from the balls around the pieces, and how far each axis moves the rod."""
        centre = moves.at_middle(moves.ends)
        away = moves.ends - centre[..., None, :]
        moved = np.linalg.norm(away, axis=-1)
        most = np.nanmax(np.where(moves.there, moved, np.nan), axis=(0, 2), initial=0.0)
        bow, along = self._bow(moves.ends)
        most = most + np.linalg.norm(bow, axis=-1).max(axis=0).sum(axis=-1)
        axis = np.linalg.norm(along, axis=-1).max(axis=0)
        start, stop = centre[:, cell]
        gap = _from_segment(start, stop, self.ball_centre[piece])
        return gap - self.ball_radius[piece] - self.radius - most[cell], axis[cell]

    def _exact(self, moves: _Moves, cell: Index, piece: Index) -> tuple[Array, Array]:
        """Bound from the slab between rod and piece, and what each axis of a cell takes off it."""
        start, stop = moves.at_middle(moves.ends)[:, cell]
        near = nearest(start, stop, self.radius, self.pieces, piece)
        poses = moves.at_middle(moves.poses)[cell]
        self._offer(near, poses, piece)
        n = near.apart
        toward = np.einsum("emki,mi->emk", moves.ends[:, cell], n)
        self._look_nearer(moves, cell, piece, toward, near)
        bow, along = self._bow(toward[..., None])
        end = np.where(moves.there[cell], toward, -np.inf).max(axis=-1) + bow[..., 0].sum(axis=-1)
        rim, tilt = self._rim(moves, cell, n)
        bound = self.pieces.lowest(piece, n) - end.max(axis=0) - rim
        return bound, along[..., 0].max(axis=0) + tilt

    def _rim(self, moves: _Moves, cell: Index, n: Array) -> tuple[Array, Array]:
        """How far the rod's rim stands out of its axis along n over a cell, and by each axis.

        That is the radius times the sine of the angle between n and the axis.
        """
        lean = np.einsum("mki,mi->mk", moves.lean[cell], n)
        bow, along = self._bow(lean[None, ..., None])
        lean = np.where(moves.there[cell], lean, np.nan)
        crosses = (np.nanmin(lean, axis=-1) < 0.0) & (np.nanmax(lean, axis=-1) > 0.0)
        least = np.nanmin(np.abs(lean), axis=-1) - bow[0, ..., 0].sum(axis=-1)
        least = np.where(crosses, 0.0, np.clip(least, 0.0, 1.0))
        turn = np.linalg.norm(self._bow(moves.lean[None])[1][0], axis=-1)[cell]
        return self.radius * np.sqrt(1.0 - least**2), self.radius * least[:, None] * turn

    def _bow(self, values: Array) -> tuple[Array, Array]:
        """What values may exceed those of the stencil by, and their reach, along each axis.

        values : (e, m, k, c); both answers (e, m, 3, c). Straight interpolation on a step h is
        off by h^2/8 times the second derivative, and the second difference is h^2 times it.
        """
        e, m, _, c = values.shape
        cube = values.reshape(e, m, *self.shape, c)
        bow, along = np.zeros((e, m, 3, c)), np.zeros((e, m, 3, c))
        for axis in range(3):
            if self.shape[axis] == 1:
                continue
            a, b, d = (np.take(cube, i, axis=2 + axis).reshape(e, m, -1, c) for i in range(3))
            second = np.nan_to_num(np.abs(a - 2.0 * b + d), nan=0.0)
            bow[:, :, axis] = BOW / 8.0 * second.max(axis=2)
            along[:, :, axis] = np.nan_to_num(np.abs(d - a), nan=0.0).max(axis=2) + second.max(2)
        return bow, along

    def _look_nearer(
        self, moves: _Moves, cell: Index, piece: Index, toward: Array, near: Near
    ) -> None:
        """Ask also at the poses of the stencil that lie farthest toward the nearest things."""
        best = np.argsort(near.distance)[:LOOKS]
        ahead = np.where(moves.there[cell[best]], toward[:, best].max(axis=0), -np.inf)
        which = np.argmax(ahead, axis=1)
        start, stop = moves.ends[:, cell[best], which]
        closer = nearest(start, stop, self.radius, self.pieces, piece[best])
        self._offer(closer, moves.poses[cell[best], which], piece[best])

    def _offer(self, near: Near, poses: Array, piece: Index) -> None:
        if not len(near.distance):
            return
        i = int(np.argmin(near.distance))
        if near.distance[i] < self.distance:
            self.distance = float(near.distance[i])
            points = np.stack([near.on_rod[i], near.on_piece[i]])
            self.found = poses[i].copy(), points, int(piece[i])

    def _halved(
        self, moves: _Moves, cell: Index, piece: Index, bound: Array, spread: Array
    ) -> tuple[Index, Index]:
        """Cut each cell that is left across the axis that moves the rod most."""
        left, cell = np.unique(cell, return_inverse=True)
        most = np.zeros((len(left), 3))
        np.maximum.at(most, cell, spread)
        centre, half = self.centre[left], self.half[left].copy()
        least = np.full(len(left), np.inf)
        np.minimum.at(least, cell, bound)
        # A cell on the edge of what can be reached is cut down to a small size, and no further.
        edge = ~moves.there[left].all(axis=1)
        share = np.divide(half, self.size, out=np.zeros_like(half), where=self.size > 0.0)
        most[edge] = share[edge]
        done = np.where(edge, share.max(axis=1) < SLIVER, False)
        self._drop(least[done])
        axis = np.argmax(most, axis=1)
        row = np.arange(len(left))
        half[row, axis] *= 0.5
        step = np.zeros_like(half)
        step[row, axis] = half[row, axis]
        going = ~done
        number = np.cumsum(going) - 1
        self.centre = np.concatenate([(centre - step)[going], (centre + step)[going]])
        self.half = np.concatenate([half[going]] * 2)
        kept = going[cell]
        cell, piece = number[cell[kept]], piece[kept]
        return np.concatenate([cell, cell + going.sum()]), np.concatenate([piece, piece])


def _from_segment(start: Array, stop: Array, points: Array) -> Array:
    """Distance of points from segments, all (n, 3), (n,)."""
    d = stop - start
    t = np.clip(dot(points - start, d) / dot(d, d), 0.0, 1.0)
    return np.asarray(np.linalg.norm(points - start - t[:, None] * d, axis=-1))


FIRST_CUT = (4, 2, 2)
"""Cells along each axis of the box to begin with."""

BOW = 2.0
"""How much more curved the motion may be between the 27 poses of a cell than they say."""

EXACT = 16_000
"""Pairs of cell and piece up to which every one is asked for its slab; with more, the balls
around the pieces thin them out first."""

CHUNK = 4000
"""Pairs asked at a time: about 10 MB of poses."""

FIRST_TRIED = 64
"""Pieces asked in each cell to begin with, the nearest first, to know what there is to beat."""

LOOKS = 8
"""Pairs in which, each round, the most promising pose is asked besides the middle."""

ROUNDS = 60
"""Most rounds; 30 cut a box of 300 mm down to a micrometre along every axis."""

MOST = 400_000
"""Pairs of cell and piece that are followed at most; past it the bound found so far is stated."""

SLIVER = 1.0 / 256.0
"""Half width, as a share of the box, of the cells left on the edge of what can be reached; what
lies in them beyond the poses asked is not looked at further."""
