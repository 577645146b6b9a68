"""The marks that the parts of a joint must have, by where the axle really goes.

How two yokes sit depends on bend and spin alone, so marks are those of the largest bend that the
travel reaches; what first touches at a bend is first reached in the pose nearest to ride height
that bends the joint so far. A real axle stops when metal meets, or something gives. So there are
two sets: as they are just past the first touch, and as the axle would make them if it were forced
through the whole of its travel. Depths are of rigid bodies, so no more than a scale.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf, radians

import numpy as np

from geometry.contact.patches import Patch, patches
from geometry.contact.pressed import Meeting, Pressed
from geometry.contact.reach import reach
from geometry.contact.skin import Skin, skin
from geometry.mesh import Booleans, Floats
from geometry.seeking import edge
from geometry.tolerances import TOL
from sim.assessment import Assessment, Assessor, JointAssessment
from sim.kept.marks import Met, cached_met
from sim.marks.crosses import CrossAt, YokeSide, crosses_of
from sim.progress import Progress, silent
from sim.rig import Rig
from sim.rig.typed_joints import NoSuchJointError
from sim.search.first_contact import past_touching
from sim.search.first_past import DIRECTIONS, FirstPast, closest
from sim.vehicle import RIDE, Joint, Pose, Vehicle

SHALLOW = 0.5
"""mm that the deepest of the marks at touch is past touching: some 0.02 in, what a caliper still
reads and a hard blow or a few miles take away (from memory, no source)."""

LATER = radians(0.5)
"""Bend past the first touch from which a place counts as touching only later: what a good digital
level and the shape of a forging leave in doubt (from memory, no source)."""


@dataclass(frozen=True, eq=False)
class Mark:
    """One patch of contact on a part.

    Attributes
    ----------
    patch : where, how deep, in which turns; in the frame of its part.
    on : which part it is on.
    name : what a shop calls that part.
    by : what a shop calls the part that met it.
    cross : number of the cross, 1 only for the second of a head.
    bend : rad, of the whole joint, from which on it touches; inf where it never bends so far.
    first : the pose nearest to ride height that reaches it; None where no pose does.
    comes_first : whether it touches as soon as anything does, not only at more droop, wrap or roll.
    """

    patch: Patch
    on: YokeSide
    name: str
    by: str
    cross: int
    bend: float
    first: Pose | None
    comes_first: bool


@dataclass(frozen=True, eq=False)
class Marks:
    """The marks of one joint.

    Attributes
    ----------
    joint : which one.
    most : rad, up to which bend what is forced is pressed; that of the axle unless told otherwise.
    axle : rad, the largest bend that the axle reaches.
    touch : rad, the bend at which the first metal meets; inf where none does.
    stops : rad, the bend at which the marks at touch are `SHALLOW` deep, or `most`.
    at_touch : what meets first, the deepest first.
    forced : what meets if the axle is forced through all its travel, the deepest first.
    crosses : the crosses with their parts.
    """

    joint: Joint
    most: float
    axle: float
    touch: float
    stops: float
    at_touch: tuple[Mark, ...]
    forced: tuple[Mark, ...]
    crosses: tuple[CrossAt, ...]

    @property
    def touches(self) -> bool:
        """Whether anything touches up to there."""
        return bool(self.forced)

    @property
    def reached(self) -> bool:
        """Whether the axle bends it so far that the first metal meets."""
        return self.touch <= self.axle

    @cached_property
    def rims(self) -> dict[tuple[int, str], Skin]:
        """All places of each yoke that the other one could come to, by cross and body.

        Bearing caps are left out: they are polished all over.
        """
        return {
            (cross.number, body): points
            for cross in self.crosses
            for body, points in _rims(cross).items()
        }


def marks_of(
    found: Assessment | Rig, joint: Joint, progress: Progress = silent, *, bend: float | None = None
) -> Marks:
    """Find the marks of a joint of a rig.

    bend : rad, up to which it is bent, where that is not the largest of its travel

    Raises NoSuchJointError for one that the rig does not have, BindpointError for parts that
    cannot be.
    """
    if isinstance(found, Rig):
        progress("sweeping the travel", 0.0)
        found = Assessor().assess(found)
    asked = joint_of(found, joint)
    crosses = crosses_of(asked.hardware)
    most = min(asked.most if bend is None else bend, crosses[0].limit)
    touch = asked.curve.touch_min
    if not asked.clear < most:
        return Marks(joint, most, asked.most, touch, most, (), (), crosses)
    key = {"parts": [cross.hardware.key for cross in crosses], "most": float(most).hex()}
    met = cached_met(key | {"shallow": SHALLOW}, lambda: _met(crosses, most, progress))
    progress("telling the marks apart", 0.9)
    reached = Reached(found.vehicle, joint, touch)
    shallow, forced = (
        _sorted(
            mark
            for cross, patches in zip(crosses, each, strict=True)
            for mark in _Teller(cross, reached, touch).marks(patches)
        )
        for each in (met.shallow, met.forced)
    )
    progress("telling the marks apart", 1.0)
    return Marks(joint, most, asked.most, touch, met.stops, shallow, forced, crosses)


def _met(crosses: Sequence[CrossAt], most: float, progress: Progress) -> Met:
    """Press the parts of a joint together up to a bend (rad) of it, and just past the touch."""
    made = []
    for cross in crosses:
        progress("pressing the parts together", 0.1 + 0.4 * cross.number)
        clear = cross.hardware.touch().certified_clear
        meeting = Meeting(cross.hardware.parts, clear, cross.bend(most))
        made.append((cross, meeting, meeting.pressed() if meeting.clear < meeting.most else ()))
    stops = min(
        [most, *(cross.whole(_shallow(meeting, found)) for cross, meeting, found in made if found)]
    )
    shallow, forced = [], []
    for cross, meeting, found in made:
        forced.append(patches(meeting, meeting.whole(found), meeting.most))
        here = cross.bend(stops)
        shallow.append(patches(meeting, meeting.whole(meeting.upto(here, found)), here))
    return Met(stops, tuple(shallow), tuple(forced))


def joint_of(found: Assessment, joint: Joint) -> JointAssessment:
    """One joint of what was assessed. Raises NoSuchJointError where there is none."""
    if joint not in found.joints:
        raise NoSuchJointError(
            f"{found.rig.name}: no {joint} joint; this shaft has {', '.join(found.joints)}"
        )
    return found.joints[joint]


def _sorted(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    return tuple(sorted(marks, key=lambda mark: -round(mark.patch.depth, 3)))


def _shallow(meeting: Meeting, pressed: tuple[Pressed, ...]) -> float:
    """The bend (rad) of a cross up to which nothing is deeper than `SHALLOW`."""

    def holds(bend: float) -> bool:
        found = meeting.upto(bend, pressed)
        return all(float(each.depth.max()) <= SHALLOW for each in found)

    if holds(meeting.most):
        return meeting.most
    return edge(holds, meeting.clear, meeting.most, STOPS)[0]


STOPS = radians(0.1)
"""How near the bend of the marks at touch is found."""


class Reached:
    """The pose nearest to ride height that bends a joint so far.

    Of a few rolls and wraps the nearest, with nothing nearer proved for the lowest bend alone.
    """

    def __init__(self, vehicle: Vehicle, joint: Joint, lowest: float = inf) -> None:
        self.vehicle, self.joint, self.lowest = vehicle, joint, lowest
        self._known: dict[int, Pose | None] = {}

    def at(self, bend: float) -> Pose | None:
        """The pose for a bend (rad), told apart by twentieths of a degree; None if none does."""
        if not np.isfinite(bend):
            return None
        step = int(np.floor(bend / BEND))
        if step not in self._known:
            self._known[step] = self._find(step * BEND)
        return self._known[step]

    def _find(self, bend: float) -> Pose | None:
        if self.joint in self.vehicle.still:
            return RIDE if self.vehicle.still[self.joint] >= bend else None
        past = past_touching(self.vehicle, self.joint, bend)
        region = self.vehicle.travel
        ways = [FirstPast(past, region, way) for way in DIRECTIONS]
        rolls = np.linspace(-region.most_roll, region.most_roll, STATES)
        wraps = np.linspace(-region.nose_down, region.nose_up, STATES)
        states = [(float(roll), float(wrap)) for roll in (0.0, *rolls) for wrap in (0.0, *wraps)]
        known = closest(pose for way in ways for pose in way.at(states))
        if known is not None and bend > self.lowest:
            return known
        return closest(way.nearest(known) for way in ways)


BEND = radians(0.05)
"""Bends nearer than this have one pose: half of what a digital level reads."""

STATES = 5
"""Rolls, and wraps, that are asked, those of none besides."""


@dataclass(frozen=True, eq=False)
class _Teller:
    cross: CrossAt
    reached: Reached
    touch: float

    def marks(self, found: tuple[Patch, ...]) -> list[Mark]:
        return [self._mark(patch) for patch in found]

    def _mark(self, patch: Patch) -> Mark:
        cross, bend = self.cross, self.cross.whole(patch.first)
        name = cross.hardware.yoke_name
        return Mark(
            patch,
            cross.side(patch.body),
            name(patch.body),
            name(patch.into),
            cross.number,
            bend,
            self.reached.at(bend),
            bend <= self.touch + LATER,
        )


RIM = 2.5
"""mm between the places of a rim."""


def _rims(cross: CrossAt) -> dict[str, Skin]:
    parts = cross.hardware.parts
    radius = reach(parts.driving, parts.driven, TOL.bend_limit)
    radius = min(radius, reach(parts.driving, parts.driven, radians(40.0)))

    def near(places: Floats, within: float) -> Booleans:
        return np.asarray(np.linalg.norm(places, axis=0) <= radius + within)

    found = {}
    for body in ("driving", "driven"):
        points = skin(getattr(parts, body), RIM, near)
        caps = [i for i, name in enumerate(points.names) if name == "cap"]
        kept = (np.linalg.norm(points.points, axis=1) <= radius) & ~np.isin(points.labels, caps)
        found[body] = points.only(kept)
    return found
