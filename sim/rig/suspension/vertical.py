"""The table of the suspension of which nothing is known but its travel."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from sim.frames import Vec3
from sim.rig.form import field
from sim.rig.ride import Ride
from sim.rig.suspension.base import SuspensionPart

if TYPE_CHECKING:
    from sim.suspension import Vertical


class VerticalTable(SuspensionPart):
    """The axle goes straight up and down, and rolls about its own centre."""

    kind: Literal["vertical"] = field("Straight up and down.")

    def build(self, ride: Ride, wrap_centre: Vec3) -> Vertical:
        """Build the suspension of the mathematics."""
        from sim.suspension import Vertical  # noqa: PLC0415

        return Vertical(front=ride.front, wrap_centre=wrap_centre)
