"""The two outer yokes of a head against each other.

They never share a cross, so no touch curve covers them: the stalk in the socket has its limit in
closed form (`geometry.head.travel`), and the rest is asked here, with a certificate like that of a
joint (`geometry.contact.first_touch`): metal of the sliding yoke turns with the centre yoke about
the first cross and against the centre yoke about the second one, so both turns together say how
fast it can come nearer.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, pi
from typing import Any

import numpy as np
from numpy.typing import NDArray

from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.first_touch import BELOW, certify
from geometry.contact.moves import Boxes, Motion, Moves
from geometry.contact.row_search import MOST
from geometry.contact.row_tree import RowTree
from geometry.contact.touching import Closeness
from geometry.head.parts import HeadParts
from geometry.head.turning import head_poses
from geometry.mesh import Mesh
from geometry.tolerances import TOL

Array = NDArray[np.float64]

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
        X_CS = sliding_in_carrying(carrying, sliding, spin, self.span)
        return self._meshes.nearest(X_CS[:3, :3], X_CS[:3, 3])

    def cut(self, carrying: float, sliding: float, spin: float) -> bool:
        """Whether the surfaces cut each other; angles in rad as for `nearest`."""
        X_CS = sliding_in_carrying(carrying, sliding, spin, self.span)
        return self._meshes.cut(X_CS[:3, :3], X_CS[:3, 3])

    def surfaces(self, nearest: Nearest) -> tuple[str, str]:
        """Return the names of the surfaces of carrying and sliding yoke that are nearest."""
        return (
            self.carrying.label_of(nearest.triangle_a),
            self.sliding.label_of(nearest.triangle_b),
        )


class OuterMotion(Motion):
    """The sliding yoke in the carrying yoke's frame, by bend of the head and spin (rad).

    It is known by how far metal can move at most, and by no rates.
    """

    def __init__(self, span: float, ball: float) -> None:
        self._span, self._ball = span, ball

    def over(self, boxes: Boxes) -> Moves:
        """What the sliding yoke does over boxes of bend and spin."""
        low, middle, high = (
            split(self._span, self._ball, bend)
            for bend in (boxes.low[:, 0], 0.5 * (boxes.low + boxes.high)[:, 0], boxes.high[:, 0])
        )
        spin, half = 0.5 * (boxes.low + boxes.high)[:, 1], 0.5 * (boxes.high - boxes.low)[:, 1]
        X_CS = sliding_in_carrying(*middle, spin, self._span)
        f, g = high
        df, dg = (
            np.maximum(after - at, at - before)
            for before, at, after in zip(low, middle, high, strict=True)
        )
        by_bend, by_spin = (
            self._turns(f, g, *way) for way in ((df, dg, 0.0 * half), (0.0 * df, 0.0 * dg, half))
        )
        about_first, about_second = by_bend[0] + by_spin[0], by_bend[1] + by_spin[1]
        n = len(spin)
        return Moves(
            turn=np.ascontiguousarray(X_CS[:, :3, :3].reshape(n, 9).T),
            place=np.ascontiguousarray(X_CS[:, :3, 3].T),
            rates=np.zeros((2, 3, n)),
            bow=about_first + about_second,
            drift=self._span * about_first,
            speed=np.array([2.0 * by_bend[0] + by_bend[1], 2.0 * by_spin[0] + by_spin[1]]),
        )

    def _turns(self, f: Array, g: Array, df: Array, dg: Array, half: Array) -> tuple[Array, Array]:
        """How far (rad) it turns about the first and about the second cross at most.

        f, g : bends at both crosses at the far end, where all rates are highest; df, dg : how much
        they change; half : how far the spin does.
        """
        rolls = 0.5 * np.tan(f) * df + half / np.cos(f)
        about_first = np.hypot(1.0, 0.5 * np.tan(f)) * df + np.tan(f) * half
        about_second = np.hypot(1.0, 0.5 * np.tan(g)) * dg + np.tan(g) * rolls
        return about_first, about_second


class OuterClosing:
    """The outer yokes closing as the head bends, without the stalk, for a search over rows.

    The bend is that of the whole head, the spin that of the yoke with the ball, both rad.
    """

    near, gap = Closeness(), 0.0
    slack = 1e9
    """mm; the two do not turn about one point, so metal meets other metal at any radius."""
    graze = 2.0 * TOL.chord
    """What both meshes may stand out of the metal counts as touching."""

    def __init__(self, parts: HeadParts) -> None:
        self.pair = OuterPair(parts, without=("stalk",))
        self.motion = OuterMotion(parts.span, parts.ball)
        self.trees = RowTree.of(self.pair.carrying), RowTree.of(self.pair.sliding)

    def seen(self, first: float, second: float) -> bool:
        """Whether the surfaces cut each other at this bend and spin (rad)."""
        return self.pair.cut(*split(self.pair.span, self.pair.ball, first), second)


def split(span: float, ball: float, bend: Any) -> tuple[Any, Any]:
    """Bends (rad) at the carrying and the sliding cross: law of sines in the triangle."""
    sliding = np.arcsin(ball * np.sin(bend) / span)
    return bend - sliding, sliding


def sliding_in_carrying(carrying: Any, sliding: Any, spin: Any, span: float) -> Array:
    """Pose of the sliding yoke in the carrying yoke's frame, (..., 4, 4), mm; angles in rad."""
    poses = head_poses(carrying, sliding, spin, span)
    return np.asarray(np.linalg.inv(poses.X_H_driving) @ poses.X_H_driven)


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
    touch, target, rows = inf, most, MOST
    while True:
        proved = certify(closing, 0.0, 2.0 * pi, target, rows)
        if proved.hit is not None:
            touch = min(touch, proved.hit[1].touch)
        if proved.hit is None or not proved.finished:
            return OuterLimit(proved.clear, touch)
        target, rows = max(0.0, touch - BELOW * TOL.certificate), rows - proved.rows


def _less(mesh: Mesh, without: Sequence[str]) -> Mesh:
    """Return the mesh, open where it loses the triangles of some surfaces."""
    left_out = [i for i, name in enumerate(mesh.label_names) if name in without]
    kept = ~np.isin(mesh.labels, left_out)
    return Mesh(mesh.vertices, mesh.faces[kept], mesh.labels[kept], mesh.label_names, mesh.chord)
