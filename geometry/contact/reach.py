"""Which part of two bodies turning about a common point can touch at all.

Turning about the cross centre keeps each point's distance from it, so two points can only meet
when they lie on the same sphere about the centre. Far out, each yoke is nothing but its own
shaft: beyond some radius all its metal lies inside a cone about its own axis, and two cones
whose half angles leave room for the bend never meet. So only the metal inside that radius, the
*reach*, needs to be asked for distances, and no point of it moves faster than reach times the
rate of turn. Own derivation.

For coming as near as a gap the same holds with a little more of both: two points of the cones at
an angle d beyond that radius r are at least 2 r sin(d / 2) apart, and a point farther out than the
other by the gap is out of its reach. So it is the metal inside r plus the gap that counts.
"""

from math import asin, pi

import numpy as np
from numpy.typing import NDArray

from geometry.contact.triangles import distance_to_origin, dot
from geometry.mesh import Mesh, once_a_mesh
from geometry.seeking import edge

Array = NDArray[np.float64]


@once_a_mesh
def nearness(mesh: Mesh) -> Array:
    """Distance of each triangle from the origin, (m,) mm."""
    return distance_to_origin(mesh.triangles)


def reach(a: Mesh, b: Mesh, bend_limit: float, gap: float = 0.0) -> float:
    """Smallest radius (mm) outside of which `a` and `b` cannot touch up to `bend_limit` (rad).

    With a gap (mm): outside of which neither has a point that comes so near to the other.

    Both meshes are in their yoke frames: x along the own shaft away from the cross.
    """
    inner, outer = common_radii(a, b)
    room = pi - bend_limit

    one, other = _outskirts(a), _outskirts(b)

    def apart(radius: float) -> bool:
        angle = 2.0 * asin(min(1.0, 0.5 * gap / radius)) if radius > 0.0 else pi
        return one.cone_beyond(radius) + other.cone_beyond(radius) + angle < room

    if not apart(0.999 * outer):
        return outer + gap
    outer, _ = edge(apart, outer, inner, 0.05)
    return outer + gap


def common_radii(a: Mesh, b: Mesh) -> tuple[float, float]:
    """Radii (mm) between which both bodies have metal; the outer at least the inner.

    Taken no smaller than this, a reach leaves something of each body to ask.
    """
    inner = max(float(nearness(mesh).min()) for mesh in (a, b))
    return inner, max(inner, min(a.radius, b.radius))


class Outskirts:
    """The metal of a body by its distance from the cross centre."""

    def __init__(self, mesh: Mesh) -> None:
        self._radius = np.linalg.norm(mesh.vertices, axis=-1)
        edges = np.sort(mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
        steep = np.ptp(self._radius[edges], axis=1) > 0.0
        self._edges = edges[steep]
        self._vertices = mesh.vertices
        outward = np.argsort(-self._radius)
        self._sorted = -self._radius[outward]
        self._widest = np.maximum.accumulate(_angle(mesh.vertices[outward]))

    def cone_beyond(self, radius: float) -> float:
        """Half angle (rad) of the cone about +x that holds all metal farther out than `radius`.

        The metal of a triangle outside the sphere lies in the hull of its outside corners and of
        the points where its edges cross the sphere, and a cone of up to 90 deg is convex, so the
        largest angle is found at one of those points. Metal at more than 90 deg counts as pi.
        """
        count = int(np.searchsorted(self._sorted, -radius))
        angle = float(self._widest[count - 1]) if count else 0.0
        far = self._radius[self._edges] > radius
        ends = self._vertices[self._edges[far[:, 0] != far[:, 1]]]
        if len(ends):
            p, d = ends[:, 0], ends[:, 1] - ends[:, 0]
            a, b, c = dot(d, d), dot(p, d), dot(p, p) - radius**2
            root = np.sqrt(np.maximum(b * b - a * c, 0.0))
            for t in ((-b - root) / a, (-b + root) / a):
                inside = (t >= 0.0) & (t <= 1.0)
                crossing = p[inside] + t[inside, None] * d[inside]
                angle = max(angle, float(_angle(crossing).max(initial=0.0)))
        return angle if angle < 0.5 * pi else pi


_outskirts = once_a_mesh(Outskirts)


@once_a_mesh
def _parts(_mesh: Mesh) -> dict[float, Mesh]:
    return {}


def within(mesh: Mesh, radius: float) -> Mesh:
    """The triangles of `mesh` that come as near to the origin as `radius`; an open surface.

    The same radius gives the same mesh.
    """
    parts = _parts(mesh)
    if radius not in parts:
        parts[radius] = _cut_off(mesh, radius)
    return parts[radius]


def _cut_off(mesh: Mesh, radius: float) -> Mesh:
    near = nearness(mesh) <= radius
    faces = mesh.faces[near]
    used, renumbered = np.unique(faces, return_inverse=True)
    return Mesh(
        mesh.vertices[used],
        renumbered.reshape(faces.shape).astype(np.int32),
        mesh.labels[near],
        mesh.label_names,
        mesh.chord,
    )


def _angle(points: Array) -> Array:
    """Angle (rad) of each point, (n, 3), from +x as seen from the origin."""
    return np.asarray(np.arctan2(np.linalg.norm(points[:, 1:], axis=-1), points[:, 0]))
