"""Normals and edges that make a triangle mesh look like the machined part it stands for.

A mesh from booleans has round surfaces in facets, long slivers, and true corners. Corners sharper
than `CORNER` are shown as corners with a drawn edge; everything else is shaded as round.
"""

from math import cos, radians

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from geometry.mesh import Mesh, once_a_mesh
from viewer.draw.camera import Floats

CORNER = radians(30.0)
"""Facets of a round surface meet at less (16 deg on a 5 mm radius at the chord error of the
meshes), the corners of a machined part at more."""

FAINT, PLAIN = radians(26.0), radians(42.0)
"""A drawn edge is somewhere as sharp as the second, and nowhere less sharp than the first."""

SLIVER = 1e-5
"""mm2. A triangle smaller than this has no direction worth showing."""

Indices = NDArray[np.int64]


def corner_normals(mesh: Mesh) -> Floats:
    """Normal at each corner of each triangle, (m, 3, 3): round surfaces round, corners sharp.

    The mean of the triangles around the corner's vertex that face within `CORNER` of its own,
    weighted with their angle there, so that it does not depend on how a face is cut up.
    """
    faces = mesh.faces.astype(np.int64)
    normals, _ = _facing(mesh)
    corner = faces.reshape(-1)
    face = np.repeat(np.arange(len(faces)), 3)
    order = np.argsort(corner, kind="stable")
    count = np.bincount(corner, minlength=len(mesh.vertices))
    first = np.cumsum(count) - count
    around = count[corner]
    own = np.repeat(np.arange(len(corner)), around)
    step = np.arange(len(own)) - np.repeat(np.cumsum(around) - around, around)
    other = order[first[corner[own]] + step]
    alike = np.einsum("ij,ij->i", normals[face[own]], normals[face[other]]) > cos(CORNER)
    weight = _angles(mesh).reshape(-1)[other] * alike
    total = np.stack(
        [np.bincount(own, weight * normals[face[other], k], len(corner)) for k in range(3)], -1
    )
    length = np.linalg.norm(total, axis=-1, keepdims=True)
    blank = length[:, 0] < 1e-12
    total[blank] = normals[face[blank]]
    length[blank] = 1.0
    return np.asarray((total / length).reshape(-1, 3, 3))


@once_a_mesh
def sharp_edges(mesh: Mesh) -> Floats:
    """Edges of corners, and free edges of an open mesh, (n, 2, 3) mm.

    A corner that fades into a round surface is followed as far as `FAINT`, but a place that is
    nowhere sharper than `PLAIN` is no corner.
    """
    ends, sides = _edges(mesh)
    normals, sound = _facing(mesh)
    a, b = sides.T
    alike = np.einsum("ij,ij->i", normals[a], normals[b])
    real = sound[a] & sound[b]
    faint = ((alike < cos(FAINT)) & real) | (a == b)
    plain = ((alike < cos(PLAIN)) & real) | (a == b)
    count = len(mesh.vertices)
    links = coo_array((np.ones(faint.sum()), tuple(ends[faint].T)), shape=(count, count))
    _, chain = connected_components(links, directed=False)
    kept = np.zeros(count, dtype=bool)
    kept[chain[ends[plain, 0]]] = True
    return np.asarray(mesh.vertices[ends[faint & kept[chain[ends[:, 0]]]]])


def outline(mesh: Mesh, toward: Floats) -> Floats:
    """Edges where the mesh turns away from an eye in the direction `toward`, (n, 2, 3) mm.

    toward : (3,) in the frame of the mesh.
    """
    ends, sides = _edges(mesh)
    normals, sound = _facing(mesh)
    facing = normals @ toward > 0.0
    a, b = sides.T
    wanted = (facing[a] != facing[b]) & sound[a] & sound[b]
    return np.asarray(mesh.vertices[ends[wanted]])


def _edges(mesh: Mesh) -> tuple[Indices, Indices]:
    """Vertices of each edge and the two triangles beside it (twice the same on a free edge)."""
    faces = mesh.faces.astype(np.int64)
    ends = np.sort(faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    face = np.repeat(np.arange(len(faces)), 3)
    key = ends[:, 0] * len(mesh.vertices) + ends[:, 1]
    order = np.argsort(key, kind="stable")
    key, ends, face = key[order], ends[order], face[order]
    _, first, count = np.unique(key, return_index=True, return_counts=True)
    last = first + np.minimum(count, 2) - 1
    return ends[first], np.stack([face[first], face[last]], axis=-1)


def _facing(mesh: Mesh) -> tuple[Floats, NDArray[np.bool_]]:
    """Unit normal of each triangle, and whether it is large enough to have one."""
    length = np.linalg.norm(mesh.area_vectors, axis=-1)
    return mesh.area_vectors / np.maximum(length, 1e-30)[:, None], length > SLIVER


def _angles(mesh: Mesh) -> Floats:
    """Angle of each triangle at each of its corners, (m, 3) rad."""
    corners = mesh.triangles
    sides = np.roll(corners, -1, axis=1) - corners
    back = -np.roll(sides, 1, axis=1)
    across = np.linalg.norm(np.cross(sides, back), axis=-1)
    return np.asarray(np.arctan2(across, np.einsum("ijk,ijk->ij", sides, back)))
