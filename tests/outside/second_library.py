"""Meshes for Coal, a collision library that shares no code of ours with the detector's."""

import coal
import numpy as np

from geometry.mesh import Mesh


def coal_mesh(mesh: Mesh) -> coal.BVHModelOBBRSS:
    """A bounding-volume tree of Coal over the triangles of a mesh."""
    model = coal.BVHModelOBBRSS()
    model.beginModel(len(mesh.faces), len(mesh.vertices))
    for vertex in mesh.vertices:
        model.addVertex(vertex)
    for a, b, c in mesh.faces.tolist():
        model.addTriangle(*(mesh.vertices[i] for i in (a, b, c)))
    model.endModel()
    return model


def coal_distance(a: object, b: object, R_AB: np.ndarray) -> float:
    """Distance of two Coal meshes, b turned by R_AB in the frame of a."""
    still, moved = coal.Transform3s.Identity(), coal.Transform3s(R_AB, np.zeros(3))
    return float(coal.distance(a, still, b, moved, coal.DistanceRequest(), coal.DistanceResult()))


def coal_cuts(a: object, b: object, R_AB: np.ndarray) -> bool:
    """Whether two Coal meshes cut each other, b turned by R_AB in the frame of a."""
    still, moved = coal.Transform3s.Identity(), coal.Transform3s(R_AB, np.zeros(3))
    request, result = coal.CollisionRequest(), coal.CollisionResult()
    return bool(coal.collide(a, still, b, moved, request, result))
