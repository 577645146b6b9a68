"""How much room a joint has: the gap at one pose, and the smallest over a whole turn."""

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from math import inf, isnan

import numpy as np
from numpy.typing import NDArray

from geometry.contact.distance import Nearest
from geometry.contact.first_touch import CELL
from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.pair import DRIVING, Pair, SwingingPair
from geometry.contact.row_search import Stretches, search
from geometry.contact.row_tree import RowTree, row_tree
from geometry.joint import rotations, turn_per_spin
from geometry.tolerances import TOL

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Gap:
    """The smallest room between the bodies of a joint.

    Attributes
    ----------
    distance : mm, 0 when bodies overlap.
    overlaps : whether bodies overlap, by cutting surfaces or by one holding the other.
    bodies, surfaces : names of the two bodies and of the nearest surface on each.
    points : (2, 3) mm, the nearest points in the joint frame J; where bodies overlap, a pair of
        points in the cut.
    bend, spin : rad, the pose.
    """

    distance: float
    overlaps: bool
    bodies: tuple[str, str]
    surfaces: tuple[str, str]
    points: Array
    bend: float
    spin: float


def gap_at(joint: ClosingJoint, bend: float, spin: float) -> Gap:
    """Gap at one bend and spin, rad."""
    gaps = [_pair_gap(joint, pair, bend, spin) for pair in joint.pairs]
    return min(gaps, key=lambda gap: (not gap.overlaps, gap.distance))


def smallest_gap(joint: ClosingJoint, bend: float) -> Gap:
    """Smallest gap over a whole turn at this bend (rad).

    True to `TOL.gap`, or to `TOL.gap_share` of it where there is plenty of room.

    What is seen at some spins, and narrowed down between them, is proved to be the least by a
    search over rows (`geometry.contact.row_search`), or beaten by what that comes upon.
    """
    distance, spin = _YokeRoom(joint, bend).least(inf)
    pair: Pair = joint.yokes
    for swinging in joint.swings:
        closer, angle = _CrossRoom(swinging, bend).least(distance)
        if closer < distance:
            distance, spin, pair = closer, swinging.swing.spin(angle, bend), swinging
    return _pair_gap(joint, pair, bend, spin)


class _Room(ABC):
    """The room between two whole bodies along one number; a search over rows sees them nearer."""

    graze = 0.1 * TOL.gap

    def __init__(self, pair: Pair, ends: tuple[float, float], rate: float) -> None:
        self.pair, self.ends, self.rate = pair, ends, rate
        self.motion, self.gap = pair.motion, 0.0

    @property
    def trees(self) -> tuple[RowTree, RowTree]:
        """Trees of the whole bodies."""
        return row_tree(self.pair.whole.a), row_tree(self.pair.whole.b)

    @property
    def slack(self) -> float:
        """Metal farther out than the other body by the gap is no nearer than that."""
        return self.gap

    @property
    @abstractmethod
    def asked(self) -> Stretches:
        """All poses."""

    @abstractmethod
    def pose(self, at: float) -> tuple[float, float]:
        """The pose that a number stands for."""

    @abstractmethod
    def number(self, pose: tuple[float, float]) -> float:
        """The number that stands for a pose."""

    def cut(self, first: float, second: float) -> bool:
        """Whether the surfaces cut each other at a pose."""
        return self.pair.whole.cut(self.pair.at(first, second))

    def distance(self, at: float) -> float:
        """Distance (mm) of the bodies at a number."""
        return self.pair.whole.nearest(self.pair.at(*self.pose(at))).distance

    def least(self, beat: float) -> tuple[float, float]:
        """Least distance (mm) and where.

        Gives up on anything not below `beat` by more than the tolerance.
        """
        low, high = self.ends
        half = 0.5 * (high - low) / FIRST
        places = [low + half * (2 * i + 1) for i in range(FIRST)]
        seen = [self.distance(at) for at in places]
        lowest, where = min(zip(seen, places, strict=True))
        # What is far off is told by what is seen already.
        if min(seen) - self.rate * half >= _worth(min(beat, lowest)):
            return (lowest, where) if lowest < beat else (beat, where)
        lowest, where = self._narrowed(lowest, where, half)
        if lowest >= beat:
            lowest, where = beat, low
        while (worth := _worth(lowest)) > 0.0:
            self.gap = worth
            proof = search(self, self.asked)
            places = [self.number(pose) for pose in zip(proof.clear, proof.where, strict=True)]
            met = [(self.distance(at), at) for at in places if not isnan(at)]
            nearest = min(met, default=(inf, where))
            # What only a box too small to halve tells of is as near as what is known.
            if nearest[0] >= lowest:
                break
            lowest, where = self._narrowed(*nearest, half / FIRST)
        return lowest, where

    def _narrowed(self, lowest: float, where: float, width: float) -> tuple[float, float]:
        """Something at least as near, in halving steps to either side."""
        while width > _STEP and lowest > 0.0:
            here = where
            for aside in (here - width, here + width):
                at = min(max(aside, self.ends[0]), self.ends[1])
                distance = self.distance(at)
                if distance < lowest:
                    lowest, where = distance, at
            width *= 0.5
        return lowest, where


class _YokeRoom(_Room):
    """Between the yokes at one bend, by spin (rad)."""

    def __init__(self, joint: ClosingJoint, bend: float) -> None:
        self.bend = bend
        whole = joint.yokes.whole
        rate = min(whole.a.radius, whole.b.radius) * turn_per_spin(bend)
        super().__init__(joint.yokes, (0.0, joint.turn.end), rate)

    @property
    def asked(self) -> Stretches:
        """Spins in cells."""
        cells = max(1, round(self.ends[1] / CELL))
        edges = np.linspace(*self.ends, cells + 1)
        bend = np.full(cells, self.bend)
        return Stretches(bend, bend, np.stack([edges[:-1], edges[1:]], 1), np.arange(cells))

    def pose(self, at: float) -> tuple[float, float]:
        """Bend and spin."""
        return self.bend, at

    def number(self, pose: tuple[float, float]) -> float:
        """The spin."""
        return pose[1]


class _CrossRoom(_Room):
    """Between a yoke and the cross, by how far it is swung (rad), either way up to a bend."""

    def __init__(self, pair: SwingingPair, bend: float) -> None:
        super().__init__(pair, (-bend, bend), pair.arm)

    @property
    def asked(self) -> Stretches:
        """Swings the one way and the other."""
        ways = np.array([[-1.0, -1.0], [1.0, 1.0]])
        return Stretches(np.zeros(2), np.full(2, self.ends[1]), ways, np.arange(2))

    def pose(self, at: float) -> tuple[float, float]:
        """How far, and which way."""
        return abs(at), 1.0 if at >= 0.0 else -1.0

    def number(self, pose: tuple[float, float]) -> float:
        """How far, with the way as its sign."""
        return pose[0] * pose[1]


def _worth(lowest: float) -> float:
    """Distance (mm) below which it is worth looking further, given the lowest seen.

    Never below what counts as touching, so a touch is looked for however little room has been seen.
    Only where a box too small to halve hides it, another place is told, and `TOL.gap` holds.
    """
    if lowest <= TOL.graze:
        return 0.0
    less = lowest - max(TOL.gap, TOL.gap_share * lowest) if lowest < inf else inf
    return max(less, TOL.graze)


FIRST = 8
"""Poses looked at first; any number gives the same answer."""

_STEP = 5e-3
"""rad. Where narrowing down ends; what is nearer still the search comes upon."""


def _pair_gap(joint: ClosingJoint, pair: Pair, bend: float, spin: float) -> Gap:
    whole = pair.whole
    R_AB = pair.rotation(bend, spin)
    near = whole.nearest(R_AB)
    overlaps = near.distance <= TOL.graze or joint.nested(pair, bend, spin)
    if near.distance == 0.0:
        near = _cut_point(pair, near, bend, spin)
    frames = rotations(bend, spin)
    R_JA = frames.R_JD if pair.bodies[0] == DRIVING else frames.R_JN
    points = np.stack([near.point_a, near.point_b]) @ R_JA.T
    points.flags.writeable = False
    surfaces = whole.surfaces(near, R_AB)
    distance = 0.0 if overlaps else near.distance
    return Gap(distance, overlaps, pair.bodies, surfaces, points, bend, spin)


def _cut_point(pair: Pair, near: Nearest, bend: float, spin: float) -> Nearest:
    """Put the meaningless points of an overlap on two triangles that do cut each other."""
    whole, R_AB = pair.whole, pair.rotation(bend, spin)
    triangles = whole.cut_triangles(R_AB)
    if triangles is None:
        return near
    a, b = triangles
    return replace(
        near,
        point_a=whole.a.triangles[a].mean(axis=0),
        point_b=whole.b.triangles[b].mean(axis=0) @ R_AB.T,
        triangle_a=a,
        triangle_b=b,
    )
