"""The axle on two leaf springs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from sim.frames import Vec3
from sim.rig.fields import Point, millimetres
from sim.rig.form import field, maybe
from sim.rig.ride import Ride
from sim.rig.suspension.base import SuspensionPart

if TYPE_CHECKING:
    from sim.suspension import Leaf


class LeafTable(SuspensionPart):
    """Two leaf springs, mirrored; the left one is given."""

    kind: Literal["leaf"] = field("Two leaf springs.")
    fixed_eye: Point = field(
        "Eye of the left spring that turns on the frame: forward, left, up from the "
        "centre of the axle housing.",
        ["24 in", "20 in", "4 in"],
    )
    seat: Point = field(
        "Where the left spring sits on the axle: forward, left, up.", ["0 in", "20 in", "3 in"]
    )
    shackled_eye: Point | None = maybe(
        "Eye of the left spring that hangs in the shackle, where known: forward, left, up.",
        ["-28 in", "20 in", "5 in"],
    )

    def build(self, ride: Ride, wrap_centre: Vec3) -> Leaf:
        """Build the suspension of the mathematics."""
        return self.springs(ride.front, wrap_centre)

    def springs(self, front: bool = False, wrap_centre: Vec3 = (0.0, 0.0, 0.0)) -> Leaf:
        """Build the two springs, which do not depend on where the shaft lies."""
        from sim.suspension import Leaf  # noqa: PLC0415

        shackled = self.shackled_eye
        return Leaf(
            front=front,
            wrap_centre=wrap_centre,
            fixed_eye=millimetres(self.fixed_eye),
            seat=millimetres(self.seat),
            shackled_eye=None if shackled is None else millimetres(shackled),
        )
