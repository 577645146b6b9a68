"""A glance at a few poses: no dose can do better than it does there, so most need no sweep."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.assessment.limits import Limits
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig
from sim.travel.pieces import pieces
from sim.vehicle import Joint, Pose, TravelRegion, Vehicle

LEVELS = 4
"""Steps over the whole travel between the heights that are looked at."""

SHARES = np.linspace(0.0, 1.0, 3)
"""Of the roll and of the wrap that there are at a height: both ends and the middle."""

SLACK_BEND, SLACK_SLIP = 2e-5, 0.01
"""rad and mm given to every limit: more than the rounding of what is written into a rig."""


@dataclass(frozen=True)
class Glance:
    """The worst of a few poses, and so no more than the worst of all.

    Attributes
    ----------
    bends : rad, by joint.
    shortest, longest : mm of slip from ride height, positive when it opens.
    missed : whether one of the poses cannot be reached.
    """

    bends: Mapping[Joint, float]
    shortest: float
    longest: float
    missed: bool


def glance(vehicle: Vehicle, also: Sequence[Pose] = ()) -> Glance:
    """Look at the corners, sides and middles of the travel, and at the poses in `also`.

    Poses that the stops do not allow are held at the nearest that they do.
    """
    corners, between = _grid(vehicle.travel)
    asked = np.array([(pose.travel, pose.roll, pose.wrap) for pose in also]).reshape(-1, 3)
    poses = np.concatenate([corners, between, vehicle.travel.held_all(asked)])
    state = line(vehicle, *poses.T)
    reached = state.reachable
    bends = {joint: _most(bend[reached]) for joint, bend in state.bends.items()}
    slip = state.slip[reached]
    return Glance(bends, -_most(-slip), _most(slip), not bool(reached[: len(corners)].all()))


def _grid(region: TravelRegion) -> tuple[FloatArray, FloatArray]:
    """Poses (n, 3) on the ends of each piece of the travel, and those between.

    Those on the ends are among those of the sweep, so that one which is out of reach here is out
    of reach there.
    """
    ends, between = [], []
    whole = float(region.high[0] - region.low[0])
    for piece in pieces(region):
        share = (piece.top - piece.bottom) / whole if whole > 0.0 else 0.0
        levels = np.linspace(0.0, 1.0, max(1, round(LEVELS * share)) + 1)
        cube = np.stack(np.meshgrid(levels, SHARES, SHARES, indexing="ij"), axis=-1)
        poses = np.stack(piece.poses(cube), axis=-1)
        ends.append(poses[[0, -1]].reshape(-1, 3))
        between.append(poses[1:-1].reshape(-1, 3))
    return np.concatenate(ends), np.concatenate(between)


def at_best(
    seen: Glance, vehicle: Vehicle, rig: Rig, clear: Mapping[Joint, float], tight: Sequence[Joint]
) -> Limits:
    """What is left to the limits at best, given what was seen.

    clear : rad, bend up to which each joint is clear.
    tight : joints known to come nearer than wanted at the bends that were seen.
    """
    below, above = vehicle.beyond_readings
    return Limits(
        margins={joint: clear[joint] - bend + SLACK_BEND for joint, bend in seen.bends.items()},
        reserve=rig.wanted.bend.rad,
        closes_left=vehicle.slip.closes + seen.shortest + SLACK_SLIP,
        opens_left=vehicle.slip.opens - seen.longest + SLACK_SLIP,
        slip_reserve=rig.wanted.slip.mm,
        reaches=not seen.missed,
        tight=tuple(tight),
        below=below,
        above=above,
    )


def _most(values: FloatArray) -> float:
    return float(values.max()) if values.size else -np.inf
