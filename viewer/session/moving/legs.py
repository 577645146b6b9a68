"""The way of an axle leg by leg: straight from pose to pose, and how fast.

Straight is meant in travel, sine of the roll and wrap. In these the poses that the stops of an axle
allow are convex (`sim.travel.region`), so what lies between two of them is one of them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import asin, sin

import numpy as np

from sim.frames import FloatArray
from sim.vehicle import RIDE, Pose

Ease = Callable[[float], float]
"""Share of the way after a share of the time, both 0 to 1."""


def smooth(share: float) -> float:
    """Of a leg that begins and ends at rest."""
    return share * share * (3.0 - 2.0 * share)


def even(share: float) -> float:
    """Of a leg that goes on at one pace."""
    return share


def slowing(share: float) -> float:
    """Of a leg that arrives slowly: the last third of the time has the last ninth of the way."""
    return share * share * (6.0 - 8.0 * share + 3.0 * share * share)


def between(one: Pose, other: Pose, share: float) -> Pose:
    """The pose at a share of the way from one to another."""
    if share in (0.0, 1.0):
        return other if share else one
    travel = one.travel + share * (other.travel - one.travel)
    sine = sin(one.roll) + share * (sin(other.roll) - sin(one.roll))
    return Pose(travel, asin(min(max(sine, -1.0), 1.0)), one.wrap + share * (other.wrap - one.wrap))


def poses_between(one: Pose, other: Pose, share: FloatArray) -> FloatArray:
    """The same at shares (...): travel mm, roll and wrap rad, (..., 3)."""
    ends = [np.array([each.travel, sin(each.roll), each.wrap]) for each in (one, other)]
    poses: FloatArray = ends[0] + share[..., None] * (ends[1] - ends[0])
    poses[..., 1] = np.arcsin(poses[..., 1])
    return poses


@dataclass(frozen=True)
class Leg:
    """One leg of the way, and how long it takes."""

    start: Pose
    end: Pose
    seconds: float
    ease: Ease

    def pose(self, seconds: float) -> Pose:
        """Where it is after some seconds."""
        share = 1.0 if seconds >= self.seconds else seconds / self.seconds
        return between(self.start, self.end, self.ease(share))


def pose_on(legs: Sequence[Leg], seconds: float) -> Pose:
    """Where an axle is after some seconds of all its legs, one after the other."""
    for leg in legs:
        if seconds < leg.seconds or leg is legs[-1]:
            return leg.pose(seconds)
        seconds -= leg.seconds
    return RIDE


def turned_on(legs: Sequence[tuple[float, float, Ease]], seconds: float) -> float:
    """The same of a turn that begins at 0: seconds of each leg, where it ends (rad), and how."""
    turned = 0.0
    for lasts, to, ease in legs:
        if seconds < lasts:
            return turned + ease(seconds / lasts) * (to - turned)
        turned, seconds = to, seconds - lasts
    return turned


def by_height_first(to: Pose) -> list[Pose]:
    """The poses from ride height on to another: its height, then crossed up, then wrapped.

    At a height roll and wrap are free of each other, so all of it is within the stops.
    """
    ways = (Pose(to.travel), Pose(to.travel, to.roll), to)
    poses = [RIDE]
    poses += [pose for before, pose in zip((RIDE, *ways), ways, strict=False) if pose != before]
    return poses
