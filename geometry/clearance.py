"""The smallest clearance of a moving rod over all its poses, with a certificate.

The rod's ends move with three numbers that fill a box; what makes them move is no business of
this module. Branch and bound over that box and along the rod: at the middle of a cell the empty
slab between a stretch of the rod and a thing is found; the slab then stands still while the rod
moves through the rest of the cell, and how far the rod moves toward it is read at 27 poses of the
cell. Between those the motion is taken to be no more than twice as curved as the second
differences of those poses say (`BOW`). That is all the certificate rests on, and it holds for any
motion whose curvature does not double within a small part of the box. Own derivation.
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
        # A cell is a box of poses and, last, a stretch of the rod by shares of its length.
        counts = np.where([*wide, False], FIRST_CUT, 1)
        grid = np.array(list(product(*map(range, counts))), dtype=np.float64)
        self.size = np.append(self.size, 1.0)
        self.centre: Array = np.append(low, 0.0) + (grid + 0.5) / counts * self.size
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
        known = np.asarray(moves.there.any(axis=1))[cell]
        cell, piece = cell[known], piece[known]
        bound, spread = self._rough(moves, cell, piece)
        if self.found is None and len(cell):
            first = np.argmin(bound, keepdims=True)
            self._exact(moves, cell[first], piece[first])
        edge = self._on_edge(moves)[cell]
        may = self._may(bound) | edge
        cell, piece, bound, spread = cell[may], piece[may], bound[may], spread[may]
        if len(cell) <= EXACT:
            for start in range(0, len(cell), CHUNK):
                part = slice(start, start + CHUNK)
                finer, spread[part] = self._exact(moves, cell[part], piece[part])
                bound[part] = np.maximum(bound[part], finer)
            may = self._may(bound) | self._on_edge(moves)[cell]
            cell, piece, bound, spread = cell[may], piece[may], bound[may], spread[may]
        if len(cell) > MOST:
            self._drop(bound)
        if not 0 < len(cell) <= MOST:
            return cell[:0], piece[:0]
        return self._halved(moves, cell, piece, spread)

    def _may(self, bound: Array) -> NDArray[np.bool_]:
        """Which of the bounds leave room for a smaller clearance; the others are remembered."""
        may = bound < min(self.distance, self.beat) - self.within
        self._drop(bound[~may])
        return np.asarray(may)

    def _on_edge(self, moves: _Moves) -> NDArray[np.bool_]:
        """Cells on the edge of what can be reached: cut to a small size before they are judged."""
        small = (self.half < SLIVER * self.size)[:, :3] | (self.size[:3] == 0.0)
        return np.asarray(~moves.there.all(axis=1) & ~small.all(axis=1))

    def _drop(self, bounds: Array) -> None:
        self.beaten = min(self.beaten, float(np.min(bounds, initial=np.inf)))

    def _moves(self) -> _Moves:
        poses = self.centre[:, None, :3] + self.stencil * self.half[:, None, :3]
        start, stop = (end.reshape(poses.shape) for end in self.motion(poses.reshape(-1, 3)))
        axis = stop - start
        lean = axis / np.linalg.norm(axis, axis=-1, keepdims=True)
        shares = self.centre[:, 3] - self.half[:, 3], self.centre[:, 3] + self.half[:, 3]
        ends = np.stack([start + share[:, None, None] * axis for share in shares])
        there = np.asarray(np.isfinite(ends).all(axis=(0, 3)))
        middle = np.full(len(poses), poses.shape[1] // 2)
        odd = ~there[:, poses.shape[1] // 2]
        middle[odd] = np.argmax(there[odd], axis=1)
        return _Moves(poses, ends, lean, there, middle)

    def _rough(self, moves: _Moves, cell: Index, piece: Index) -> tuple[Array, Array]:
        """Bound from the balls around the pieces, and what each side of a cell takes off it."""
        centre = moves.at_middle(moves.ends)
        away = moves.ends - centre[..., None, :]
        moved = np.linalg.norm(away, axis=-1)
        most = np.nanmax(np.where(moves.there, moved, np.nan), axis=(0, 2), initial=0.0)
        bow, along = self._bow(moves.ends)
        most = most + np.linalg.norm(bow, axis=-1).max(axis=0).sum(axis=-1)
        sides = self._sides(along, self._bow(moves.ends[1:] - moves.ends[:1])[1])
        start, stop = centre[:, cell]
        gap = _from_segment(start, stop, self.ball_centre[piece])
        return gap - self.ball_radius[piece] - self.radius - most[cell], sides[cell]

    def _exact(self, moves: _Moves, cell: Index, piece: Index) -> tuple[Array, Array]:
        """Bound from the slab between rod and piece, and what each side of a cell takes off it."""
        start, stop = moves.at_middle(moves.ends)[:, cell]
        near = nearest(start, stop, self.radius, self.pieces, piece)
        poses = moves.at_middle(moves.poses)[cell]
        self._offer(near, poses, piece)
        n = near.apart
        lean = np.einsum("mki,mi->mk", moves.lean[cell], n)
        # What stands out farthest along n is the rim of either end: smooth but for one crease
        # where the rod points along n, at which it bends the safe way.
        rim = self.radius * np.sqrt(np.maximum(1.0 - lean**2, 0.0))
        toward = np.einsum("emki,mi->emk", moves.ends[:, cell], n) + rim
        self._look_nearer(moves, cell, piece, toward, near)
        bow, along = self._bow(toward[..., None])
        most = np.where(moves.there[cell], toward, -np.inf).max(axis=-1)
        bound = self.pieces.lowest(piece, n) - (most + bow[..., 0].sum(axis=-1)).max(axis=0)
        return bound, self._sides(along, self._bow((toward[1:] - toward[:1])[..., None])[1])

    def _sides(self, along: Array, turn: Array) -> Array:
        """What each side of a cell takes off its bound, (m, 4).

        along : (2, m, 3, c) how the ends move; turn : (1, m, 3, c) how they move apart, which
        halving the stretch of the rod halves
        """
        each = np.linalg.norm(along, axis=-1).max(axis=0)
        whole = np.linalg.norm(turn[0], axis=-1).sum(axis=-1)
        return np.column_stack([each, whole])

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
        self, moves: _Moves, cell: Index, piece: Index, spread: Array
    ) -> tuple[Index, Index]:
        """Cut each cell that is left across the side that takes most off its bound."""
        left, cell = np.unique(cell, return_inverse=True)
        most = np.zeros((len(left), 4))
        np.maximum.at(most, cell, spread)
        centre, half = self.centre[left], self.half[left].copy()
        # On the edge of what can be reached, cut the pose that is told most coarsely.
        edge = self._on_edge(moves)[left]
        share = np.divide(half, self.size, out=np.zeros_like(half), where=self.size > 0.0)
        most[edge, :3], most[edge, 3] = share[edge, :3], 0.0
        axis = np.argmax(most, axis=1)
        row = np.arange(len(left))
        half[row, axis] *= 0.5
        step = np.zeros_like(half)
        step[row, axis] = half[row, axis]
        self.centre = np.concatenate([centre - step, centre + step])
        self.half = np.concatenate([half, half])
        return np.concatenate([cell, cell + len(left)]), np.concatenate([piece, piece])


def _from_segment(start: Array, stop: Array, points: Array) -> Array:
    """Distance of points from segments, all (n, 3), (n,)."""
    d = stop - start
    t = np.clip(dot(points - start, d) / dot(d, d), 0.0, 1.0)
    return np.asarray(np.linalg.norm(points - start - t[:, None] * d, axis=-1))


FIRST_CUT = (4, 2, 2, 1)
"""Cells along each axis of the box, and along the rod, to begin with."""

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

SLIVER = 1.0 / 64.0
"""Half width, as a share of the box, down to which cells on the edge of what can be reached are
cut; smaller ones are judged by those of their poses that exist."""
