"""The axle on two leaf springs: its table, what cannot be, and what a shop does with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from sim.frames import Vec3
from sim.remark import Remark
from sim.ride import Ride
from sim.suspension.leaf.motion import Leaf
from sim.suspension.table import Change, Springs, SuspensionPart, TurnedBy
from sim.table.fields import Point, millimetres
from sim.table.form import field, maybe
from sim.table.limits import LIMITS
from sim.table.problems import Problem, as_typed

if TYPE_CHECKING:
    from sim.travel.table import Travel
    from sim.vehicle import Vehicle


class LeafTable(SuspensionPart):
    """Two leaf springs, mirrored; the left one is given."""

    kind: Literal["leaf"] = field("Two leaf springs.")
    fixed_eye: Point = field(
        "Eye of the left spring that turns on the frame: forward, left, up from the "
        "center of the axle housing.",
        ["24 in", "20 in", "4 in"],
        called="the fixed eye",
        datum="The eye that turns on the frame, not in the shackle.",
    )
    seat: Point = field(
        "Where the left spring sits on the axle: forward, left, up.",
        ["0 in", "20 in", "3 in"],
        called="the spring seat",
        datum="Where the spring is clamped to the axle, at the main leaf.",
    )
    shackled_eye: Point | None = maybe(
        "Eye of the left spring that hangs in the shackle, where known: forward, left, up.",
        ["-28 in", "20 in", "5 in"],
    )

    @classmethod
    def starts(cls, vehicle: Vehicle, travel: Travel) -> Iterator[dict[str, Any]]:
        """Springs of an ordinary size."""
        del vehicle, travel
        yield _ordinary("24 in")

    @classmethod
    def of_ordinary_size(cls, front: bool) -> LeafTable:
        """Springs of an ordinary size, held at their end toward the shaft."""
        return cls.model_validate({"kind": "leaf", **_ordinary("-24 in" if front else "24 in")})

    def build(self, ride: Ride, wrap_centre: Vec3) -> Leaf:
        """Build the suspension of the mathematics."""
        return self._springs(ride.front, wrap_centre)

    def _springs(self, front: bool = False, wrap_centre: Vec3 = (0.0, 0.0, 0.0)) -> Leaf:
        """The two springs, which do not depend on where the shaft lies."""
        shackled = self.shackled_eye
        return Leaf(
            front=front,
            wrap_centre=wrap_centre,
            fixed_eye=millimetres(self.fixed_eye),
            seat=millimetres(self.seat),
            shackled_eye=None if shackled is None else millimetres(shackled),
        )

    def against_ride(self, ride: Ride | None) -> Iterator[Problem]:
        """Springs go with every place of the joints."""
        del ride
        return iter(())

    def against_travel(self, travel: Travel) -> Iterator[Problem]:
        """The left spring must lie fore-aft over its seat and reach the whole travel."""
        before = list(_points(self))
        yield from before
        if not before:
            yield from _reach(self._springs(), travel)

    def notes(self, ride: Ride | None, travel: Travel | None) -> Iterator[Remark]:
        """A seat that is not on the axle tube."""
        del ride, travel
        forward, _, up = self.seat
        if max(abs(forward.mm), abs(up.mm)) > LIMITS.seat_away:
            yield Remark("seat_away", "suspension.seat", most=LIMITS.seat_away)

    @property
    def turned_by(self) -> TurnedBy:
        """Shims between springs and axle."""
        return "shims"

    def restated(
        self, typed: Mapping[str, Any], vehicle: Callable[[], Vehicle], change: Change
    ) -> dict[str, Any]:
        """The springs stay where they are, as with shims."""
        del typed, vehicle, change
        return {}

    def springs(self) -> Springs:
        """Both halves, as far as the eyes are known."""
        found: dict[bool, float] = {}
        for eye in (self.fixed_eye, self.shackled_eye):
            if eye is not None:
                along = eye[0].mm - self.seat[0].mm
                found[along > 0.0] = abs(along)
        return Springs(found.get(True), found.get(False), self.seat[2].mm)


def _ordinary(ahead: str) -> dict[str, Any]:
    """Springs of an ordinary size (from memory), the fixed eye so far ahead."""
    return {"fixed_eye": [ahead, "20 in", "4 in"], "seat": ["0 in", "20 in", "3 in"]}


def _points(leaf: LeafTable) -> Iterator[Problem]:
    side = leaf.seat[1]
    if side.mm <= 0.0:
        yield Problem(
            "suspension.seat[2]",
            as_typed(side.typed),
            Remark("left-spring"),
            Remark("not-on-the-left"),
        )
    ahead = leaf.fixed_eye[0].mm - leaf.seat[0].mm
    if ahead == 0.0:
        yield Problem(
            "suspension.fixed_eye[1]",
            as_typed(leaf.fixed_eye[0].typed),
            Remark("eye-off-seat"),
            Remark("seat-there-too", at=str(leaf.seat[0])),
        )
    shackled = leaf.shackled_eye
    if shackled is not None and (shackled[0].mm - leaf.seat[0].mm) * ahead >= 0.0:
        yield Problem(
            "suspension.shackled_eye[1]",
            as_typed(shackled[0].typed),
            Remark("eye-at-other-end"),
            Remark("seat-and-eye", seat=str(leaf.seat[0]), eye=str(leaf.fixed_eye[0])),
        )


def _reach(spring: Leaf, travel: Travel) -> Iterator[Problem]:
    for key, sense in (("bump", 1.0), ("droop", -1.0)):
        end = sense * getattr(travel, key).mm
        corners = travel.region(0.0, 0.0).corners()
        here = np.vstack([[end, 0.0, 0.0], corners[sense * corners[:, 0] > 0.0]])
        places = spring.poses(here[:, 0], here[:, 1], 0.0).p_C_A
        reached = [bool(np.isfinite(place).all()) for place in places]
        if not all(reached):
            yield Problem(
                f"travel.{key}",
                as_typed(getattr(travel, key).typed),
                Remark("less-travel-or-eye"),
                Remark("out-of-spring", rolled=reached[0]),
            )
