"""Backward from a mark: which bends and turns made it, and which poses of the axle reach them."""

from dataclasses import dataclass
from math import inf, radians

import numpy as np

from geometry.clock import HOUR, apart, clock
from geometry.contact.patches import Arc, patches
from geometry.contact.pressed import Meeting
from geometry.contact.skin import Skin
from geometry.mesh import Booleans
from geometry.seeking import edge
from geometry.tolerances import TOL
from sim.assessment import Assessment
from sim.marks.crosses import CrossAt, crosses_of
from sim.marks.marks import LATER, STOPS, Reached, joint_of
from sim.marks.overlap import SeenMark, meant
from sim.search.first_contact import past_touching
from sim.search.what_it_takes import WhatItTakes, what_it_takes
from sim.search.worst import PoseFunction
from sim.vehicle import Joint, Pose

PLACE = 0.75 * HOUR
"""rad to either side of where a mark was read that it may lie: a clock is read to about an hour."""

BEYOND = radians(12.0)
"""Past the first touch to which it is asked what reaches a place; there any yoke is broken."""

GIVES = 1.0
"""mm that metal gives where nobody measured how deep a mark is (from memory, no source)."""


@dataclass(frozen=True)
class Backward:
    """What made a mark.

    Attributes
    ----------
    mark : the mark.
    low : rad, the bend of the joint at which its place is first touched; inf where none does.
    high : rad, the bend at which the other body would have gone in as deep as the mark, or `GIVES`
        where that was not measured; the metal gave less than rigid bodies, so this is the least
        that a mark so deep took.
    spins : arcs of the joint's own spin in which it touches there, at `high`.
    by : the surfaces of the other body that touch there.
    first : whether anything of the joint touches at hardly less bend.
    most : rad, the largest bend that the axle reaches.
    nearest : the pose nearest to ride height that bends the joint to `low`; None where none does.
    takes : what the axle has to do for that; None where no pose does, or it never moves.
    share : of the travel's poses, those that do.
    """

    mark: SeenMark
    low: float
    high: float
    spins: tuple[Arc, ...]
    by: tuple[str, ...]
    first: bool
    most: float
    nearest: Pose | None
    takes: WhatItTakes | None
    share: float

    @property
    def possible(self) -> bool:
        """Whether anything touches there at any bend."""
        return self.low < inf

    @property
    def reached(self) -> bool:
        """Whether a pose of this axle bends the joint so far.

        If none does it took more droop, a hoist, or something loose.
        """
        return self.nearest is not None


def backward(found: Assessment, joint: Joint, mark: SeenMark) -> Backward:
    """Find what made a mark on a yoke of a joint.

    Raises NoSuchJointError for one that the rig does not have.
    """
    asked = joint_of(found, joint)
    touch = asked.curve.touch_min
    made = [_made(cross, mark, touch) for cross in crosses_of(asked.hardware)]
    low, high, spins, by = min(each for each in made)
    reached = Reached(found.vehicle, joint).at(low)
    takes, share = None, 0.0
    if reached is not None:
        past = past_touching(found.vehicle, joint, low)
        share = _share(found, past)
        if joint not in found.vehicle.still:
            takes = what_it_takes(past, found.vehicle.travel)
    first = low <= touch + LATER
    return Backward(mark, low, high, spins, by, first, asked.most, reached, takes, share)


Made = tuple[float, float, tuple[Arc, ...], tuple[str, ...]]


def _made(cross: CrossAt, mark: SeenMark, touch: float) -> Made:
    """Lowest and highest bend of the joint, spins, and what touches; of one cross."""
    names = () if mark.surface is None else meant(mark.surface)

    def where(body: str, points: Skin) -> Booleans:
        """Which points of a body may be where the mark is."""
        if cross.side(body) != mark.yoke:
            return np.zeros(len(points), dtype=bool)
        found = np.ones(len(points), dtype=bool)
        if mark.clock is not None:
            found = apart(clock(points.points), mark.clock) <= PLACE
        if names:
            wanted = [i for i, name in enumerate(points.names) if name in names]
            found &= np.isin(points.labels, wanted)
        return found

    parts = cross.hardware
    most = cross.bend(min(touch + BEYOND, cross.limit))
    own = [body for body in ("driving", "driven") if cross.side(body) == mark.yoke]
    clear, most = parts.touch().certified_clear, min(most, TOL.bend_limit)
    meeting = Meeting(parts.parts, clear, most, bodies=own)
    pressed = meeting.pressed(where)
    if not pressed:
        return inf, inf, (), ()
    depth = GIVES if mark.depth is None else mark.depth

    def shallow(bend: float) -> bool:
        found = meeting.upto(bend, pressed)
        return all(float(each.depth.max()) <= depth for each in found)

    low = min(float(each.first.min()) for each in pressed)
    high = meeting.most
    if not shallow(high):
        high = max(low, edge(shallow, low, high, STOPS)[0])
    there = meeting.whole(meeting.upto(max(high, low + STOPS), pressed))
    there = tuple(found.only(where(found.body, found.skin)) for found in there)
    marks = patches(meeting, (each for each in there if len(each)), high)
    spins = tuple(sorted({arc for each in marks for arc in each.spins}))
    by = tuple(dict.fromkeys(each.against for each in marks))
    return cross.whole(low), cross.whole(high), spins, by


COUNTED = 21
"""Places along each of travel, roll and wrap at which poses are counted."""


def _share(found: Assessment, past: PoseFunction) -> float:
    """Share of the poses of the travel, evenly by travel, roll and wrap, that are past a limit."""
    region = found.vehicle.travel
    axes = np.linspace(region.low, region.high, COUNTED).T
    poses = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    poses = poses[region.contains(*poses.T)]
    return float(np.mean(past(*poses.T) >= 0.0)) if len(poses) else 0.0
