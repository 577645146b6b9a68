"""How far lines and cells of poses are clear: one search over rows for touch, gap and heads.

A *stretch* is a range of the second number of a pose, without width for a line, that is asked
from one bend up to another. Rows of both trees with boxes over the stretches are bounded, all of a
level at once (`geometry.contact.rows`). What is not clear is halved: its nodes, or its box where
the motion over that outweighs the nodes. Where bodies are seen to touch at a pose, by how near two
triangles are or by asking whether the bodies cut, what lies above it on its stretch no longer
matters; two triangles in a box too small to halve count as touching.
What is left of a stretch below is clear, by proof. A search that takes too many rows ends with
what it has proved: all below the lowest row not yet done.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from geometry.contact.moves import Boxes, Motion, Moves
from geometry.contact.row_tree import RowTree
from geometry.contact.rows import bounds

Array = NDArray[np.float64]
Index = NDArray[np.intp]


class Closes(Protocol):
    """Two bodies that may touch, as a search sees them."""

    @property
    def trees(self) -> tuple[RowTree, RowTree]:
        """Their meshes; the second body moves in the frame of the first."""

    @property
    def motion(self) -> Motion:
        """How it moves."""

    @property
    def gap(self) -> float:
        """How near (mm) counts as touching."""

    @property
    def slack(self) -> float:
        """How much farther out (mm) than all of the other body metal may lie and yet matter."""

    @property
    def graze(self) -> float:
        """Rows whose boxes move metal by less (mm) are not halved: they count as touching."""

    def cut(self, first: float, second: float) -> bool:
        """Whether their surfaces cut each other at a pose."""


@dataclass(frozen=True)
class Stretches:
    """What is asked, one stretch a row: from bend `low` up to `high` at second numbers `side`.

    low, high : (n,) rad.
    side : (n, 2) second number of the pose from the first to the last; the same of a line.
    group : (n,) rising numbers; boxes span the lines of a group until they are halved.
    """

    low: Array
    high: Array
    side: Array
    group: Index


@dataclass(frozen=True)
class Proof:
    """What a search found out.

    Attributes
    ----------
    clear : (n,) rad, nothing touches on a stretch from its low end to here.
    where : (n,) second number of the pose at which it seems to touch; nan where all is clear.
    finished : whether every row was done; if not, `clear` tells how far the rest got.
    rows : how many rows were bounded.
    """

    clear: Array
    where: Array
    finished: bool
    rows: int


MOST = 8_000_000
"""Rows after which a search ends unfinished: ten seconds. Yokes of the catalogue need 0.3
million for a curve, two scans of 265,000 triangles 4 million."""

BATCH = 400_000
"""Rows in hand; the half with the lower bends goes first, so that memory stays under 100 MB."""

START = 3
"""Level of both trees to begin with."""

PIECES = 3
"""Boxes along the bend that a stretch is cut into at first."""

LOOK = 1.0
"""mm. Rows whose boxes move metal by less ask whether bodies are seen to touch."""

LOOKS = 5
"""Boxes of a stretch, spread over its bends, in which that is asked each time."""


def search(pair: Closes, asked: Stretches, most: int = MOST) -> Proof:
    """Find how far stretches are clear of touching.

    most : rows that are bounded before the search ends unfinished.
    """
    return _Search(pair, asked).run(most)


@dataclass(frozen=True)
class _Rows:
    """Nodes and boxes, (n,) each."""

    one: Index
    other: Index
    box: Index

    def __len__(self) -> int:
        return len(self.box)

    def __getitem__(self, which: NDArray[np.generic]) -> "_Rows":
        return _Rows(self.one[which], self.other[which], self.box[which])


def _joined(parts: list[_Rows]) -> _Rows:
    return _Rows(*(np.concatenate([getattr(p, n) for p in parts]) for n in ("one", "other", "box")))


class _BoxTable:
    """Boxes of poses with what moves over them: each is worked out once, whatever rows it has."""

    def __init__(self, motion: Motion, asked: Stretches) -> None:
        self._motion, self._asked = motion, asked
        self.boxes = Boxes(np.zeros((0, 2)), np.zeros((0, 2)))
        self.run = np.zeros((0, 2), np.intp)
        self._child = np.zeros((0, 2, 2), np.intp)
        self.moves: Moves | None = None

    def __len__(self) -> int:
        return len(self.run)

    def add(self, low: Array, high: Array, run: Index) -> Index:
        """Numbers of new boxes that span runs (n, 2) of stretches."""
        boxes = Boxes(low, high)
        moves = self._motion.over(boxes)
        if self.moves is not None:
            pairs = ((getattr(self.moves, f), getattr(moves, f)) for f in Moves.__annotations__)
            moves = Moves(*(np.concatenate(pair, axis=-1) for pair in pairs))
        self.moves, known = moves, len(self)
        self.boxes = Boxes(*(np.concatenate(pair) for pair in (
            (self.boxes.low, low), (self.boxes.high, high))))  # fmt: skip
        self.run = np.concatenate([self.run, run])
        self._child = np.concatenate([self._child, np.full((len(low), 2, 2), _UNKNOWN)])
        return np.arange(known, len(self))

    def halves(self, box: Index, across: Index) -> Index:
        """Numbers of both halves of boxes across an axis (n,) each, (n, 2); -1 for none."""
        todo = np.unique(2 * box + across)
        todo = todo[self._child[todo // 2, todo % 2, 0] == _UNKNOWN]
        if len(todo):
            self._halve(todo // 2, todo % 2)
        return np.asarray(self._child[box, across])

    def _halve(self, box: Index, across: Index) -> None:
        low, high, run = self.boxes.low[box], self.boxes.high[box], self.run[box]
        row, lines = np.arange(len(box)), run[:, 1] - run[:, 0] > 1
        middle = 0.5 * (low + high)[row, across]
        for child in (0, 1):
            begin, end, part = low.copy(), high.copy(), run.copy()
            (begin if child else end)[row, across] = middle
            many = np.flatnonzero(lines & (across == 1))
            part[many, 1 - child] = (run[many, 0] + run[many, 1]) // 2
            begin[many, 1] = self._asked.side[part[many, 0], 0]
            end[many, 1] = self._asked.side[part[many, 1] - 1, 1]
            end[many, 0] = np.minimum(end[many, 0], over_runs(self._asked.high, part[many]))
            some = (end[:, 0] >= begin[:, 0]) if len(many) else np.ones(len(box), bool)
            self._child[box, across, child] = -1
            self._child[box[some], across[some], child] = self.add(
                begin[some], end[some], part[some]
            )


_UNKNOWN = -2


def over_runs(values: Array, run: Index) -> Array:
    """Largest of the values (m,) over runs (n, 2) of them."""
    if not len(run):
        return np.zeros(0)
    return np.maximum.reduceat(np.append(values, -np.inf), run.ravel())[::2]


class _Search:
    """Rows still to be done, and how far each stretch is clear."""

    def __init__(self, pair: Closes, asked: Stretches) -> None:
        self.pair, self.asked = pair, asked
        self.a, self.b = pair.trees
        self.table = _BoxTable(pair.motion, asked)
        self.top = asked.high.copy()
        self.where = np.full(len(self.top), np.nan)
        self.rows = 0

    def run(self, most: int) -> Proof:
        """Do all rows, those of low bends first where there are many."""
        stack = [self._first()]
        while stack and self.rows < most:
            rows = stack.pop()
            rows = rows[np.flatnonzero(self._matter(rows.box))]
            if len(rows) > BATCH:
                order = np.argsort(self.table.boxes.low[rows.box, 0], kind="stable")
                low, high = np.array_split(order, 2)
                stack += [rows[high], rows[low]]
            elif len(rows):
                stack.append(self._below(rows))
        self._give_up(stack)
        return Proof(self.top, self.where, not stack, self.rows)

    def _first(self) -> _Rows:
        """Pairs of nodes near the top, each with all first boxes."""
        asked, low, high, run = self.asked, [], [], []
        ends = np.flatnonzero(np.diff(asked.group, prepend=-1, append=np.iinfo(np.intp).max))
        for start, stop in pairwise(ends):
            bottom, top = asked.low[start:stop].min(), asked.high[start:stop].max()
            if top < bottom:
                continue
            cuts = np.linspace(bottom, top, PIECES + 1 if top > bottom else 2)
            for one, other in pairwise(cuts):
                low.append((one, asked.side[start, 0]))
                high.append((other, asked.side[stop - 1, 1]))
                run.append((start, stop))
        a, b = (each.ravel() for each in np.meshgrid(
            self.a.level(START), self.b.level(START), indexing="ij"))  # fmt: skip
        some = np.flatnonzero(self._meet(a, b))
        if not low or not len(some):
            return _Rows(*(np.zeros(0, np.intp),) * 3)
        boxes = self.table.add(np.array(low), np.array(high), np.array(run))
        a, b = (np.tile(each[some], len(boxes)) for each in (a, b))
        return _Rows(a, b, np.repeat(boxes, len(some)))

    def _meet(self, one: Index, other: Index) -> NDArray[np.bool_]:
        """Whether both nodes have metal as far out as the other."""
        return np.asarray(
            (self.a.near[one] <= self.b.far[other] + self.pair.slack)
            & (self.b.near[other] <= self.a.far[one] + self.pair.slack)
        )

    def _matter(self, box: Index) -> NDArray[np.bool_]:
        """Whether boxes lie below what is known to touch on one of their stretches."""
        table = self.table
        return np.asarray(table.boxes.low[box, 0] <= over_runs(self.top, table.run[box]))

    def _below(self, rows: _Rows) -> _Rows:
        """Halves of the rows that are not clear."""
        leaf = (rows.one >= self.a.first) & (rows.other >= self.b.first)
        parts = [self._halved(rows[np.flatnonzero(leaf == each)], each) for each in (False, True)]
        return _joined([part for both in parts for part in both])

    def _halved(self, rows: _Rows, leaf: bool) -> list[_Rows]:
        moves = self.table.moves
        if not len(rows) or moves is None:
            return [rows]
        self.rows += len(rows)
        triple = (rows.one, rows.other, rows.box)
        least, radius, seen = bounds(
            (self.a, self.b), moves, triple, self.pair.gap, self.pair.slack, leaf
        )
        left = np.flatnonzero(least <= 0.0)
        rows, radius = rows[left], radius[left]
        moved = radius * moves.speed[:, rows.box]
        most = moved.max(axis=0)
        if leaf:
            # The corners of a large triangle may move far more than the metal that can meet.
            touch = np.flatnonzero((seen[left] < self.pair.gap) & self._alone(rows.box))
            self._enter_lowest(rows.box[touch], 0.5)
            far = self.b.far[rows.other] * moves.speed[:, rows.box].max(axis=0)
            open_ = self._looked_at(rows, far)
            return self._by_box(rows[open_], moved[:, open_])
        size = np.maximum(self.a.size[rows.one], self.b.size[rows.other])
        by_box = np.flatnonzero(most > size)
        rest = rows[np.flatnonzero(most <= size)]
        return self._by_box(rows[by_box], moved[:, by_box]) + self._by_node(rest)

    def _by_node(self, rows: _Rows) -> list[_Rows]:
        leaf_a, leaf_b = rows.one >= self.a.first, rows.other >= self.b.first
        first = ~leaf_a & (leaf_b | (self.a.size[rows.one] >= self.b.size[rows.other]))
        parts = []
        for child in (0, 1):
            one = np.where(first, 2 * rows.one + child, rows.one)
            other = np.where(first, rows.other, 2 * rows.other + child)
            some = np.flatnonzero(self._meet(one, other))
            parts.append(_Rows(one[some], other[some], rows.box[some]))
        return parts

    def _by_box(self, rows: _Rows, moved: Array) -> list[_Rows]:
        if not len(rows):
            return []
        run = self.table.run[rows.box]
        lines = (run[:, 1] - run[:, 0] > 1) & (moved[0] < self.pair.graze)
        halves = self.table.halves(rows.box, (lines | (moved[1] > moved[0])).astype(np.intp))
        parts = []
        for child in halves.T:
            some = np.flatnonzero(child >= 0)
            parts.append(_Rows(rows.one[some], rows.other[some], child[some]))
        return parts

    def _looked_at(self, rows: _Rows, moved: Array) -> Index:
        """Which rows of triangles are to be halved yet; what touches is entered."""
        alone = self._alone(rows.box)
        self._look(np.unique(rows.box[alone & (moved < LOOK)]))
        tiny = alone & (moved < self.pair.graze)
        self._enter_lowest(rows.box[tiny], 0.0)
        return np.flatnonzero(~tiny)

    def _look(self, boxes: Index) -> None:
        """Ask whether the bodies cut in some boxes of each stretch, from low bends to high.

        The lowest may lie just below the touch; one that is higher then spares all above it.
        """
        stretch, bends = self.table.run[boxes, 0], self.table.boxes.low[boxes, 0]
        for each in np.unique(stretch):
            own = boxes[stretch == each]
            own = own[np.argsort(bends[stretch == each], kind="stable")]
            for box in own[np.unique(np.linspace(0, len(own) - 1, LOOKS).astype(np.intp))]:
                low, high = self.table.boxes.low[box], self.table.boxes.high[box]
                bend, side = (0.5 * (low + high)).tolist()
                if self.pair.cut(bend, side):
                    self._enter(int(each), bend, side)
                    break

    def _alone(self, box: Index) -> NDArray[np.bool_]:
        """Whether boxes lie in one stretch."""
        run = self.table.run[box]
        return np.asarray(run[:, 1] - run[:, 0] == 1)

    def _enter_lowest(self, box: Index, share: float) -> None:
        """Each stretch of some boxes touches in the lowest of them, so far from its lower end."""
        boxes, stretch = self.table.boxes, self.table.run[box, 0]
        poses = boxes.low[box] + share * (boxes.high[box] - boxes.low[box])
        order = np.lexsort((poses[:, 0], stretch))
        for i in order[np.unique(stretch[order], return_index=True)[1]]:
            self._enter(int(stretch[i]), *poses[i].tolist())

    def _enter(self, stretch: int, bend: float, side: float) -> None:
        """A stretch touches at a bend: nothing from there on matters."""
        below = float(np.nextafter(bend, -np.inf))
        if below < self.top[stretch]:
            self.top[stretch], self.where[stretch] = below, side

    def _give_up(self, stack: list[_Rows]) -> None:
        """Claim nothing above the lowest row that is not done."""
        for rows in stack:
            matter = rows.box[np.flatnonzero(self._matter(rows.box))]
            for box in np.unique(matter):
                low, side = self.table.boxes.low[box].tolist()
                for stretch in range(*self.table.run[box].tolist()):
                    self._enter(stretch, low, side)
