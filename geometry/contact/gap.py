"""How much room a joint has: the gap at one pose, and the smallest over a whole turn."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from math import inf

import numpy as np
from numpy.typing import NDArray

from geometry.contact.distance import Nearest
from geometry.contact.joint_parts import DRIVING, ClosingJoint, JointPair
from geometry.contact.pair import SwingingPair
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

    Branch and bound over the spin, or over the swing of the cross: a gap seen at one place bounds
    its neighbours, since the nearer body moves no faster than its radius times the turn.
    """
    yokes = joint.yokes.whole

    def between_yokes(spin: float) -> float:
        return yokes.meshes.nearest(joint.yokes.rotation(bend, spin)).distance

    rate = yokes.radius * turn_per_spin(bend)
    distance, spin = _least(between_yokes, (0.0, joint.turn.end), rate, inf)
    pair = joint.yoke_pair
    for other, swinging in joint.swings:
        closer, angle = _least(
            lambda at, s=swinging: _swung(s, at),  # type: ignore[misc]
            (-bend, bend),
            swinging.arm,
            distance,
        )
        if closer < distance:
            distance, spin, pair = closer, swinging.swing.spin(angle, bend), other
    return _pair_gap(joint, pair, bend, spin)


def keeps_gap(joint: ClosingJoint, bend: float, wanted: float) -> bool:
    """Whether the gap is `wanted` (mm) or more over a whole turn at this bend (rad).

    True to the tolerance of `smallest_gap`, and much sooner told, since nothing that is wider has
    to be looked at closely.
    """
    yokes = joint.yokes.whole

    def between_yokes(spin: float) -> float:
        return yokes.meshes.nearest(joint.yokes.rotation(bend, spin)).distance

    rate = yokes.radius * turn_per_spin(bend)
    if _least(between_yokes, (0.0, joint.turn.end), rate, wanted, wanted)[0] < wanted:
        return False
    return all(
        _least(
            lambda at, s=swinging: _swung(s, at),  # type: ignore[misc]
            (-bend, bend),
            swinging.arm,
            wanted,
            wanted,
        )[0]
        >= wanted
        for _, swinging in joint.swings
    )


def _swung(swinging: SwingingPair, angle: float) -> float:
    """Distance of the cross to a yoke at this swing (rad), mm."""
    return swinging.whole.meshes.nearest(swinging.swing.rotation(angle)).distance


def _least(
    distance_at: Callable[[float], float],
    ends: tuple[float, float],
    rate: float,
    beat: float,
    enough: float = 0.0,
) -> tuple[float, float]:
    """Least distance (mm) over an interval and where, given how fast (mm/rad) it can change.

    Gives up on anything not below `beat` by more than the tolerance, and looks no further once
    something is below `enough`.
    """
    low, high = ends
    half = 0.5 * (high - low) / _FIRST_CUT
    queue = [(0.0, low + half * (2 * i + 1), half) for i in range(_FIRST_CUT)]
    lowest, where = beat, low
    while queue and queue[0][0] < _worth(lowest):
        _, at, half = heappop(queue)
        distance = distance_at(at)
        if distance < lowest:
            lowest, where = distance, at
            if lowest < enough:
                break
        bound = distance - rate * half
        if bound < _worth(lowest) and distance > 0.0:
            for side in (-0.5, 0.5):
                heappush(queue, (bound, at + side * half, 0.5 * half))
    return lowest, where


def _worth(lowest: float) -> float:
    """Distance (mm) below which it is worth looking further, given the lowest seen.

    Whether anything touches is looked for to the end, however little room has been seen.
    """
    if lowest <= TOL.graze:
        return 0.0
    less = lowest - max(TOL.gap, TOL.gap_share * lowest) if lowest < inf else inf
    return max(less, TOL.graze)


_FIRST_CUT = 8
"""Pieces an interval is cut into at first; any number gives the same answer."""


def _pair_gap(joint: ClosingJoint, pair: JointPair, bend: float, spin: float) -> Gap:
    whole = pair.closing.whole
    R_AB = pair.closing.rotation(bend, spin)
    near = whole.meshes.nearest(R_AB)
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


def _cut_point(pair: JointPair, near: Nearest, bend: float, spin: float) -> Nearest:
    """Put the meaningless points of an overlap on two triangles that do cut each other."""
    whole, R_AB = pair.closing.whole, pair.closing.rotation(bend, spin)
    triangles = whole.meshes.cut_triangles(R_AB)
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
