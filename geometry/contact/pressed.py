"""Which points of the bodies of a joint go into another body, how deep, and from which bend on.

Each body of a joint is covered with points; each is asked how deep it comes into the other body
over all turns up to the highest bend, and down the bends for the first at which it is reached.
Where both yokes look the same after half a turn or in the mirror, a part of the points speaks
for all.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, fields, replace
from functools import cached_property
from math import ceil, pi, radians

import numpy as np

from geometry.contact.field import DistanceField
from geometry.contact.joint_parts import JointParts
from geometry.contact.pair import CROSS, DRIVEN, DRIVING
from geometry.contact.pressing import Pressing, SwingPressing, YokePressing
from geometry.contact.reach import common_radii, reach
from geometry.contact.skin import Skin, joined, skin
from geometry.contact.swing import DrivenSwing, DrivingSwing
from geometry.mesh import Booleans, Floats, Indices, Mesh, once_a_mesh

Where = Callable[[str, Skin], Booleans]
"""Which points, (n,), of a body are asked."""


def everywhere(_body: str, points: Skin) -> Booleans:
    """All of them."""
    return np.ones(len(points), dtype=bool)


SPACING = 1.5
"""mm between the points of a surface: a mark a quarter of an inch wide gets twenty of them."""

STEP = radians(1.0)
"""Between the bends at which points are asked whether they are reached."""

MOST_STEPS = 12
"""Of them."""

AHEAD = 2.0
"""mm of room up to which it is told how near a point is at a bend that does not reach it: more than
a step brings it nearer."""


@dataclass(frozen=True, eq=False)
class Pressed:
    """Points of one body that go into another, in its own frame.

    body, into : which bodies
    skin : the points, with those around them that are nearly reached
    depth : (n,) mm, the largest over all poses, at most `geometry.contact.field.BAND`; negative
        for a point that is not reached, infinitely so where it is farther off than the spacing
    bend, spin : (n,) rad, the pose of that
    first : (n,) rad, the lowest bend at which the point is reached at some spin
    """

    body: str
    into: str
    skin: Skin
    depth: Floats
    bend: Floats
    spin: Floats
    first: Floats

    def __len__(self) -> int:
        """How many points."""
        return len(self.depth)

    @property
    def met(self) -> Booleans:
        """Which points, (n,), are reached."""
        return np.asarray(self.depth > 0.0)

    def only(self, which: Booleans) -> Pressed:
        """The points of a mask, (n,)."""
        numbers = {each.name: getattr(self, each.name)[which] for each in fields(self)[3:]}
        return replace(self, skin=self.skin.only(which), **numbers)


@dataclass(frozen=True, eq=False)
class Against:
    """One body of a joint against another.

    body, into : which two
    mesh : of the first
    pressing : the other one as it comes by
    flips : (k, 3) of +-1, what takes the first to where it meets the same
    """

    body: str
    into: str
    mesh: Mesh
    pressing: Pressing
    flips: Floats

    def skin(self, most: float, spacing: float) -> Skin:
        """Points of the part that speaks for the whole, where the other comes near."""
        part = self._part

        def near(places: Floats, within: float) -> Booleans:
            found = np.asarray((places[part] >= -within).all(axis=0))
            found[found] = self.pressing.near(places[:, found], most, within)
            return found

        found = skin(self.mesh, spacing, near)
        return found.only(np.asarray((found.points[:, part] >= -EDGE).all(axis=1)))

    @property
    def _part(self) -> list[int]:
        """The axes along which no coordinate of the part that speaks for the whole is negative."""
        if len(self.flips) == 4:
            return [1, 2]
        if len(self.flips) == 2:
            return [2] if self.flips[1, 1] > 0.0 else [1]
        return []

    def whole(self, found: Pressed) -> Pressed:
        """The same on the whole body."""
        images = [self._image(found, flip) for flip in self.flips]
        points, first = joined([each.skin for each in images])
        rest = {
            name: np.concatenate([getattr(each, name) for each in images])[first]
            for name in ("depth", "bend", "spin", "first")
        }
        return Pressed(found.body, found.into, points, **rest)

    def _image(self, found: Pressed, flip: Floats) -> Pressed:
        """Carry points by a symmetry, and their poses by what goes with it."""
        mirrored = float(np.prod(flip)) < 0.0
        # The mirror of the driving yoke keeps y, that of the driven one z; half a turn neither.
        half = flip[1 if self.body == DRIVING else 2] < 0.0
        spin = (-found.spin if mirrored else found.spin) + (pi if half else 0.0)
        return replace(found, skin=found.skin.flipped(flip), spin=spin % (2.0 * pi))


def around(faces: Indices, inside: Booleans) -> Booleans:
    """Points, (n,), that are inside or share a triangle with one that is."""
    kept = np.array(inside)
    kept[faces[inside[faces].any(axis=1)]] = True
    return kept


EDGE = 1e-5
"""mm from the plane of a symmetry that still counts as in it."""


@once_a_mesh
def _fields(_mesh: Mesh) -> dict[float, DistanceField]:
    return {}


def field_of(mesh: Mesh, radius: float) -> DistanceField:
    """The field of a mesh out to a radius, mm, or a little farther; made once."""
    fields, far = _fields(mesh), FARTHER * ceil(radius / FARTHER)
    if far not in fields:
        fields[far] = DistanceField(mesh, far)
    return fields[far]


FARTHER = 10.0
"""mm. Fields reach to whole steps of this, so that others who ask for nearly the same share one."""


class Meeting:
    """The bodies of one joint made ready to be asked how deep they go into each other.

    parts : the bodies
    clear : rad, a bend up to which nothing touches
    most : rad, the highest bend that will be asked
    spacing : mm between the points of a surface
    bodies : those that are asked
    """

    def __init__(
        self,
        parts: JointParts,
        clear: float,
        most: float,
        spacing: float = SPACING,
        bodies: Collection[str] = (DRIVING, DRIVEN, CROSS),
    ) -> None:
        self.parts, self.spacing, self.bodies = parts, spacing, bodies
        self.clear, self.most = min(clear, most), most

    @cached_property
    def pairs(self) -> tuple[Against, ...]:
        """Each body against each other one that it may touch; the yokes first."""
        parts, turn = self.parts, self.parts.turn
        mesh = {DRIVING: parts.driving, DRIVEN: parts.driven}
        radius = reach(parts.driving, parts.driven, self.most)
        found = []
        for body, other in ((DRIVING, DRIVEN), (DRIVEN, DRIVING)):
            if body in self.bodies:
                field = field_of(mesh[other], radius)
                pressing = YokePressing(field, radius, other == DRIVEN, self.clear)
                flips = turn.flips(body == DRIVING)
                found.append(Against(body, other, mesh[body], pressing, flips))
        if parts.cross is None:
            return tuple(found)
        mesh[CROSS] = parts.cross
        for swing in (DrivingSwing(), DrivenSwing()):
            near = common_radii(mesh[swing.body], parts.cross)[1]
            for body, other in ((CROSS, swing.body), (swing.body, CROSS)):
                if body in self.bodies:
                    field = field_of(mesh[other], max(near, radius))
                    swings = SwingPressing(field, near, swing, other == CROSS)
                    found.append(Against(body, other, mesh[body], swings, np.ones((1, 3))))
        return tuple(found)

    def pressed(self, where: Where = everywhere) -> tuple[Pressed, ...]:
        """What goes into what up to the highest bend, of the points that speak for all.

        where : which points are asked; of those, each that speaks for one that is

        Pairs that do not touch are left out.
        """
        found = []
        for pair in self.pairs:
            points = pair.skin(self.most, self.spacing)
            images = (points.flipped(flip) for flip in pair.flips)
            points = points.only(np.any([where(pair.body, image) for image in images], axis=0))
            deepest = pair.pressing.deepest(points.points, self.most, self.spacing)
            inside = deepest.distance < 0.0
            if inside.any():
                first = np.full(len(points), np.inf)
                first[inside] = self._first(pair, points.points[inside], deepest.distance[inside])
                pose = deepest.bend, deepest.spin
                each = Pressed(pair.body, pair.into, points, -deepest.distance, *pose, first)
                found.append(each.only(around(points.faces, inside)))
        return tuple(found)

    def whole(self, found: Iterable[Pressed]) -> tuple[Pressed, ...]:
        """The same on whole bodies."""
        return tuple(self.pair(each).whole(each) for each in found)

    def pair(self, found: Pressed) -> Against:
        """The two bodies that some points are of."""
        return next(p for p in self.pairs if (p.body, p.into) == (found.body, found.into))

    def upto(self, bend: float, found: Iterable[Pressed]) -> tuple[Pressed, ...]:
        """The same up to a lower bend, rad, among points found up to the highest."""
        kept = []
        for each in found:
            among = each.only(around(each.skin.faces, each.first <= bend + STEP))
            deepest = self.pair(each).pressing.deepest(among.skin.points, bend, self.spacing)
            inside = deepest.distance < 0.0
            if inside.any():
                lower = replace(
                    among, depth=-deepest.distance, bend=deepest.bend, spin=deepest.spin
                )
                kept.append(lower.only(around(lower.skin.faces, inside)))
        return tuple(kept)

    def _first(self, pair: Against, points: Floats, distance: Floats) -> Floats:
        """The lowest bend (n,) rad at which each of some points is reached.

        distance : (n,) mm at the highest bend, negative

        Down the bends, as long as a point is still reached; between the last that reaches it and
        the first that does not, where the room would run out on a straight line.
        """
        first = np.full(len(points), self.most)
        open_ = np.arange(len(points))
        count = min(MOST_STEPS, max(1, ceil((self.most - self.clear) / STEP)))
        bends = np.linspace(self.most, self.clear, count + 1)
        above, inside = self.most, np.array(distance)
        for bend in bends[1:].tolist():
            there = pair.pressing.deepest(points[open_], bend, AHEAD).distance
            left = there >= 0.0
            room = np.minimum(there[left], AHEAD)
            share = room / (room - inside[left])
            first[open_[left]] = bend + share * (above - bend)
            open_, inside, above = open_[~left], there[~left], bend
            if not len(open_):
                break
        first[open_] = above
        return first
