"""Symmetries of a mesh about its axes, which let one quarter of a turn speak for the whole.

A symmetry is claimed only when the mirrored *surface* is the surface itself: every mirrored
vertex is a vertex or lies on the surface, and every mirrored triangle is a triangle or lies in
the plane of one (flat faces may be cut into triangles differently on either side).
"""

import numpy as np
from numpy.typing import NDArray

from geometry.contact.triangles import distance_to_origin
from geometry.mesh import Mesh
from geometry.tolerances import TOL

Array = NDArray[np.float64]

MIRROR_Y = np.array([1.0, -1.0, 1.0])
MIRROR_Z = np.array([1.0, 1.0, -1.0])
HALF_TURN_X = np.array([1.0, -1.0, -1.0])


def is_symmetric(mesh: Mesh, flip: Array) -> bool:
    """Whether `mesh` is unchanged when its coordinates are multiplied by `flip`, (3,) of +-1."""
    image = mesh.vertices * flip
    lost = image[~_near(mesh.vertices, image)]
    if len(lost) > _MOST_LOST or not all(_on_surface(mesh, point) for point in lost):
        return False
    centres = mesh.triangles.mean(axis=1)
    odd = ~_near(centres, centres * flip)
    if not odd.any():
        return True
    planes = _planes(mesh.triangles, np.ones(3))
    return bool(_near(planes, _planes(mesh.triangles[odd], flip), 1e3 * TOL.witness).all())


def _planes(triangles: Array, flip: Array) -> Array:
    """Plane of each mirrored triangle as outward unit normal and offset, (m, 4)."""
    edge = triangles[:, 1:] - triangles[:, :1]
    normal = np.cross(edge[:, 0], edge[:, 1])
    size = np.linalg.norm(normal, axis=-1, keepdims=True)
    normal = np.where(size > 0.0, normal / np.where(size > 0.0, size, 1.0), 0.0)
    offset = np.einsum("ij,ij->i", normal, triangles.mean(axis=1))
    return np.column_stack([normal * flip, offset])


def _on_surface(mesh: Mesh, point: Array) -> bool:
    return bool(distance_to_origin(mesh.triangles - point).min() <= TOL.witness)


def _near(cloud: Array, asked: Array, within: float = TOL.witness) -> NDArray[np.bool_]:
    """Which of the asked points have one of the cloud within reach.

    Sorted along one direction, points within reach of each other lie within reach there, and few
    others do.
    """
    along = _ALONG[: cloud.shape[1]]
    places = cloud @ along
    order = np.argsort(places)
    # Asked in order, which spares the search its leaps.
    wanted = asked @ along
    back = np.argsort(wanted)
    places, asked, wanted = places[order], asked[back], wanted[back]
    room = within + _ROUNDING
    first = np.searchsorted(places, wanted - room)
    last = np.searchsorted(places, wanted + room, side="right")
    found = np.zeros(len(asked), bool)
    left = np.flatnonzero(first < last)
    while len(left):
        away = cloud[order[first[left]]] - asked[left]
        found[left] = np.einsum("ij,ij->i", away, away) <= within * within
        first[left] += 1
        left = left[~found[left] & (first[left] < last[left])]
    answer = np.empty_like(found)
    answer[back] = found
    return answer


_ALONG = np.array([0.5257, 0.4382, 0.6071, 0.3961])
"""A direction of less than unit length along which symmetric parts have few points side by side."""

_ROUNDING = 1e-9
"""mm; of places along it."""

_MOST_LOST = 100
"""Vertices without a mirror image that are worth looking up on the surface one by one; stray
vertices on flat faces are few, and a scan has thousands."""
