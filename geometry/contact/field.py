"""The signed distance of a body's surface as a field: negative inside the metal.

Near the surface it is exact on a fine net of nodes, which are measured when first asked for, and
runs straight between them; farther off only a bound is known, by which whole neighbourhoods can
be told to be clear. Own derivation.
"""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from geometry.errors import MeshError
from geometry.mesh import Floats, Mesh

Single = NDArray[np.float32]
Index = NDArray[np.intp]

CELL = 3.0
"""Side of the cells, mm, that list the triangles near them."""

NODES = 4
"""Nodes of the fine net to a cell: one every 0.75 mm. Between them the field of a sharp edge is
off by about a fifth of that."""

BAND = 7.0
"""Distance, mm, up to which the field is exact; deeper than any yoke is ground, and farther than
any clearance is wanted."""

HALF_DIAGONAL = 0.5 * 3.0**0.5

CHUNK = 400_000
"""Pairs of point and triangle measured at a time: under 100 MB."""


class TriangleTable:
    """Triangles laid out for measuring many point-triangle pairs, component by component."""

    def __init__(self, corners: Floats) -> None:
        a, b, c = (corners[:, i] for i in range(3))
        self.a = np.ascontiguousarray(a.T)
        self.b = np.ascontiguousarray((b - a).T)
        self.c = np.ascontiguousarray((c - a).T)
        n = np.cross(b - a, c - a)
        size = np.maximum(np.linalg.norm(n, axis=1, keepdims=True), 1e-300)
        self.n = np.ascontiguousarray((n / size).T)
        self.bb, self.cc, self.bc = (
            np.einsum("im,im->m", p, q)
            for p, q in ((self.b, self.b), (self.c, self.c), (self.b, self.c))
        )

    def square(self, which: Index, points: Floats) -> Floats:
        """Squared distance (n,) of points (3, n) from the triangles `which` (n,).

        With v, w the shares along two sides of the point's foot in the plane, the foot counts
        where it lies inside; otherwise the nearest of the three sides does.
        """
        d = [points[i] - self.a[i, which] for i in range(3)]
        d1 = sum(x * self.b[i, which] for i, x in enumerate(d))
        d2 = sum(x * self.c[i, which] for i, x in enumerate(d))
        d0 = sum(x * x for x in d)
        bb, cc, bc = self.bb[which], self.cc[which], self.bc[which]
        det = bb * cc - bc * bc
        v, w = cc * d1 - bc * d2, bb * d2 - bc * d1
        inside = (v >= 0.0) & (w >= 0.0) & (det - v - w >= 0.0)
        plane = d0 - (v * d1 + w * d2) / det
        t = np.clip(d1 / bb, 0.0, 1.0)
        side = d0 + t * (t * bb - 2.0 * d1)
        t = np.clip(d2 / cc, 0.0, 1.0)
        side = np.minimum(side, d0 + t * (t * cc - 2.0 * d2))
        third, along = bb + cc - 2.0 * bc, d2 - d1 + bb - bc
        t = np.clip(along / third, 0.0, 1.0)
        side = np.minimum(side, d0 + bb - 2.0 * d1 + t * (t * third - 2.0 * along))
        return np.asarray(np.maximum(np.where(inside, plane, side), 0.0))

    def height(self, which: Index, points: Floats) -> Floats:
        """Height (n,) of points (3, n) over the planes of the triangles `which` (n,)."""
        return np.asarray(sum((points[i] - self.a[i, which]) * self.n[i, which] for i in range(3)))


class DistanceField:
    """A closed mesh made ready for signed distances, mm.

    mesh : closed; radius : mm, no point farther from the origin will be asked
    """

    def __init__(self, mesh: Mesh, radius: float) -> None:
        corners = mesh.triangles[mesh.areas > 1e-9]
        if not len(corners):
            raise MeshError("a mesh without area came; expected at least one triangle")
        self._table = TriangleTable(corners)
        low = np.minimum(mesh.bounds[0], -radius) - 2.0 * CELL
        high = np.maximum(mesh.bounds[1], radius) + 2.0 * CELL
        self._origin = low
        self._low = low.astype(np.float32)[:, None]
        self._shape = np.ceil((high - low) / CELL).astype(np.intp)
        self._list_triangles(corners)
        self._middle = self._from_middles()
        self._step = CELL / NODES
        self._fine_shape = self._shape * NODES + 1
        self._fine = np.full(int(np.prod(self._fine_shape)), np.nan, dtype=np.float32)
        _, long, short = self._fine_shape
        self._corners = [(i * long + j) * short + k for i in (0, 1) for j in (0, 1) for k in (0, 1)]

    def _list_triangles(self, corners: Floats) -> None:
        """List, for each cell, the triangles within `BAND` of any point in it."""
        near = BAND + HALF_DIAGONAL * CELL
        low = np.floor((corners.min(axis=1) - near - self._origin) / CELL).astype(np.intp)
        high = np.floor((corners.max(axis=1) + near - self._origin) / CELL).astype(np.intp)
        low, high = np.maximum(low, 0), np.minimum(high, self._shape - 1)
        span = high - low + 1
        cells, owners, squares = [], [], []
        count = span.prod(axis=1)
        for part in _parts(count, CHUNK):
            owner = np.repeat(np.arange(part.start, part.stop), count[part])
            place = np.arange(len(owner)) - np.repeat(
                np.cumsum(count[part]) - count[part], count[part]
            )
            size = span[owner]
            k = place % size[:, 2]
            j = place // size[:, 2] % size[:, 1]
            i = place // (size[:, 2] * size[:, 1])
            at = low[owner] + np.stack([i, j, k], axis=1)
            middle = self._origin + (at + 0.5) * CELL
            square = self._table.square(owner, middle.T)
            keep = square <= near**2
            cells.append(np.ravel_multi_index(at[keep].T, self._shape).astype(np.int32))
            owners.append(owner[keep].astype(np.int32))
            squares.append(square[keep].astype(np.float32))
        cell, owner, square = map(np.concatenate, (cells, owners, squares))
        order = np.argsort(cell, kind="stable")
        cell, owner, far = cell[order], owner[order], np.sqrt(square[order])
        # What is farther from the middle than the nearest by a diagonal is nearest to no point.
        first = np.flatnonzero(np.diff(cell, prepend=-1))
        least = np.repeat(np.minimum.reduceat(far, first), np.diff(first, append=len(cell)))
        keep = far <= least + 2.0 * HALF_DIAGONAL * CELL + 1e-3
        self._owner = owner[keep]
        self._start = np.searchsorted(cell[keep], np.arange(int(np.prod(self._shape)) + 1))

    def _from_middles(self) -> Single:
        """Signed distance of the middle of each cell, or less where that is far from the surface.

        A cell that lists nothing has no surface within `BAND`. By its distance from the nearest
        cell that does it may be farther.
        """
        listed = (np.diff(self._start) > 0).reshape(self._shape)
        apart = ndimage.distance_transform_edt(~listed) * CELL
        near = BAND + HALF_DIAGONAL * CELL
        zones, _ = ndimage.label(~listed)
        outside = zones == zones[0, 0, 0]
        value = np.where(outside, np.maximum(near, apart - near), -np.inf)
        value[listed] = self.exact(self._origin + (np.argwhere(listed) + 0.5) * CELL)
        return value.astype(np.float32).ravel()

    def bound(self, points: Single) -> Single:
        """No more than the signed distance (n,) of points (3, n); coarse, but fast.

        The distance of the middle of the point's cell, less that of the point from the middle.
        """
        place = (points - self._low) * np.float32(1.0 / CELL)
        cell = place.astype(np.int32)
        x, y, z = place - cell - np.float32(0.5)
        _, long, short = (int(n) for n in self._shape)
        middle = self._middle.take((cell[0] * long + cell[1]) * short + cell[2])
        return np.asarray(middle - np.float32(CELL) * np.sqrt(x * x + y * y + z * z))

    def at(self, points: Single) -> Single:
        """Signed distance (n,) of points (3, n), held to +-`BAND`."""
        place = (points - self._low) * np.float32(NODES / CELL)
        low = place.astype(np.int32)
        x, y, z = place - low
        _, long, short = (int(n) for n in self._fine_shape)
        base = (low[0] * long + low[1]) * short + low[2]
        values = [self._fine.take(base + offset) for offset in self._corners]
        if any(np.isnan(value).any() for value in values):
            self._measure_nodes(base)
            values = [self._fine.take(base + offset) for offset in self._corners]
        along_z = [a + z * (b - a) for a, b in zip(values[::2], values[1::2], strict=True)]
        along_y = [a + y * (b - a) for a, b in zip(along_z[::2], along_z[1::2], strict=True)]
        return np.asarray(along_y[0] + x * (along_y[1] - along_y[0]))

    def _measure_nodes(self, base: Index) -> None:
        """Measure the nodes of the fine net that are asked for the first time."""
        fresh = [node[np.isnan(self._fine.take(node))] for node in
                 (base + offset for offset in self._corners)]  # fmt: skip
        wanted = np.unique(np.concatenate(fresh))
        node = np.stack(np.unravel_index(wanted, self._fine_shape), axis=1)
        self._fine[wanted] = self.exact(self._origin + node * self._step)

    def exact(self, points: Floats) -> Floats:
        """Signed distance (n,) of points (n, 3) without any net, held to +-`BAND`."""
        cell = np.minimum(((points - self._origin) / CELL).astype(np.intp), self._shape - 1)
        flat = np.ravel_multi_index(cell.T, self._shape)
        count = self._start[flat + 1] - self._start[flat]
        value = np.full(len(points), BAND)
        listed = np.flatnonzero(count > 0)
        if len(listed) < len(points):
            value[count == 0] = np.clip(self._middle[flat[count == 0]], -BAND, BAND)
        for part in _parts(count[listed], CHUNK):
            which = listed[part]
            value[which] = self._nearest(points[which], self._start[flat[which]], count[which])
        return np.asarray(np.clip(value, -BAND, BAND))

    def _nearest(self, points: Floats, start: Index, count: Index) -> Floats:
        first = np.cumsum(count) - count
        place = np.arange(int(count.sum())) - np.repeat(first, count)
        owner = self._owner[np.repeat(start, count) + place]
        asked = np.repeat(points, count, axis=0).T
        square = self._table.square(owner, asked)
        least = np.minimum.reduceat(square, first)
        # Where an edge is nearest, the triangle that the point stands over most says the side.
        level = square <= np.repeat(least, count) * (1.0 + 1e-7) + 1e-12
        height = self._table.height(owner, asked)
        above = np.maximum.reduceat(np.where(level, height, -np.inf), first)
        below = np.minimum.reduceat(np.where(level, height, np.inf), first)
        return np.where(above + below < 0.0, -1.0, 1.0) * np.sqrt(least)


def _parts(count: Index, most: int) -> list[slice]:
    """Runs of items whose counts add up to about `most` at a time."""
    run = (np.cumsum(count) - 1) // most
    starts = np.flatnonzero(np.diff(run, prepend=-1)).tolist()
    return [slice(a, b) for a, b in pairwise([*starts, len(count)])]
