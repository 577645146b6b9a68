"""The axle on two leaf springs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pydantic import Field

from sim.frames import Vec3
from sim.rig.fields import Point, millimetres
from sim.rig.ride import Ride
from sim.rig.suspension.base import SuspensionPart

if TYPE_CHECKING:
    from sim.suspension import Leaf


class LeafTable(SuspensionPart):
    """Two leaf springs, mirrored; the left one is given."""

    kind: Literal["leaf"] = Field(description="Two leaf springs.")
    fixed_eye: Point = Field(
        description="Eye of the left spring that turns on the frame: forward, left, up from the "
        "centre of the axle housing.",
        examples=[["24 in", "20 in", "4 in"]],
    )
    seat: Point = Field(
        description="Where the left spring sits on the axle: forward, left, up.",
        examples=[["0 in", "20 in", "3 in"]],
    )
    shackled_eye: Point | None = Field(
        None,
        description="Eye of the left spring that hangs in the shackle, where known: forward, "
        "left, up.",
        examples=[["-28 in", "20 in", "5 in"]],
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
