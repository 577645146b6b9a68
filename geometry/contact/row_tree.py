"""A mesh as a tree of boxes that rows of a search read column by column."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.contact.reach import nearness
from geometry.mesh import Mesh, once_a_mesh

Array = NDArray[np.float64]
Index = NDArray[np.intp]

TOP = 6
"""Levels split at the median across the longest side; below, triangles lie in the order of a curve
through their cells, which takes one sort and makes boxes hardly larger."""

CELLS = 1 << 10
"""Cells of that curve along each side."""


@dataclass(frozen=True)
class RowTree:
    """Nodes of a whole binary tree: 1 is all of the mesh, 2i and 2i + 1 the halves of i.

    Attributes
    ----------
    first : number of the first leaf; leaf i holds triangle i - first of `corners`.
    depth : levels below the top.
    centre, half : (3, 2 first) mm, box around each node along the axes of the body.
    size : (2 first,) mm, longest half side.
    near, far : (2 first,) mm, between which distances from the origin its metal lies; a leaf
        without a triangle has none.
    corners : (3, 3, first) mm, by corner and coordinate.
    normal : (3, first) unit normals; zero of a triangle without area.
    """

    first: int
    depth: int
    centre: Array
    half: Array
    size: Array
    near: Array
    far: Array
    corners: Array
    normal: Array

    def level(self, most: int) -> Index:
        """Nodes of a level, at most `most` below the top."""
        down = min(most, self.depth)
        return np.arange(1 << down, 2 << down)


@once_a_mesh
def row_tree(mesh: Mesh) -> RowTree:
    """Grow the tree of a mesh of at least one triangle."""
    order, twin = _leaves(mesh.triangles)
    triangles, first = mesh.triangles[order], len(order)
    depth = first.bit_length() - 1
    low, high = (
        _upward(getattr(triangles, end)(axis=1), np.minimum if end == "min" else np.maximum)
        for end in ("min", "max")
    )
    far = np.sqrt(np.einsum("nij,nij->ni", triangles, triangles).max(axis=1))
    nearest, farthest = nearness(mesh)[order], far
    nearest[twin], farthest[twin] = np.inf, -np.inf
    edges = triangles[:, 1:] - triangles[:, :1]
    normal = np.cross(edges[:, 0], edges[:, 1])
    length = np.linalg.norm(normal, axis=1)
    normal /= np.where(length > 0.0, length, 1.0)[:, None]
    half = np.ascontiguousarray(0.5 * (high - low).T)
    return RowTree(
        first,
        depth,
        np.ascontiguousarray(0.5 * (high + low).T),
        half,
        half.max(axis=0),
        _upward(nearest, np.minimum),
        _upward(farthest, np.maximum),
        np.ascontiguousarray(triangles.transpose(1, 2, 0)),
        np.ascontiguousarray(normal.T),
    )


def _leaves(triangles: Array) -> tuple[Index, NDArray[np.bool_]]:
    """Order of triangles in the leaves, and which leaves only repeat the triangle before."""
    count = len(triangles)
    depth = (count - 1).bit_length()
    leaves = 1 << depth
    middle = 0.5 * (triangles.min(axis=1) + triangles.max(axis=1))
    repeated = np.arange(leaves) * count // leaves
    order = np.argsort(along_curve(middle), kind="stable")[repeated]
    for level in range(min(TOP, depth)):
        runs = order.reshape(1 << level, -1)
        at = middle[runs]
        longest = np.ptp(at, axis=1).argmax(axis=1)
        place = np.take_along_axis(at, longest[:, None, None], axis=2)[..., 0]
        halves = np.argpartition(place, runs.shape[1] // 2, axis=1)
        for side in np.split(halves, 2, axis=1):
            side.sort(axis=1)  # keeps the order of the curve
        order = np.take_along_axis(runs, halves, axis=1).ravel()
    twin = np.ones(leaves, dtype=bool)
    twin[np.unique(order, return_index=True)[1]] = False
    return order, twin


def along_curve(points: Array) -> NDArray[np.int64]:
    """Number of the cell of each point, (n, 3), along a curve that stays near itself.

    It has the bits of the cell's three coordinates by turns.
    """
    low = points.min(axis=0)
    side = max(float(np.ptp(points, axis=0).max()), 1e-300)
    cell = ((points - low) * ((CELLS - 1) / side)).astype(np.int64)
    for shift, mask in ((16, 0x030000FF), (8, 0x0300F00F), (4, 0x030C30C3), (2, 0x09249249)):
        cell = (cell | (cell << shift)) & mask
    return np.asarray(cell[:, 0] | (cell[:, 1] << 1) | (cell[:, 2] << 2))


def _upward(leaves: Array, joined: np.ufunc) -> Array:
    """Values of all nodes from those of the leaves; node 0 is none."""
    levels = [leaves]
    while len(levels[0]) > 1:
        levels.insert(0, joined(levels[0][::2], levels[0][1::2]))
    return np.concatenate([leaves[:1], *levels])
