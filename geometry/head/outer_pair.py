"""The two outer yokes of a head against each other.

They never share a cross, so no touch curve covers them: the stalk in the socket has its limit in
closed form (`geometry.head.travel`), and the rest is asked here, with a certificate like that of a
joint (`geometry.contact.first_touch`): metal of the sliding yoke turns with the center yoke about
the first cross and against the center yoke about the second one, so both turns together say how
fast it can come nearer.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, pi
from typing import Any

import numpy as np

from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.first_touch import BELOW, certify, seen_first
from geometry.contact.moves import Boxes, Motion, Moves, largest, yoke_bounds, yoke_rates
from geometry.contact.row_search import MOST
from geometry.contact.row_tree import row_tree
from geometry.contact.touching import Closeness
from geometry.head.parts import HeadParts
from geometry.head.turning import head_poses, second_spin
from geometry.mesh import Floats, Mesh
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
        X_CS = sliding_in_carrying(carrying, sliding, spin, self.span)
        return self._meshes.nearest(X_CS[:3, :3], X_CS[:3, 3])

    def cut(self, carrying: float, sliding: float, spin: float) -> bool:
        """Return whether the surfaces cut each other, asked as `nearest` is."""
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

    Two joints in a row, x = R1 (d + R2 q), with the center yoke's span d between the crosses. With
    w the turn of each joint and w' its change along the way,
    |x''| <= (w1^2 + w1') (|d| + |q|) + (2 w1 w2 + w2^2 + w2') |q|.
    """

    def __init__(self, span: float, ball: float) -> None:
        self._span, self._ball = span, ball

    def over(self, boxes: Boxes) -> Moves:
        """What the sliding yoke does over boxes of bend and spin."""
        (bend, spin), half = 0.5 * (boxes.low + boxes.high).T, 0.5 * (boxes.high - boxes.low).T
        n, none = len(bend), np.zeros(len(bend))
        f, g = split(self._span, self._ball, bend)
        X = sliding_in_carrying(f, g, spin, self._span)
        rates, sway = self._rates(bend, spin, X[:, :3, :3])
        (f0, g0), (f1, g1) = (split(self._span, self._ball, end) for end in _ends(boxes, 0))
        at_first = Boxes(np.stack([f0, boxes.low[:, 1]], 1), np.stack([f1, boxes.high[:, 1]], 1))
        ratio, least = self._ball / self._span, self._slope(boxes.high[:, 0], g0)
        slope = self._slope(boxes.low[:, 0], g1)
        bow_g = np.maximum(np.tan(g1) * slope**2, ratio * np.sin(boxes.high[:, 0]) / np.cos(g1))
        bow_g *= half[0] ** 2
        go, change = np.stack([(1.0 - least) * half[0], half[1]]), np.stack([bow_g, none])
        w1, dw1, speed1 = yoke_bounds(at_first, go, change)
        turned, bow_s, by_axis = _spin_bounds(at_first, go, bow_g)
        middle = second_spin(f, spin)
        at_second = Boxes(np.stack([g0, middle - turned], 1), np.stack([g1, middle + turned], 1))
        goes, changes = np.stack([slope * half[0], turned]), np.stack([bow_g, bow_s])
        w2, dw2, speed2 = yoke_bounds(at_second, goes, changes)
        share = by_axis[1] / np.where(turned > 0.0, turned, 1.0)
        of_spin = speed2[1] * share
        stray = 0.5 * (w1 * w1 + dw1)
        return Moves(
            turn=np.ascontiguousarray(X[:, :3, :3].reshape(n, 9).T),
            place=np.ascontiguousarray(X[:, :3, 3].T),
            rates=rates * half[:, None],
            sway=sway * half[:, None],
            bow=stray + w1 * w2 + 0.5 * (w2 * w2 + dw2),
            drift=self._span * stray,
            speed=np.array(
                [2.0 * speed1[0] + speed2[0] + speed2[1] - of_spin, 2.0 * speed1[1] + of_spin]
            ),
        )

    def _slope(self, bend: Floats, sliding: Floats) -> Floats:
        """How fast the sliding cross bends with the head, at a bend of the head and of its own."""
        return np.asarray(self._ball / self._span * np.cos(bend) / np.cos(sliding))

    def _rates(self, bend: Floats, spin: Floats, R_CS: Floats) -> tuple[Floats, Floats]:
        """Turn and way of the sliding yoke per radian of bend and spin, in its own frame."""
        f, g = split(self._span, self._ball, bend)
        turn, first = yoke_rates(f, spin)
        _, second = yoke_rates(g, second_spin(f, spin))
        R_SM = np.swapaxes(R_CS, 1, 2) @ turn.T.reshape(-1, 3, 3)
        slope = self._slope(bend, g)
        square = 1.0 - (np.sin(f) * np.cos(spin)) ** 2
        by_bend = np.sin(spin) * np.cos(spin) * np.sin(f) / square * (1.0 - slope)
        about_first = np.stack([first[0] * (1.0 - slope), first[1]])
        about_second = np.stack(
            [second[0] * slope + second[1] * by_bend, second[1] * np.cos(f) / square]
        )
        aside = np.cross(about_first, self._span * np.array([1.0, 0.0, 0.0]), axisa=1, axisc=1)
        rates, sway = (np.einsum("nij,ajn->ain", R_SM, each) for each in (about_first, aside))
        return rates + about_second, sway


def _ends(boxes: Boxes, axis: int) -> tuple[Floats, Floats]:
    return boxes.low[:, axis], boxes.high[:, axis]


def _spin_bounds(boxes: Boxes, go: Floats, change: Floats) -> tuple[Floats, Floats, Floats]:
    """How far the second joint's spin goes over a box at most, how that changes, and by axis.

    go : (2, n) rad, how far the first joint's bend and spin go; change : (n,) how the bend's does.

    With S, c the sine and cosine of bend f, C, s those of spin, D = 1 - S^2 C^2 and the second spin
    t = atan2(C c, -s): t_s = c / D, t_f = s C S / D, and their derivatives.
    """
    S, c = np.sin(boxes.high[:, 0]), np.cos(boxes.low[:, 0])
    s, C = largest(boxes, 0.5 * pi), largest(boxes, 0.0)
    D = 1.0 - (S * C) ** 2
    t_f, t_s = s * C * S / D, c / D
    t_ff, t_ss = C * s * c * (1.0 + (S * C) ** 2) / D**2, 2.0 * c * S * S * C * s / D**2
    t_fs = S * np.maximum(1.0, 2.0 * (c * C) ** 2) / D**2
    h, k = go
    bow = t_ff * h * h + 2.0 * t_fs * h * k + t_ss * k * k + t_f * change
    by_axis = np.stack([t_f * h, t_s * k])
    return by_axis.sum(axis=0), bow, by_axis


class OuterClosing:
    """The outer yokes closing as the head bends, without the stalk, for a search over rows.

    The bend is that of the whole head, the spin that of the yoke with the ball, both rad.
    """

    near, gap = Closeness(), 2.0 * TOL.chord
    """What both meshes may stand out of the metal counts as touching."""
    slack = 1e9
    """mm; the two do not turn about one point, so metal meets other metal at any radius."""
    graze = TOL.graze

    def __init__(self, parts: HeadParts) -> None:
        self.pair = OuterPair(parts, without=("stalk",))
        self.motion = OuterMotion(parts.span, parts.ball)
        self.arm = self.pair.sliding.radius + parts.span
        self.trees = row_tree(self.pair.carrying), row_tree(self.pair.sliding)

    def room(self, first: float, second: float) -> float:
        """What the surfaces are farther apart than the gap at this bend and spin (rad), mm."""
        bends = split(self.pair.span, self.pair.ball, first)
        return self.pair.nearest(*bends, second).distance - self.gap

    def cut(self, first: float, second: float) -> bool:
        """Whether the surfaces cut each other at this bend and spin (rad)."""
        bends = split(self.pair.span, self.pair.ball, first)
        return self.pair.cut(*bends, second)


def split(span: float, ball: float, bend: Any) -> tuple[Any, Any]:
    """Bends (rad) at the carrying and the sliding cross: law of sines in the triangle."""
    sliding = np.arcsin(ball * np.sin(bend) / span)
    return bend - sliding, sliding


def sliding_in_carrying(carrying: Any, sliding: Any, spin: Any, span: float) -> Floats:
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


LOOKS = 8
"""Spins at which it is looked whether the outer yokes touch at all."""


def outer_limit(parts: HeadParts, most: float) -> OuterLimit:
    """Rule out contact of the outer yokes at every spin up to a bend of `most` (rad), or find it.

    The stalk in the socket is not asked: its limit is the head's own.
    """
    closing = OuterClosing(parts)
    touch, target, rows = inf, most, MOST
    spins = np.linspace(0.0, 2.0 * pi, LOOKS, endpoint=False).tolist()
    if any(closing.room(most, spin) < 0.0 for spin in spins):
        # Where they touch is soon told from above; the proof then has less to clear.
        touch = min(bracket.touch for bracket in seen_first(closing, spins, most))
        target = max(0.0, touch - BELOW * TOL.certificate)
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
    return replace(mesh, faces=mesh.faces[kept], labels=mesh.labels[kept])
