"""How far the axle goes from ride height."""

from typing import Literal

from pydantic import Field

from sim.rig.fields import Distance, Swing
from sim.rig.loads import ALL, LeftShare, share_or
from sim.rig.part import Part
from sim.travel.region import TravelRegion


class Travel(Part):
    """The axle's travel; each number is a distance from ride height, and zero closes it."""

    bump: Distance = Field(
        description="How far the axle goes up from ride height, to its stops.", examples=["4 in"]
    )
    droop: Distance = Field(
        description="How far the axle hangs down from ride height, to its straps or shocks.",
        examples=["8 in"],
    )
    roll: Swing = Field(
        description="How far the axle rolls each way, one wheel up and the other down.",
        examples=["8 deg"],
    )
    stops_apart: Distance = Field(
        description="Distance, left to right, of the places on the axle where its stops, shocks or "
        "straps act. One side down on its strap, the axle cannot roll farther that way.",
        examples=["32 in"],
    )
    droop_strap: Literal["sides", "middle"] = Field(
        "sides",
        description="What ends the droop: straps or shocks at both sides, or a single strap in the "
        "middle, which leaves the axle free to roll at full droop.",
    )
    nose_up: Swing | None = Field(
        None,
        description="Axle wrap that lifts the nose of the pinion: driving forward on a rear axle, "
        "braking on a front axle. Worked out where there is a [wrap] table.",
        examples=["8 deg"],
    )
    nose_down: Swing | None = Field(
        None,
        description="Axle wrap that lowers the nose of the pinion: braking or reversing on a rear "
        "axle, driving forward on a front axle. Worked out where there is a [wrap] table.",
        examples=["4 deg"],
    )
    wrap_at_droop: LeftShare = Field(
        "100 %",
        description="How much of the axle wrap is left at full droop. Torque needs load on the "
        "tyres; from ride height down to full droop the wrap falls evenly to that share.",
        examples=["40 %"],
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
