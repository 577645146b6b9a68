"""How much room a joint has: the gap at one pose, and the smallest over a whole turn."""

from dataclasses import dataclass, replace
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from geometry.containment import nested
from geometry.distance import Nearest
from geometry.joint import rotations
from geometry.joint_parts import DRIVING, ClosingJoint, JointPair
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
    """Smallest gap over a whole turn at this bend (rad), true to `TOL.gap`.

    Branch and bound over the spin: a gap seen at one spin bounds its neighbours, since nothing
    in reach moves faster than reach times the turn per spin.
    """
    best: Gap | None = None
    for pair in joint.pairs:
        gap = _smallest_of_pair(joint, pair, bend, best)
        if best is None or (gap is not None and gap.distance < best.distance):
            best = gap
        if best is not None and best.overlaps:
            break
    if best is None:
        return gap_at(joint, bend, 0.0)
    return best


def _smallest_of_pair(
    joint: ClosingJoint, pair: JointPair, bend: float, best: Gap | None
) -> Gap | None:
    """The smallest gap of one pair, or None when it is not below `best`."""
    closing, end = pair.closing, pair.turn.end
    lowest, where = (best.distance if best else np.inf), None
    half = 0.5 * end / _FIRST_CUT
    queue = [(0.0, half * (2 * i + 1), half) for i in range(_FIRST_CUT)]
    heapify(queue)
    while queue and queue[0][0] < lowest - TOL.gap:
        _, spin, half = heappop(queue)
        distance = closing.nearest(bend, spin).distance
        if distance < lowest:
            lowest, where = distance, spin
        if distance == 0.0:
            break
        bound = distance - closing.gap_lost(bend, half)
        if bound < lowest - TOL.gap:
            for side in (-0.5, 0.5):
                heappush(queue, (bound, spin + side * half, 0.5 * half))
    return None if where is None else _pair_gap(joint, pair, bend, where)


_FIRST_CUT = 8
"""Pieces a turn is cut into at first; any number gives the same answer."""


def _pair_gap(joint: ClosingJoint, pair: JointPair, bend: float, spin: float) -> Gap:
    near = pair.closing.nearest(bend, spin)
    a, b = (getattr(joint.parts, body) for body in pair.bodies)
    overlaps = near.distance == 0.0 or nested(a, b, pair.closing.rotation(bend, spin))
    if near.distance == 0.0:
        near = _cut_point(pair, near, bend, spin)
    frames = rotations(bend, spin)
    R_JA = frames.R_JD if pair.bodies[0] == DRIVING else frames.R_JN
    points = np.stack([near.point_a, near.point_b]) @ R_JA.T
    points.flags.writeable = False
    surfaces = pair.closing.surfaces(near)
    distance = 0.0 if overlaps else near.distance
    return Gap(distance, overlaps, pair.bodies, surfaces, points, bend, spin)


def _cut_point(pair: JointPair, near: Nearest, bend: float, spin: float) -> Nearest:
    """Put the meaningless points of an overlap on two triangles that do cut each other."""
    triangles = pair.closing.cut_triangles(bend, spin)
    if triangles is None:
        return near
    a, b = triangles
    return replace(
        near,
        point_a=pair.closing.a.triangles[a].mean(axis=0),
        point_b=pair.closing.b.triangles[b].mean(axis=0) @ pair.closing.rotation(bend, spin).T,
        triangle_a=a,
        triangle_b=b,
    )
