"""The two outer yokes of a head against each other.

They never share a cross, so no touch curve covers them: the stalk in the socket has its limit in
closed form (`geometry.head.travel`), and the rest is asked here at poses, by sampling. That is a
check at those poses and no certificate.
"""

from collections.abc import Sequence

import numpy as np

from geometry.distance import MeshPair, Nearest
from geometry.head.parts import HeadParts
from geometry.head.turning import head_poses
from geometry.mesh import Mesh

SOCKET = "socket"


class OuterPair:
    """Both outer yokes of a head, ready to be asked for their distance; the socket is hollow.

    without : names of surfaces to leave out of both
    """

    def __init__(self, parts: HeadParts, without: Sequence[str] = ()) -> None:
        self.span = parts.span
        self.carrying = _less(parts.carrying.contact, without)
        solid, hollow = parts.sliding.contact, parts.sliding.parts[SOCKET]
        self.sliding = _less(Mesh.join([_less(solid, [SOCKET]), hollow]), without)
        self._meshes = MeshPair(self.carrying, self.sliding)

    def nearest(self, carrying: float, sliding: float, spin: float) -> Nearest:
        """Return the nearest points of carrying and sliding yoke, in the carrying yoke's frame.

        carrying, sliding : rad, bends at the two crosses; spin : rad, of the carrying yoke
        """
        poses = head_poses(carrying, sliding, spin, self.span)
        X_CS = np.linalg.inv(poses.X_H_driving) @ poses.X_H_driven
        return self._meshes.nearest(X_CS[:3, :3], X_CS[:3, 3])

    def surfaces(self, nearest: Nearest) -> tuple[str, str]:
        """Return the names of the surfaces of carrying and sliding yoke that are nearest."""
        return (
            self.carrying.label_of(nearest.triangle_a),
            self.sliding.label_of(nearest.triangle_b),
        )


def _less(mesh: Mesh, without: Sequence[str]) -> Mesh:
    """Return the mesh, open where it loses the triangles of some surfaces."""
    left_out = [i for i, name in enumerate(mesh.label_names) if name in without]
    kept = ~np.isin(mesh.labels, left_out)
    return Mesh(mesh.vertices, mesh.faces[kept], mesh.labels[kept], mesh.label_names, mesh.chord)
