"""Cells of poses, each with what moving lines do in it, read at 27 poses of the cell.

What holds between those poses is bounded by how curved the motion is there: at most `BOW` times
as curved as the second differences of those poses say. That is an assumption, and the only one;
it holds for any motion whose curvature does not double within a small part of the box of poses.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields
from itertools import product

import numpy as np
from numpy.typing import NDArray

from geometry.contact.convex import Index
from geometry.errors import ShapeError

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

Motion = Callable[[Array], tuple[Array, Array]]
"""Both ends (lines, n, 3), mm, of moving lines for poses (n, 3); nan for poses that do not
exist."""

FIRST_CUT = (4, 2, 2)
"""Cells along each axis of the box to begin with."""

BOW = 2.0
"""How much more curved the motion may be between the 27 poses of a cell than they say."""

SLIVER = 1.0 / 64.0
"""Half width, as a share of the box, down to which cells on the edge of what can be reached are
cut; smaller ones are judged by those of their poses that exist."""


@dataclass
class _Read:
    """What was read of cells, and what they are: one row a cell, more rows than cells."""

    centre: Array
    half: Array
    begin: Array
    lean: Array
    length: Array
    there: Flags
    middle: Index
    children: Index


class PoseCells:
    """A growing list of cells of a box of poses; a closed side of the box stays closed.

    Attributes
    ----------
    first : the cells to begin with. Those on the edge of what can be reached are small.
    shape : poses that a cell is read at, along each axis: 3, or 1 where the box is closed.
    """

    def __init__(self, motion: Motion, low: Array, high: Array) -> None:
        self._motion = motion
        self._size = high - low
        wide = self._size > 0.0
        axes = [np.array([-1.0, 0.0, 1.0]) if w else np.zeros(1) for w in wide]
        self.shape = tuple(len(axis) for axis in axes)
        self._stencil = np.array(list(product(*axes)))
        self._cells: _Read | None = None
        self._known = 0
        counts = np.where(wide, FIRST_CUT, 1)
        grid = np.array(list(product(*map(range, counts))), dtype=np.float64)
        half = np.tile(0.5 * self._size / counts, (len(grid), 1))
        self.first = self._off_the_edge(self._add(low + (grid + 0.5) / counts * self._size, half))

    @property
    def begin(self) -> Array:
        """Where each line begins, (cells, lines, k, 3) mm, at the k poses of each cell."""
        return self._read.begin

    @property
    def lean(self) -> Array:
        """Unit direction of each line, (cells, lines, k, 3)."""
        return self._read.lean

    @property
    def length(self) -> Array:
        """Length of each line, (cells, lines, k) mm."""
        return self._read.length

    @property
    def there(self) -> Flags:
        """Which of the poses exist, (cells, k)."""
        return self._read.there

    @property
    def middle(self) -> Index:
        """Which of the poses stands for its cell, (cells,)."""
        return self._read.middle

    def children(self, cells: Index, axis: Index) -> tuple[Index, Index]:
        """Halves of cells (n,) across an axis (n,) each: rows of cells, and of their parents.

        Halves in which there is no pose are left out.
        """
        self._cut(cells, axis)
        one = self._read.children[cells, axis]
        both, parent = np.concatenate([one, one + 1]), np.tile(np.arange(len(cells)), 2)
        some = self.there[both].any(axis=1)
        return both[some], parent[some]

    def poses(self, cells: Index, which: Index) -> Array:
        """Poses (n, 3) of cells (n,), one each of the k that they are read at."""
        read = self._read
        return np.asarray(read.centre[cells] + self._stencil[which] * read.half[cells])

    def bow(self, values: Array) -> tuple[Array, Array]:
        """What values may exceed those of the poses by, and their reach, along each axis.

        values : (n, k), nan where there is no pose; both answers (n, 3). Straight interpolation
        on a step h is off by h^2/8 times the second derivative; the second difference is h^2
        times it.
        """
        n = len(values)
        cube = values.reshape(n, *self.shape)
        bow, along = np.zeros((n, 3)), np.zeros((n, 3))
        for axis in range(3):
            if self.shape[axis] == 1:
                continue
            a, b, c = (np.take(cube, i, axis=1 + axis).reshape(n, -1) for i in range(3))
            second = np.nan_to_num(np.abs(a - 2.0 * b + c), nan=0.0).max(axis=1)
            bow[:, axis] = BOW / 8.0 * second
            along[:, axis] = np.nan_to_num(np.abs(c - a), nan=0.0).max(axis=1) + second
        return bow, along

    @property
    def _read(self) -> _Read:
        if self._cells is None:
            raise ShapeError("no cells of poses yet; expected at least one")
        return self._cells

    def _cut(self, cells: Index, axis: Index) -> None:
        """Make the halves of cells (n,) across an axis (n,) each, where they are not made yet."""
        todo = self._read.children[cells, axis] < 0
        if not todo.any():
            return
        cell, across = np.unique(np.stack([cells[todo], axis[todo]], axis=1), axis=0).T
        row = np.arange(len(cell))
        half = self._read.half[cell]
        half[row, across] *= 0.5
        step = np.zeros_like(half)
        step[row, across] = half[row, across]
        middle = self._read.centre[cell]
        centre = np.stack([middle - step, middle + step], axis=1)
        made = self._add(centre.reshape(-1, 3), np.repeat(half, 2, axis=0))
        self._read.children[cell, across] = made[::2]

    def _add(self, centre: Array, half: Array) -> Index:
        """Read cells and append them."""
        n, k = len(centre), len(self._stencil)
        poses = centre[:, None] + self._stencil * half[:, None]
        begin, end = self._motion(poses.reshape(-1, 3))
        begin, axis = (
            each.reshape(-1, n, k, 3).transpose(1, 0, 2, 3) for each in (begin, end - begin)
        )
        length = np.linalg.norm(axis, axis=-1)
        there = np.asarray(np.isfinite(length).all(axis=1))
        middle = np.full(n, k // 2)
        odd = ~there[:, k // 2]
        middle[odd] = np.argmax(there[odd], axis=1)
        children = np.full((n, 3), -1)
        lean = axis / np.where(length > 0.0, length, 1.0)[..., None]
        read = _Read(centre, half, begin, lean, length, there, middle, children)
        new = np.arange(self._known, self._known + n)
        self._cells = read if self._cells is None else _appended(self._cells, self._known, read)
        self._known += n
        return new

    def _off_the_edge(self, cells: Index) -> Index:
        """Cut cells on the edge of what can be reached down to a small size."""
        done = []
        cells = cells[self.there[cells].any(axis=1)]
        while len(cells):
            size = np.where(self._size > 0.0, self._size, np.inf)
            share = self._read.half[cells] / size
            edge = ~self.there[cells].all(axis=1) & (share >= SLIVER).any(axis=1)
            done.append(cells[~edge])
            cells, _ = self.children(cells[edge], np.argmax(share[edge], axis=1))
        return np.concatenate([*done, cells])


def _appended(old: _Read, known: int, new: _Read) -> _Read:
    """Rows of `new` behind the first `known` of `old`, in place while there is room."""
    n = len(new.centre)
    grown = {}
    for field in fields(_Read):
        have, more = getattr(old, field.name), getattr(new, field.name)
        if known + n > len(have):
            room = np.empty((max(n, len(have)), *have.shape[1:]), have.dtype)
            have = np.concatenate([have, room])
        have[known : known + n] = more
        grown[field.name] = have
    return _Read(**grown)
