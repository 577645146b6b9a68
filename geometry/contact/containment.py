"""Whether one closed solid holds points of another.

A distance query speaks of surfaces and calls a body that sits wholly inside another free. The
winding number (solid angle over 4 pi) tells the difference, for any closed mesh.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.mesh import Mesh

Array = NDArray[np.float64]


def winding_number(mesh: Mesh, points: ArrayLike) -> Array:
    """How often the closed `mesh` winds around each point: 1 inside, 0 outside.

    points : (..., 3) mm, in the frame of the mesh. Returns (...).
    The solid angle of a triangle is that of [VAN-OOSTEROM, from memory].
    """
    at = np.asarray(points, float)
    corner = mesh.triangles - at[..., None, None, :]
    length = np.linalg.norm(corner, axis=-1)
    a, b, c = (corner[..., i, :] for i in range(3))
    la, lb, lc = (length[..., i] for i in range(3))
    triple = np.einsum("...i,...i->...", a, np.cross(b, c))
    below = (
        la * lb * lc
        + np.einsum("...i,...i->...", a, b) * lc
        + np.einsum("...i,...i->...", b, c) * la
        + np.einsum("...i,...i->...", c, a) * lb
    )
    return np.asarray(np.sum(2.0 * np.arctan2(triple, below), axis=-1) / (4.0 * np.pi))


def holds(mesh: Mesh, points: ArrayLike) -> NDArray[np.bool_]:
    """Whether each point, (..., 3) mm, lies inside the closed `mesh`."""
    return np.asarray(winding_number(mesh, points) > 0.5)


def one_point_a_shell(mesh: Mesh) -> Array:
    """One vertex of each connected piece of the mesh, (n, 3) mm."""
    shell = np.arange(len(mesh.vertices))
    one, other = mesh.faces[:, :2].ravel(), mesh.faces[:, 1:].ravel()
    # Each corner takes the lowest number next to it, then that number's own, until none changes.
    while True:
        lowest = np.minimum(shell[one], shell[other])
        np.minimum.at(shell, shell[one], lowest)
        np.minimum.at(shell, shell[other], lowest)
        shell = shell[shell]
        if np.array_equal(shell[one], shell[other]):
            break
    return np.asarray(mesh.vertices[np.unique(shell[mesh.faces])])


def nested(a: Mesh, b: Mesh, R_AB: ArrayLike) -> bool:
    """Whether a piece of one closed mesh lies inside the other, `b` turned by R_AB (3, 3).

    Asked where the surfaces do not cut each other, a yes means that one body sits in the other.
    """
    R = np.asarray(R_AB, float)
    return bool(
        holds(a, one_point_a_shell(b) @ R.T).any() or holds(b, one_point_a_shell(a) @ R).any()
    )
