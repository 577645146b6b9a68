"""The surface around the part of space where a field on a regular net is negative.

Every cube of the net is cut into six tetrahedra about one diagonal, the same way in all cubes, so
that the surface is closed and never crosses itself, whatever the field. Along an edge the field
runs straight, which puts the surface where it is zero.
"""

from itertools import permutations

import numpy as np

from geometry.contact.triangles import dot
from geometry.mesh import Booleans, Floats, Indices

AWAY = 0.02
"""Share of an edge that a corner of the surface keeps from either node, so that no triangle
shrinks to nothing."""

_STEP = (4, 2, 1)
"""Number of a cube's corner one step along each axis."""

_TETRAHEDRA = np.array(
    [[0, _STEP[a], _STEP[a] + _STEP[b], 7] for a, b, _ in permutations(range(3))]
)
"""Corners of the six tetrahedra, each a way from corner 0 to corner 7 along the axes."""


def below_zero(values: Floats, origin: Floats, step: float) -> tuple[Floats, Indices]:
    """Vertices (n, 3) and outward-facing faces (m, 3) around where `values` are negative.

    values : (i, j, k) on the nodes of a net; its outer nodes are taken for positive
    origin : (3,) the first node; step : between nodes
    """
    field = _closed(values)
    shape = field.shape
    inside = field < 0.0
    cubes = np.nonzero(_any_corner(inside) & _any_corner(~inside))
    corner = np.array([[c >> 2 & 1, c >> 1 & 1, c & 1] for c in range(8)])
    offset = corner @ np.array([shape[1] * shape[2], shape[2], 1])
    nodes = (np.ravel_multi_index(cubes, shape)[:, None, None] + offset[_TETRAHEDRA]).reshape(-1, 4)
    edges, within = _crossings(nodes, inside.ravel())
    crossed, faces = np.unique(edges.reshape(-1, 2), axis=0, return_inverse=True)
    faces = faces.reshape(-1, 3)
    low, high = (field.ravel()[crossed[:, i]] for i in (0, 1))
    share = np.clip(low / (low - high), AWAY, 1.0 - AWAY)[:, None]
    ends = [origin + step * np.stack(np.unravel_index(crossed[:, i], shape), 1) for i in (0, 1)]
    vertices = ends[0] + share * (ends[1] - ends[0])
    a, b, c = (vertices[faces[:, i]] for i in range(3))
    core = origin + step * np.stack(np.unravel_index(within, shape), 1)
    inward = dot(np.cross(b - a, c - a), a - core) < 0.0
    faces[inward] = faces[inward][:, ::-1]
    return vertices, faces


def _closed(values: Floats) -> Floats:
    """The field, positive on its outer nodes and nowhere zero."""
    field = np.array(values, dtype=np.float64)
    for axis in range(3):
        for end in (0, -1):
            side = np.moveaxis(field, axis, 0)[end]
            side[...] = np.abs(side)
    field[field == 0.0] = np.finfo(np.float64).tiny
    return field


def _any_corner(mask: Booleans) -> Booleans:
    """Whether any corner of the cube that begins at each node is in `mask`."""
    for axis in range(3):
        count = mask.shape[axis]
        low, high = (np.take(mask, range(i, count - 1 + i), axis=axis) for i in (0, 1))
        mask = low | high
    return mask


def _crossings(nodes: Indices, inside: Booleans) -> tuple[Indices, Indices]:
    """Triangles (m, 3, 2) whose corners lie on edges, lower node first, and a node within.

    A tetrahedron with one node on its own side is cut in a triangle, with two in a quadrangle.
    """
    mask = inside[nodes]
    count = mask.sum(axis=1)
    # Nodes inside first: then the cut runs between the first `count` and the others.
    order = np.argsort(~mask, axis=1, kind="stable")
    sorted_ = np.take_along_axis(nodes, order, axis=1)
    found, core = [], []
    for number, triangles in _CUTS.items():
        own = sorted_[count == number]
        for triangle in triangles:
            found.append(own[:, np.array(triangle)])
            core.append(own[:, 0])
    edges = np.sort(np.concatenate(found), axis=2)
    return edges, np.concatenate(core)


_CUTS = {
    1: (((0, 1), (0, 2), (0, 3)),),
    2: (((0, 2), (0, 3), (1, 3)), ((0, 2), (1, 3), (1, 2))),
    3: (((0, 3), (1, 3), (2, 3)),),
}
"""Triangles of a cut tetrahedron, their corners as edges, by how many nodes lie inside."""
