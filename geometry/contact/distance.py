"""Distance between two meshes: the only module that talks to FCL.

FCL never answers with a negative distance, says 0 for any overlap, and takes a body wholly
inside another for a free one; so a distance here speaks of *surfaces*. Whether one solid holds
another is asked of `geometry.contact.containment`.
"""

from dataclasses import dataclass

import fcl
import numpy as np
from numpy.typing import NDArray

from geometry.contact.naming import surface_at
from geometry.errors import MeshError
from geometry.mesh import Mesh, once_a_mesh
from geometry.tolerances import TOL

Array = NDArray[np.float64]


MOST_CUTS = 2000
"""Pairs of triangles listed of two meshes deep in each other."""


@dataclass(frozen=True)
class Nearest:
    """The smallest distance of two surfaces and where it is.

    Attributes
    ----------
    distance : mm, 0 when the surfaces cut each other.
    point_a, point_b : (3,) mm, the two nearest points, both in the frame of `a`.
        Meaningless when `distance` is 0.
    triangle_a, triangle_b : index of the triangles that carry them.
    """

    distance: float
    point_a: Array
    point_b: Array
    triangle_a: int
    triangle_b: int


class MeshPair:
    """Two meshes made ready for many distance queries at different relative poses."""

    def __init__(self, a: Mesh, b: Mesh) -> None:
        self.a, self.b = a, b
        self._a = fcl.CollisionObject(_bvh(a), fcl.Transform())
        self._b = fcl.CollisionObject(_bvh(b), fcl.Transform())
        self._request = fcl.DistanceRequest(enable_nearest_points=True)
        self._yes_no = fcl.CollisionRequest(num_max_contacts=1, enable_contact=False)

    def nearest(self, R_AB: Array, p_AB: Array | None = None) -> Nearest:
        """Nearest points with `b` posed in the frame of `a`.

        Parameters
        ----------
        R_AB : (3, 3) rotation of b's frame in a's frame.
        p_AB : (3,) mm, origin of b's frame in a's frame; the origin when left out.

        Raises
        ------
        MeshError
            When the distance of the two witness points is not the distance reported.
        """
        self._place(R_AB, p_AB)
        result = fcl.DistanceResult()
        distance = max(0.0, float(fcl.distance(self._a, self._b, self._request, result)))
        point_a, point_b = (np.asarray(p, float) for p in result.nearest_points)
        if distance > 0.0:
            between = float(np.linalg.norm(point_a - point_b))
            if abs(between - distance) > TOL.witness:
                raise MeshError(
                    f"distance query: reported {distance:.9f} mm but its witness points are "
                    f"{between:.9f} mm apart; expected the same"
                )
        return Nearest(distance, point_a, point_b, int(result.b1), int(result.b2))

    def cut(self, R_AB: Array, p_AB: Array | None = None) -> bool:
        """Whether the two surfaces cut each other (about ten times cheaper than `nearest`)."""
        self._place(R_AB, p_AB)
        return bool(fcl.collide(self._a, self._b, self._yes_no, fcl.CollisionResult()))

    def cut_triangles(self, R_AB: Array, p_AB: Array | None = None) -> tuple[int, int] | None:
        """Indices of two triangles that cut each other, or None."""
        self._place(R_AB, p_AB)
        result = fcl.CollisionResult()
        request = fcl.CollisionRequest(num_max_contacts=1, enable_contact=True)
        if not fcl.collide(self._a, self._b, request, result):
            return None
        return int(result.contacts[0].b1), int(result.contacts[0].b2)

    def all_cuts(self, R_AB: Array, most: int = MOST_CUTS) -> list[tuple[int, int]]:
        """Indices of all pairs of triangles that cut each other, up to so many."""
        self._place(R_AB, None)
        result = fcl.CollisionResult()
        request = fcl.CollisionRequest(num_max_contacts=most, enable_contact=True)
        fcl.collide(self._a, self._b, request, result)
        return [(int(each.b1), int(each.b2)) for each in result.contacts]

    def surfaces(self, nearest: Nearest, R_AB: Array) -> tuple[str, str]:
        """Names of the surfaces at the nearest points, b turned by R_AB in the frame of a."""
        return (
            surface_at(self.a, nearest.triangle_a, nearest.point_a),
            surface_at(self.b, nearest.triangle_b, nearest.point_b @ R_AB),
        )

    def _place(self, R_AB: Array, p_AB: Array | None) -> None:
        shift = np.zeros(3) if p_AB is None else np.asarray(p_AB, float)
        self._b.setTransform(fcl.Transform(np.asarray(R_AB, float), shift))


@once_a_mesh
def _bvh(mesh: Mesh) -> fcl.BVHModel:
    if not len(mesh.faces):
        raise MeshError("a mesh with no triangles came; expected at least one")
    model = fcl.BVHModel()
    model.beginModel(len(mesh.faces), len(mesh.vertices))
    model.addSubModel(np.asarray(mesh.vertices, float), np.asarray(mesh.faces))
    model.endModel()
    return model
