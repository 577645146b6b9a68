"""The smallest clearance of moving rods over all their poses, with a certificate.

The lines that the rods lie on move with three numbers that fill a box; what makes them move is no
business of this module. Branch and bound over that box, along the rods and down a tree over the
thing's pieces: at the middle of a cell the empty slab between a stretch of a rod and a piece, or
a box around many pieces, is found; the slab then stands still while the rod moves through the
rest of the cell, and how far the rod moves toward it is read at the poses of the cell
(`geometry.contact.pose_cells`, where the one assumption stands). What may be nearest is looked at
first, so that a search cut short still has a certificate for all that is left. Own derivation.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from geometry.contact.convex import Index
from geometry.contact.piece_tree import PieceTree
from geometry.contact.pose_cells import Motion, PoseCells
from geometry.contact.rod import TURNS, Near, nearest
from geometry.errors import ShapeError
from geometry.tolerances import TOL

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Rod:
    """A round stretch along a moving line, straight or tapered.

    line : number of the line
    start, stop : its ends, each a share of the line's length and a length (mm) along the line
        beyond that
    radius : mm, at start and at stop
    """

    line: int
    start: tuple[float, float]
    stop: tuple[float, float]
    radius: tuple[float, float]


@dataclass(frozen=True)
class Clearance:
    """The smallest clearance of rods over a box of poses.

    Attributes
    ----------
    distance : mm, 0 where rod and thing meet; the smallest that was met.
    certified : mm, no pose of the box has less; 0 where they meet.
    pose : (3,) where it is; where they meet, the first pose that was found to.
    points : (2, 3) mm, on the rod and on the thing.
    rod : number of the rod that is nearest.
    piece : number of the piece of the thing that is nearest.
    finished : whether the certificate is as near to the distance, or to what was to be beaten,
        as was asked. Where it is not, the true clearance lies between the two.
    """

    distance: float
    certified: float
    pose: Array
    points: Array
    rod: int
    piece: int
    finished: bool

    @property
    def meets(self) -> bool:
        """Whether rod and thing meet in some pose."""
        return self.distance == 0.0


MOST = 1_500_000
"""Pairs of stretch and piece that are looked at before a search is cut short: about half a minute
and 300 MB."""


def clearance(
    motion: Motion,
    low: Array,
    high: Array,
    rods: Sequence[Rod],
    thing: PieceTree,
    *,
    beat: float = np.inf,
    within: float = TOL.clearance,
    most: int = MOST,
) -> Clearance:
    """Find the smallest clearance between rods and a thing.

    low, high : (3,) corners of the box of poses; a side without width is closed.
    beat : mm, clearance above which nothing is looked at more closely.
    within : mm, how far the certified clearance may lie below the one found, or below `beat`.
    most : pairs of stretch and piece to look at.

    Raises
    ------
    ShapeError
        When there is nothing to come near to or nothing that comes near, or no pose exists.
    """
    if not thing.pieces.count:
        raise ShapeError("nothing to keep clear of; expected at least one piece")
    if not rods:
        raise ShapeError("nothing that keeps clear; expected at least one rod")
    corners = np.asarray(low, np.float64), np.asarray(high, np.float64)
    return _Search(PoseCells(motion, *corners), rods, thing, beat, within).run(most)


@dataclass(frozen=True)
class _Pairs:
    """Stretches of rods in cells of poses, each against a node or a piece, (n,).

    a, b : shares of the rod between which the stretch lies.
    bound : mm, no pose of the cell has less clearance.
    spread : (n, 5) about what each way to halve a pair takes off its bound: by one of the three
        axes of its cell, by the stretch, by the thing.
    """

    cell: Index
    rod: Index
    a: Array
    b: Array
    target: Index
    bound: Array
    spread: Array

    def __len__(self) -> int:
        return len(self.cell)

    def __getitem__(self, rows: NDArray[np.generic]) -> "_Pairs":
        return _Pairs(*(getattr(self, field.name)[rows] for field in fields(self)))


def _joined(parts: Sequence[_Pairs]) -> _Pairs:
    return _Pairs(*(np.concatenate([getattr(p, f.name) for p in parts]) for f in fields(_Pairs)))


def _unasked(cell: Index, rod: Index, a: Array, b: Array, target: Index) -> _Pairs:
    return _Pairs(cell, rod, a, b, target, np.full(len(cell), -np.inf), np.zeros((len(cell), 5)))


class _Search:
    """The smallest clearance so far, and the pairs that may beat it."""

    def __init__(
        self, cells: PoseCells, rods: Sequence[Rod], thing: PieceTree, beat: float, within: float
    ) -> None:
        self.cells, self.thing, self.beat, self.within = cells, thing, beat, within
        self.line = np.array([rod.line for rod in rods])
        self.ends = np.array([[rod.start, rod.stop] for rod in rods])
        self.radius = np.array([rod.radius for rod in rods])
        self.distance, self.dropped = np.inf, np.inf
        self.found: tuple[Array, Array, int, int] | None = None

    def run(self, most: int) -> Clearance:
        """Look at what may be nearest until nothing can be nearer, or something meets."""
        pairs = self._first()
        looked, at_once = len(pairs), FIRST_ROUND
        while self.distance > 0.0:
            may = pairs.bound < self._limit()
            self._drop(pairs.bound[~may])
            pairs = pairs[may]
            if not len(pairs) or looked >= most:
                break
            at_once = min(2 * at_once, ROUND)
            rows = np.arange(len(pairs))
            if len(pairs) > at_once:
                rows = np.argpartition(pairs.bound, at_once)
            below = self._asked(self._halved(pairs[rows[:at_once]]))
            looked += len(below)
            pairs = _joined([pairs[rows[at_once:]], below])
        self._drop(pairs.bound)
        return self._answer()

    def _answer(self) -> Clearance:
        if self.found is None:
            raise ShapeError("no pose of the box exists; expected at least one that can be reached")
        pose, points, rod, piece = self.found
        for array in (pose, points):
            array.flags.writeable = False
        certified = float(max(0.0, min(self.dropped, self.distance)))
        finished = certified >= self._limit() - ROUNDING
        return Clearance(float(self.distance), certified, pose, points, rod, piece, finished)

    def _limit(self) -> float:
        """Bound from which on a pair cannot matter."""
        return min(self.distance, self.beat) - self.within

    def _drop(self, bounds: Array) -> None:
        self.dropped = min(self.dropped, float(np.min(bounds, initial=np.inf)))

    def _first(self) -> _Pairs:
        """Every rod in every first cell, against the whole thing."""
        cells, rods, roots = self.cells.first, np.arange(len(self.line)), self.thing.roots
        if not len(cells):
            return _unasked(*(np.zeros(0, np.intp),) * 2, *(np.zeros(0),) * 2, cells)
        cell, rod, target = (
            each.ravel() for each in np.meshgrid(cells, rods, roots, indexing="ij")
        )
        whole = _unasked(cell, rod, np.zeros(len(cell)), np.ones(len(cell)), target)
        pairs = self._asked(whole)
        few = np.argsort(pairs.bound, kind="stable")[:FIRST_TRIED]
        self._reach_down(pairs[few])
        return pairs

    def _reach_down(self, pairs: _Pairs) -> None:
        """Follow the nearest child of each pair down to a piece, to know what there is to beat."""
        while len(pairs):
            inner = pairs.target >= 0
            if not inner.all():
                self._asked(pairs[~inner])
            pairs = pairs[inner]
            child, parent = self.thing.below(pairs.target)
            below = self._asked(replace(pairs[parent], target=child))
            order = np.lexsort((below.bound, parent))
            best = order[np.unique(parent[order], return_index=True)[1]]
            pairs = below[best]
            pairs = pairs[pairs.target >= 0]

    def _asked(self, pairs: _Pairs) -> _Pairs:
        """The same pairs with their bounds."""
        if not len(pairs):
            return pairs
        inner = pairs.target >= 0
        bound, spread = np.empty(len(pairs)), np.empty((len(pairs), 5))
        for which in (np.flatnonzero(inner), np.flatnonzero(~inner)):
            for start in range(0, len(which), ROUND):
                part = which[start : start + ROUND]
                bound[part], spread[part] = self._bounded(pairs[part])
        # What held for a pair holds for its parts.
        return replace(pairs, bound=np.maximum(bound, pairs.bound), spread=spread)

    def _bounded(self, pairs: _Pairs) -> tuple[Array, Array]:
        """Bound from the slab between stretch and target, and what takes how much off it."""
        pieces, which, node = self.thing.pieces, ~pairs.target, pairs.target[0] >= 0
        if node:
            pieces, which = self.thing.boxes, pairs.target
        middle = self.cells.middle[pairs.cell]
        start, stop, radius = self._stretches(pairs, middle)
        turns = NODE_TURNS if node else TURNS
        near = nearest(start, stop, radius, pieces, which, turns)
        if not node:
            self._offer(near, pairs, middle)
        n = near.apart
        toward = self._toward(pairs, n, radius)
        there = self.cells.there[pairs.cell]
        if not node:
            self._look_nearer(pairs, near, np.where(there, toward.max(axis=0), -np.inf))
        bound = pieces.lowest(which, n)
        spread = np.zeros((len(pairs), 5))
        most = np.full(len(pairs), -np.inf)
        for end in toward:
            bow, along = self.cells.bow(end)
            highest = np.where(there, end, -np.inf).max(axis=1) + bow.sum(axis=1)
            most = np.maximum(most, highest)
            spread[:, :3] = np.maximum(spread[:, :3], along)
        _, turn = self.cells.bow(toward[1] - toward[0])
        spread[:, 3] = turn.sum(axis=1)
        if node:
            spread[:, 4] = self.thing.boxes.reach(which, n)
        return bound - most, spread

    def _stretches(self, pairs: _Pairs, pose: Index) -> tuple[Array, Array, Array]:
        """Ends (n, 3) and radii (n, 2) of stretches, each at one of the poses of its cell."""
        cell, line = pairs.cell, self.line[pairs.rod]
        begin, lean = (a[cell, line, pose] for a in (self.cells.begin, self.cells.lean))
        start, stop, radius = self._places(pairs, self.cells.length[cell, line, pose][:, None])
        return begin + start * lean, begin + stop * lean, radius

    def _places(self, pairs: _Pairs, length: Array) -> tuple[Array, Array, Array]:
        """Where stretches start and stop on lines of a length (n, k), (n, k) mm; radii (n, 2)."""
        ends, radius = self.ends[pairs.rod], self.radius[pairs.rod]
        first, last = (ends[:, i, :1] * length + ends[:, i, 1:] for i in (0, 1))
        shares = np.stack([pairs.a, pairs.b])[..., None]
        start, stop = first + shares * (last - first)
        taper = radius[:, :1] + shares[..., 0].T * (radius[:, 1:] - radius[:, :1])
        return start, stop, taper

    def _toward(self, pairs: _Pairs, n: Array, radius: Array) -> Array:
        """How far both rims of stretches reach along n at all poses of their cells, (2, n, k).

        Each is smooth but for one crease where the rod points along n, at which it bends the safe
        way.
        """
        cell, line = pairs.cell, self.line[pairs.rod]
        begin = np.einsum("pki,pi->pk", self.cells.begin[cell, line], n)
        lean = np.einsum("pki,pi->pk", self.cells.lean[cell, line], n)
        rim = np.sqrt(np.maximum(1.0 - lean**2, 0.0))
        start, stop, _ = self._places(pairs, self.cells.length[cell, line])
        ends = zip((start, stop), radius.T, strict=True)
        return np.stack([begin + at * lean + r[:, None] * rim for at, r in ends])

    def _look_nearer(self, pairs: _Pairs, near: Near, toward: Array) -> None:
        """Ask also at the poses that lie farthest toward the nearest things."""
        best = np.argsort(near.distance, kind="stable")[:LOOKS]
        few, pose = pairs[best], np.argmax(toward[best], axis=1)
        closer = nearest(*self._stretches(few, pose), self.thing.pieces, ~few.target)
        self._offer(closer, few, pose)

    def _offer(self, near: Near, pairs: _Pairs, pose: Index) -> None:
        i = int(np.argmin(near.distance))
        if near.distance[i] < self.distance:
            self.distance = float(near.distance[i])
            at = self.cells.poses(pairs.cell[i : i + 1], pose[i : i + 1])[0]
            points = np.stack([near.on_rod[i], near.on_piece[i]])
            self.found = at, points, int(pairs.rod[i]), int(~pairs.target[i])

    def _halved(self, pairs: _Pairs) -> _Pairs:
        """Each pair in two, or more below a node, the way that takes most off its bound."""
        way = np.argmax(pairs.spread, axis=1)
        # Where nothing takes off more than a trifle, the bound is what it is.
        done = pairs.spread.sum(axis=1) <= TRIFLE * self.within
        self._drop(pairs.bound[done])
        parts = []
        by_pose = pairs[np.flatnonzero(~done & (way < 3))]
        if len(by_pose):
            axis = np.argmax(by_pose.spread, axis=1)
            cell, parent = self.cells.children(by_pose.cell, axis)
            parts.append(replace(by_pose[parent], cell=cell))
        along = pairs[np.flatnonzero(~done & (way == 3))]
        half = 0.5 * (along.a + along.b)
        parts += [replace(along, b=half), replace(along, a=half)]
        by_thing = pairs[np.flatnonzero(~done & (way == 4))]
        if len(by_thing):
            target, parent = self.thing.below(by_thing.target)
            parts.append(replace(by_thing[parent], target=target))
        return _joined(parts)


FIRST_ROUND, ROUND = 32, 4096
"""Pairs looked at together at first, and at most: 4096 take some 20 MB."""

FIRST_TRIED = 64
"""Pairs followed down to a piece to begin with, the nearest first."""

LOOKS = 8
"""Pairs in which, each time, the most promising pose is asked besides the middle."""

NODE_TURNS = 4
"""Turns to and fro for a box around pieces, which only has to tell about how far off they are."""

TRIFLE = 0.1
"""Share of `within` that halving must be able to take off a bound."""

ROUNDING = 1e-9
"""mm; far under any tolerance."""
