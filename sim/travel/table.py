"""How far the axle goes from ride height."""

from typing import Literal

from sim.table.fields import Distance, Swing
from sim.table.form import field, maybe
from sim.table.loads import ALL, LeftShare, share_or
from sim.table.part import Part
from sim.travel.region import TravelRegion


class Travel(Part):
    """The axle's travel; each number is a distance from ride height, and zero closes it."""

    bump: Distance = field("How far the axle goes up from ride height, to its stops.", "4 in")
    droop: Distance = field(
        "How far the axle hangs down from ride height, to its straps or shocks.", "8 in"
    )
    roll: Swing = field(
        "How far the axle rolls each way, one wheel up and the other down.", "8 deg"
    )
    stops_apart: Distance = field(
        "Distance, left to right, of the places on the axle where its stops, shocks or "
        "straps act. One side down on its strap, the axle cannot roll farther that way.",
        "32 in",
    )
    droop_strap: Literal["sides", "middle"] = field(
        "What ends the droop: straps or shocks at both sides, or a single strap in the "
        "middle, which leaves the axle free to roll at full droop.",
        default="sides",
    )
    nose_up: Swing | None = maybe(
        "Axle wrap that lifts the nose of the pinion: driving forward on a rear axle, "
        "braking on a front axle. Worked out where there is a [wrap] table.",
        "8 deg",
    )
    nose_down: Swing | None = maybe(
        "Axle wrap that lowers the nose of the pinion: braking or reversing on a rear "
        "axle, driving forward on a front axle. Worked out where there is a [wrap] table.",
        "4 deg",
    )
    wrap_at_droop: LeftShare = field(
        "How much of the axle wrap is left at full droop. Torque needs load on the "
        "tyres; from ride height down to full droop the wrap falls evenly to that share.",
        "40 %",
        default="100 %",
    )

    def region(self, nose_up: float, nose_down: float) -> TravelRegion:
        """The poses that there are, with so much wrap (rad) each way."""
        return TravelRegion(
            bump=self.bump.mm,
            droop=self.droop.mm,
            roll=self.roll.rad,
            nose_up=nose_up,
            nose_down=nose_down,
            stops_apart=self.stops_apart.mm,
            droop_strap=self.droop_strap,
            wrap_at_droop=share_or(self.wrap_at_droop, ALL),
        )
