"""The two outer yokes of a head against each other.

They never share a cross, so no touch curve covers them: the stalk in the socket has its limit in
closed form (`geometry.head.travel`), and the rest is asked here, with a certificate like that of a
joint (`geometry.contact.closing`): metal of the sliding yoke turns with the centre yoke about the
first cross and against the centre yoke about the second one, so both turns together say how fast it
can come nearer.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, cos, inf, pi, sin, tan

import numpy as np

from geometry.contact.closing import certify
from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.touching import Closeness
from geometry.head.parts import HeadParts
from geometry.head.turning import head_poses
from geometry.joint import turn_per_bend, turn_per_spin
from geometry.mesh import Mesh
from geometry.seeking import edge
from geometry.tolerances import TOL

SOCKET = "socket"


class OuterPair:
    """Both outer yokes of a head, ready to be asked for their distance; the socket is hollow.

    without : names of surfaces to leave out of both
    """

    def __init__(self, parts: HeadParts, without: Sequence[str] = ()) -> None:
        self.span, self.ball = parts.span, parts.ball
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

    def cut(self, carrying: float, sliding: float, spin: float) -> bool:
        """Whether the surfaces cut each other; angles in rad as for `nearest`."""
        poses = head_poses(carrying, sliding, spin, self.span)
        X_CS = np.linalg.inv(poses.X_H_driving) @ poses.X_H_driven
        return self._meshes.cut(X_CS[:3, :3], X_CS[:3, 3])

    def surfaces(self, nearest: Nearest) -> tuple[str, str]:
        """Return the names of the surfaces of carrying and sliding yoke that are nearest."""
        return (
            self.carrying.label_of(nearest.triangle_a),
            self.sliding.label_of(nearest.triangle_b),
        )


class OuterClosing:
    """The outer yokes closing as the head bends, without the stalk; see `geometry.contact.closing`.

    The bend is that of the whole head, the spin that of the yoke with the ball, both rad.
    """

    def __init__(self, parts: HeadParts) -> None:
        self.pair = OuterPair(parts, without=("stalk",))
        self.near = Closeness()
        self._asked = 0
        self._radius = float(np.linalg.norm(self.pair.sliding.vertices, axis=1).max())

    def split(self, bend: float) -> tuple[float, float]:
        """Bends (rad) at the carrying and the sliding cross: law of sines in the triangle."""
        sliding = asin(self.pair.ball * sin(bend) / self.pair.span)
        return bend - sliding, sliding

    @property
    def graze(self) -> float:
        """Room (mm) that counts as touching: what both meshes may stand out of the metal.

        Four times as much with every `_PATIENCE` queries, so that bodies that graze over wide
        ranges of bend and spin come to an end, on the safe side.
        """
        return 2.0 * TOL.chord * 4.0 ** (self._asked // _PATIENCE)

    def nearest(self, bend: float, spin: float) -> Nearest:
        """Nearest points, in the carrying yoke's frame."""
        self._asked += 1
        return self.pair.nearest(*self.split(bend), spin)

    def touches(self, bend: float, spin: float) -> bool:
        """Whether the surfaces cut each other."""
        return self.pair.cut(*self.split(bend), spin)

    def clear_to(self, room: float, bend: float, half_width: float = 0.0) -> float:
        """Bend (rad) up to which the room (mm) seen at `bend` rules out contact.

        For every spin within `half_width` (rad), all rates taken at the far bend.
        """
        clear, _ = edge(
            lambda far: self._comes(bend, far, half_width) <= room,
            bend,
            bend + room / self._radius,
            halvings=_HALVINGS,
        )
        return clear

    def _comes(self, bend: float, far: float, half_width: float) -> float:
        """How far (mm) metal of the sliding yoke can move against the carrying yoke."""
        (f, g), (f0, g0) = self.split(far), self.split(bend)
        rolls = 0.5 * tan(f) * (f - f0) + half_width / cos(f)
        about_first = turn_per_bend(f) * (f - f0) + turn_per_spin(f) * half_width
        about_second = turn_per_bend(g) * (g - g0) + turn_per_spin(g) * rolls
        return (self.pair.span + self._radius) * about_first + self._radius * about_second


@dataclass(frozen=True)
class OuterLimit:
    """Up to which bend (rad) of the head its outer yokes are certified apart; where they touch.

    touch : inf where they do not up to what was asked.
    """

    clear: float
    touch: float


def outer_limit(parts: HeadParts, most: float) -> OuterLimit:
    """Rule out contact of the outer yokes at every spin up to a bend of `most` (rad), or find it.

    The stalk in the socket is not asked: its limit is the head's own.
    """
    closing = OuterClosing(parts)
    touch, target = inf, most
    while True:
        hit = certify(closing, 0.0, 2.0 * pi, target)
        if hit is None:
            return OuterLimit(target, touch)
        touch = min(touch, hit[1].touch)
        target = max(0.0, touch - 0.9 * TOL.certificate)


_PATIENCE = 60_000
"""Distance queries, some fifteen seconds: enough for outer yokes that keep 1 mm all along. The
heads of the catalogue keep more than 3 mm and need some 6,000."""

_HALVINGS = 8
"""The step is found to 1/256 of its length; always from below, so it stays safe."""


def _less(mesh: Mesh, without: Sequence[str]) -> Mesh:
    """Return the mesh, open where it loses the triangles of some surfaces."""
    left_out = [i for i, name in enumerate(mesh.label_names) if name in without]
    kept = ~np.isin(mesh.labels, left_out)
    return Mesh(mesh.vertices, mesh.faces[kept], mesh.labels[kept], mesh.label_names, mesh.chord)
