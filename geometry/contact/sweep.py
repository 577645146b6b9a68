"""How near one yoke of a joint comes to points of the other over all spins and a range of bends.

Points are fixed to one yoke; the other sweeps by as the joint bends and turns. For each point
branch and bound runs over bend and spin: the distance at one pose bounds it in a neighbourhood,
since the point moves no faster than its distance from the cross centre times the turn of the
yokes against each other. The best poses are then settled by walking downhill. Own derivation.

Millions of pairs of point and pose are asked, in single precision: 1e-5 mm on a yoke.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import pi
from typing import Self, TypeVar

import numpy as np

from geometry.contact.field import DistanceField, Index, Single
from geometry.mesh import Booleans, Floats

Ask = Callable[[Index, Single, Single, Single, float], Index]

SPINS = 24
"""Pieces that a full turn is cut into at first; any number gives the same answer."""

COARSE = 4.5
"""Motion, mm, above which the field's coarse bound is as good as its value."""

ROUGH = 1.0
"""Motion, mm, down to which neighbourhoods are told apart; a smooth field is settled from there by
walking downhill, with far fewer questions."""

SETTLED = 0.05
"""Motion, mm, at which the walk ends."""

STARTS = 3
"""Poses from which the walk starts, the best that were seen."""

CHUNK = 1_500
"""Points followed at a time; each has up to 300 poses, in all about 100 MB."""


@dataclass(frozen=True, eq=False)
class Window:
    """The poses in which two yokes may come near at all.

    low : rad, lowest bend; spins : (n,) rad, middles of pieces of the turn; half : rad, half
    their width
    """

    low: float
    spins: Single
    half: float

    @classmethod
    def whole(cls) -> Self:
        """Every pose there is."""
        spins = np.arange(SPINS, dtype=np.float32) * np.float32(2.0 * pi / SPINS)
        return cls(0.0, spins, pi / SPINS)


Real = TypeVar("Real", Single, Floats)
"""Single precision for the search, double to settle what it found."""

_HALF, _WHOLE = np.float32(0.5), np.float32(1.0)


def carried(points: Real, bend: Real, spin: Real, to_driven: bool) -> Real:
    """Points (3, n) of the driving yoke in the driven yoke's frame, or the other way round.

    bend, spin : (n,) rad. The columns of R_DN are those of `geometry.joint.driven_in_driving`,
    written out so that no matrices are built.
    """
    cb, sb, cs, ss = np.cos(bend), np.sin(bend), np.cos(spin), np.sin(spin)
    size = np.sqrt(sb * sb * ss * ss + cb * cb)
    x0, x1, x2 = -cb, sb * cs, -sb * ss
    y0, y2 = -sb * ss / size, cb / size
    z0, z1, z2 = x1 * y2, x2 * y0 - x0 * y2, -x1 * y0
    a, b, c = points
    if to_driven:
        return np.stack([x0 * a + x1 * b + x2 * c, y0 * a + y2 * c, z0 * a + z1 * b + z2 * c])
    return np.stack([x0 * a + y0 * b + z0 * c, x1 * a + z1 * c, x2 * a + y2 * b + z2 * c])


@dataclass(frozen=True, eq=False)
class Deepest:
    """Where points come deepest into the other yoke, or nearest to it.

    distance : (n,) mm, signed; bend, spin : (n,) rad, the pose it was seen in; nan for a point of
    which nothing was seen as near as was asked for
    """

    distance: Floats
    bend: Floats
    spin: Floats


@dataclass(frozen=True, eq=False)
class Sweep:
    """The other yoke of a joint, sweeping by.

    field : its signed distance, in its own frame; to_driven : whether it is the driven one
    window : the poses to be looked at
    """

    field: DistanceField
    to_driven: bool
    window: Window

    def least(self, points: Floats, bend: float, enough: Floats, upto: Floats) -> Floats:
        """Least signed distance (n,) mm of the yoke from points (3, n), over all poses.

        bend : the highest, rad
        enough, upto : (n,) mm, distances below and above which nobody cares; given back there
        """
        return self.deepest(points, bend, enough, upto).distance

    def deepest(self, points: Floats, bend: float, enough: Floats, upto: Floats) -> Deepest:
        """The same, with the pose of each point."""
        found = []
        for search in self._searches(points, bend, enough, upto):
            search.follow(ROUGH, search.bounded)
            search.settle()
            found.append((search.least, *search.pose))
        distance, *pose = (
            np.concatenate(each).astype(np.float64) for each in zip(*found, strict=True)
        )
        return Deepest(np.maximum(distance, enough), *pose)

    def comes_near(self, points: Floats, bend: float, upto: float) -> Booleans:
        """Whether the yoke may come within `upto` mm of points (3, n) up to a bend, rad.

        A no is certain; a yes is given a few mm early, since only the field's bound is asked.
        """
        level, found = np.full(points.shape[1], upto), []
        for search in self._searches(points, bend, level, level):
            search.follow(ROUGH, search.suspected)
            found.append(search.least < upto)
        return np.concatenate(found)

    def _searches(
        self, points: Floats, bend: float, enough: Floats, upto: Floats
    ) -> Iterator[_Search]:
        for start in range(0, max(points.shape[1], 1), CHUNK):
            part = slice(start, start + CHUNK)
            yield _Search(self, points[:, part], bend, enough[part], upto[part])


class _Search:
    """The least distances so far, and poses near which they may be less."""

    def __init__(
        self, sweep: Sweep, points: Floats, bend: float, enough: Floats, upto: Floats
    ) -> None:
        self.points = np.ascontiguousarray(points, dtype=np.float32)
        self.field, self.window, self.to_driven = sweep.field, sweep.window, sweep.to_driven
        self.bends = min(sweep.window.low, bend), bend
        self.enough, self.least = enough.astype(np.float32), upto.astype(np.float32)
        self.radius = np.linalg.norm(self.points, axis=0)
        self.pose = np.full((2, len(self.least)), np.nan, dtype=np.float32)
        self.seen: list[tuple[Index, Single, Single, Single]] = []

    def follow(self, within: float, ask: Ask) -> None:
        """Branch and bound down to neighbourhoods in which no point moves more than `within`.

        ask : what tells which pairs of point and neighbourhood go on
        """
        count = self.points.shape[1]
        low, high = self.bends
        spins = self.window.spins
        point = np.repeat(np.arange(count), len(spins))
        spin = np.tile(spins, count)
        bend, half_bend, half_spin = (
            np.full(len(point), value, dtype=np.float32)
            for value in (0.5 * (low + high), 0.5 * (high - low), self.window.half)
        )
        while len(point):
            rise = np.tan(bend + half_bend)
            radius = self.radius.take(point)
            by_bend = radius * np.sqrt(1.0 + 0.25 * rise * rise) * half_bend
            by_spin = radius * rise * half_spin
            keep = ask(point, bend, spin, by_bend + by_spin, within)
            across = np.repeat(by_bend.take(keep) > by_spin.take(keep), 2)
            # The two halves stand side by side, so that the pairs stay in the order of points.
            twice = np.repeat(keep, 2)
            side = np.tile(np.array([-1.0, 1.0], dtype=np.float32), len(keep))
            half_bend = half_bend.take(twice) * np.where(across, _HALF, _WHOLE)
            half_spin = half_spin.take(twice) * np.where(across, _WHOLE, _HALF)
            point = point.take(twice)
            bend = bend.take(twice) + side * half_bend * across
            spin = spin.take(twice) + side * half_spin * ~across

    def suspected(
        self, point: Index, bend: Single, spin: Single, moves: Single, within: float
    ) -> Index:
        """Ask the bound alone; a point that stays suspect to the end is marked by its least."""
        there = carried(self.points.take(point, axis=1), bend, spin, self.to_driven)
        level = self.enough.take(point)
        suspect = self.field.bound(there) - moves < level
        suspect &= self.least.take(point) >= level
        done = point.compress(suspect & (moves <= within))
        self.least[done] = -np.inf
        return np.flatnonzero(suspect & (moves > within))

    def bounded(
        self, point: Index, bend: Single, spin: Single, moves: Single, within: float
    ) -> Index:
        """Ask each pair, and tell which may still hide something nearer."""
        there = carried(self.points.take(point, axis=1), bend, spin, self.to_driven)
        may = np.flatnonzero(self.field.bound(there) - moves < self.least.take(point))
        moved = moves.take(may)
        fine = may.compress(moved < COARSE)
        if not len(fine):
            return may
        value = self.field.at(there.take(fine, axis=1))
        owner, moved = point.take(fine), moves.take(fine)
        self._take(owner, value, bend.take(fine), spin.take(fine))
        least = self.least.take(owner)
        near = (value - moved < least) & (least > self.enough.take(owner))
        small = np.flatnonzero(near & (moved <= within))
        chosen = fine.take(small)
        self.seen.append(
            (owner.take(small), bend.take(chosen), spin.take(chosen), value.take(small))
        )
        coarse = moves.take(may) >= COARSE
        going = np.array(coarse)
        going[~coarse] = near & (moved > within)
        return may.compress(going)

    def _take(self, owner: Index, value: Single, bend: Single, spin: Single) -> None:
        """Take over the least value of each point, and its pose."""
        (better,) = np.nonzero(value < self.least.take(owner))
        order = better.take(np.argsort(-value.take(better), kind="stable"))
        # Of several of one point the last is the least, and the last one written stays.
        points = owner.take(order)
        self.least[points] = value.take(order)
        self.pose[:, points] = bend.take(order), spin.take(order)

    def settle(self) -> None:
        """Walk downhill from the best poses seen near each point."""
        if not self.seen:
            return
        point, bend, spin, value = (np.concatenate(each) for each in zip(*self.seen, strict=True))
        least = self.least.take(point)
        open_ = np.flatnonzero((least > self.enough.take(point)) & (value < least + ROUGH))
        order = open_[np.lexsort((value.take(open_), point.take(open_)))]
        sorted_ = point.take(order)
        rank = np.arange(len(order)) - np.searchsorted(sorted_, sorted_)
        best = order.compress(rank < STARTS)
        point, bend, spin, value = (each.take(best) for each in (point, bend, spin, value))
        low, high = (np.float32(end) for end in self.bends)
        step = np.float32(ROUGH)
        where, radius = self.points.take(point, axis=1), self.radius.take(point)
        while step > SETTLED:
            for along_bend in (True, False):
                rate = 1.0 if along_bend else np.maximum(np.tan(bend), 0.05)
                turn = step / (radius * rate)
                for sign in (-1.0, 1.0):
                    b = np.clip(bend + sign * turn, low, high) if along_bend else bend
                    s = spin if along_bend else spin + sign * turn
                    there = self.field.at(carried(where, b, s, self.to_driven))
                    better = there < value
                    bend, spin = np.where(better, b, bend), np.where(better, s, spin)
                    value = np.where(better, there, value)
            step *= np.float32(0.5)
        if len(point):
            self._take(point, value, bend, spin)
