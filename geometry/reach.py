"""Which part of two bodies turning about a common point can touch at all.

Turning about the cross centre keeps each point's distance from it, so two points can only meet
when they lie on the same sphere about the centre. Far out, each yoke is nothing but its own
shaft: beyond some radius all its metal lies inside a cone about its own axis, and two cones
whose half angles leave room for the bend never meet. So only the metal inside that radius, the
*reach*, needs to be asked for distances, and no point of it moves faster than reach times the
rate of turn. Own derivation.
"""

from math import pi

import numpy as np
from numpy.typing import NDArray

from geometry.mesh import Mesh
from geometry.triangles import distance_to_origin, dot

Array = NDArray[np.float64]


def reach(a: Mesh, b: Mesh, bend_limit: float) -> float:
    """Smallest radius (mm) outside of which `a` and `b` cannot touch up to `bend_limit` (rad).

    Both meshes are in their yoke frames: x along the own shaft away from the cross.
    """
    inner, outer = common_radii(a, b)
    room = pi - bend_limit

    def apart(radius: float) -> bool:
        return cone_beyond(a, radius) + cone_beyond(b, radius) < room

    if not apart(0.999 * outer):
        return outer
    while outer - inner > 0.05:
        middle = 0.5 * (inner + outer)
        if apart(middle):
            outer = middle
        else:
            inner = middle
    return outer


def common_radii(a: Mesh, b: Mesh) -> tuple[float, float]:
    """Radii (mm) between which both bodies have metal; the outer at least the inner.

    Taken no smaller than this, a reach leaves something of each body to ask.
    """
    inner = max(float(distance_to_origin(mesh.triangles).min()) for mesh in (a, b))
    return inner, max(inner, min(a.radius, b.radius))


def cone_beyond(mesh: Mesh, radius: float) -> float:
    """Half angle (rad) of the cone about +x that holds all metal farther out than `radius`.

    The metal of a triangle outside the sphere lies in the hull of its outside corners and of
    the points where its edges cross the sphere, and a cone of up to 90 deg is convex, so the
    largest angle is found at one of those points. Metal at more than 90 deg counts as pi.
    """
    ends = mesh.vertices[_edges(mesh)]
    far = np.linalg.norm(ends, axis=-1) > radius
    crossing = ends[far[:, 0] != far[:, 1]]
    points = [mesh.vertices[np.linalg.norm(mesh.vertices, axis=-1) > radius]]
    if len(crossing):
        p, d = crossing[:, 0], crossing[:, 1] - crossing[:, 0]
        a, b, c = dot(d, d), dot(p, d), dot(p, p) - radius**2
        root = np.sqrt(np.maximum(b * b - a * c, 0.0))
        for t in ((-b - root) / a, (-b + root) / a):
            inside = (t >= 0.0) & (t <= 1.0)
            points.append(p[inside] + t[inside, None] * d[inside])
    cloud = np.concatenate(points)
    if not len(cloud):
        return 0.0
    angle = float(np.max(np.arctan2(np.linalg.norm(cloud[:, 1:], axis=-1), cloud[:, 0])))
    return angle if angle < 0.5 * pi else pi


def within(mesh: Mesh, radius: float) -> Mesh:
    """The triangles of `mesh` that come as near to the origin as `radius`; an open surface."""
    near = distance_to_origin(mesh.triangles) <= radius
    faces = mesh.faces[near]
    used, renumbered = np.unique(faces, return_inverse=True)
    return Mesh(
        mesh.vertices[used],
        renumbered.reshape(faces.shape).astype(np.int32),
        mesh.labels[near],
        mesh.label_names,
        mesh.chord,
    )


def _edges(mesh: Mesh) -> NDArray[np.int32]:
    return np.asarray(mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2))
