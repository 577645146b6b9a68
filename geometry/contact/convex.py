"""Convex pieces that something can come near to: boxes, round bars, triangles.

A batch of pieces of one kind answers, for any choice of them at once: the nearest point to a
point, the nearest point to a segment, and how low the piece reaches along a direction. Those
three are all that distances and their lower bounds need.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from geometry.contact.cone import highest_of_cone, project_to_cone
from geometry.contact.segments import nearest_of_segments
from geometry.contact.triangles import dot, project_to_triangle

Array = NDArray[np.float64]
Index = NDArray[np.intp]

CORNERS = np.array(list(product((-1.0, 1.0), repeat=3)))
"""Which way the corners of a box lie."""


class Pieces(ABC):
    """A batch of convex pieces of one kind, mm."""

    @property
    @abstractmethod
    def count(self) -> int:
        """How many pieces there are."""

    @abstractmethod
    def project(self, which: Index, points: Array) -> Array:
        """Nearest point of the pieces `which`, (n,), to one point each, (n, 3)."""

    @abstractmethod
    def beside(self, which: Index, start: Array, stop: Array) -> Array:
        """Share (n,) of each segment, (n, 3) to (n, 3), at which its piece is nearest."""

    @abstractmethod
    def lowest(self, which: Index, along: Array) -> Array:
        """Least of `along` . x over each piece, (n,), for directions (n, 3)."""

    @abstractmethod
    def hulls(self) -> Array:
        """Points (count, k, 3) whose convex hulls hold the pieces."""


@dataclass(frozen=True)
class Boxes(Pieces):
    """Boxes along the axes: centres (m, 3) and half sizes (m, 3)."""

    centre: Array
    half: Array

    @property
    def count(self) -> int:
        """How many boxes there are."""
        return len(self.centre)

    def project(self, which: Index, points: Array) -> Array:
        """Nearest point; see `Pieces`."""
        centre, half = self.centre[which], self.half[which]
        return np.asarray(centre + np.clip(points - centre, -half, half))

    def beside(self, which: Index, start: Array, stop: Array) -> Array:
        """Exact: the squared distance is convex and, between the planes of the sides, quadratic.

        Its slope is therefore a rising broken line, whose zero is found between two breaks.
        """
        p, d, half = start - self.centre[which], stop - start, self.half[which]
        safe = np.where(d == 0.0, 1.0, d)
        crossings = [np.where(d == 0.0, 0.0, (side * half - p) / safe) for side in (-1.0, 1.0)]
        ends = np.broadcast_to([0.0, 1.0], (len(p), 2))
        t = np.sort(np.clip(np.concatenate([*crossings, ends], axis=1), 0.0, 1.0), axis=1)
        at = p[:, None] + t[..., None] * d[:, None]
        outside = at - np.clip(at, -half[:, None], half[:, None])
        slope = dot(outside, d[:, None])
        return np.asarray(0.5 * (_zero(t, slope) + 1.0 - _zero(1.0 - t[:, ::-1], -slope[:, ::-1])))

    def lowest(self, which: Index, along: Array) -> Array:
        """Least along a direction; see `Pieces`."""
        return np.asarray(dot(along, self.centre[which]) - self.reach(which, along))

    def reach(self, which: Index, along: Array) -> Array:
        """How far each box reaches from its centre along a direction, (n,)."""
        return dot(np.abs(along), self.half[which])

    def hulls(self) -> Array:
        """Corners of the boxes."""
        return self.centre[:, None] + CORNERS * self.half[:, None]


@dataclass(frozen=True)
class Bars(Pieces):
    """Round bars with flat ends: axes from `start` (m, 3) to `stop` (m, 3), radii (m,)."""

    start: Array
    stop: Array
    radius: Array

    @property
    def count(self) -> int:
        """How many bars there are."""
        return len(self.start)

    def project(self, which: Index, points: Array) -> Array:
        """Nearest point; see `Pieces`."""
        return project_to_cone(*self._cones(which), points)

    def beside(self, which: Index, start: Array, stop: Array) -> Array:
        """Nearest to the bar's axis, which is exact where neither end comes into it."""
        return nearest_of_segments(start, stop, self.start[which], self.stop[which])[0]

    def lowest(self, which: Index, along: Array) -> Array:
        """Least along a direction; see `Pieces`."""
        return -highest_of_cone(*self._cones(which), -along)

    def hulls(self) -> Array:
        """Corners of square bars around them."""
        u = _unit(self.stop - self.start)
        least = np.eye(3)[np.argmin(np.abs(u), axis=1)]
        y = _unit(np.cross(u, least))
        z = np.cross(u, y)
        r = self.radius[:, None]
        return np.stack(
            [e + i * r * y + j * r * z for e in (self.start, self.stop)
             for i in (-1.0, 1.0) for j in (-1.0, 1.0)], axis=1,
        )  # fmt: skip

    def _cones(self, which: Index) -> tuple[Array, Array, Array]:
        radius = self.radius[which]
        return self.start[which], self.stop[which], np.stack([radius, radius], axis=1)


@dataclass(frozen=True)
class Triangles(Pieces):
    """Triangles, (m, 3, 3)."""

    corners: Array

    @property
    def count(self) -> int:
        """How many triangles there are."""
        return len(self.corners)

    def project(self, which: Index, points: Array) -> Array:
        """Nearest point; see `Pieces`."""
        return project_to_triangle(self.corners[which], points)

    def beside(self, which: Index, start: Array, stop: Array) -> Array:
        """Exact: one of the ends, a place beside an edge, or where the segment goes through."""
        corners = self.corners[which]
        shares = [np.zeros(len(start)), np.ones(len(start)), _through(corners, start, stop)]
        for i in range(3):
            edge = corners[:, i], corners[:, (i + 1) % 3]
            shares.append(nearest_of_segments(start, stop, *edge)[0])
        t = np.stack(shares)
        at = start + t[..., None] * (stop - start)
        foot = project_to_triangle(
            np.broadcast_to(corners, (len(t), *corners.shape)).reshape(-1, 3, 3), at.reshape(-1, 3)
        )
        away = at - foot.reshape(at.shape)
        best = np.argmin(dot(away, away), axis=0)
        return np.asarray(t[best, np.arange(len(start))])

    def lowest(self, which: Index, along: Array) -> Array:
        """Least along a direction; see `Pieces`."""
        return np.asarray(np.einsum("nij,nj->ni", self.corners[which], along).min(axis=1))

    def hulls(self) -> Array:
        """Corners of the triangles."""
        return self.corners


def _unit(vectors: Array) -> Array:
    return np.asarray(vectors / np.linalg.norm(vectors, axis=-1, keepdims=True))


def _through(corners: Array, start: Array, stop: Array) -> Array:
    """Share of each segment at which it passes the plane of its triangle, kept to 0..1."""
    a = corners[:, 0]
    normal = np.cross(corners[:, 1] - a, corners[:, 2] - a)
    height = dot(start - a, normal)
    rise = dot(stop - start, normal)
    return np.clip(-height / np.where(rise == 0.0, 1.0, rise), 0.0, 1.0)


def _zero(t: Array, slope: Array) -> Array:
    """First place, (n,), at which a rising broken line, values `slope` at `t`, (n, k), is zero.

    The nearer end where it has one sign throughout.
    """
    row, last = np.arange(len(t)), t.shape[1] - 1
    up = np.argmax(slope >= 0.0, axis=1)
    before = np.maximum(up - 1, 0)
    low, high = slope[row, before], slope[row, up]
    share = np.where(high > low, -low / np.where(high > low, high - low, 1.0), 1.0)
    between = t[row, before] + np.clip(share, 0.0, 1.0) * (t[row, up] - t[row, before])
    return np.where((slope < 0.0).all(axis=1), t[:, last], between)
