"""What drives the shaft, and how fast: the numbers that a build ticket is sized by."""

from typing import Literal

from pydantic import Field

from sim.rig.fields import Size
from sim.rig.loads import Efficiency, Force, Friction, Grade, Ratio, RoadSpeed, Torque, Turning
from sim.rig.part import Part


class DriveTable(Part):
    """What drives the shaft, for the build ticket, which says what it cannot tell without.

    Every key may be left out. What [wrap.drive] says of the same is used where this table says
    nothing.
    """

    engine_torque: Torque | None = Field(
        None, description="Most torque of the engine.", examples=["300 lb-ft"]
    )
    low_gear: Ratio | None = Field(
        None, description="Ratio of the lowest forward gear.", examples=[3.8]
    )
    low_range: Ratio | None = Field(
        None, description="Ratio of the transfer case in low range.", examples=[2.7]
    )
    converter: Ratio | None = Field(
        None,
        description="By how much a torque converter multiplies at stall; 1 with a clutch.",
        examples=[2.0],
    )
    gearbox_efficiency: Efficiency | None = Field(
        None, description="What the gearbox lets through in low gear.", examples=[0.85]
    )
    case_efficiency: Efficiency | None = Field(
        None, description="What the transfer case lets through.", examples=[0.95]
    )
    share: Efficiency | None = Field(
        None,
        description="Of the transfer case's torque, what this shaft can get; 1 where it locks.",
        examples=[1.0],
    )
    axle_ratio: Ratio | None = Field(
        None,
        description="Ratio of the axle: turns of the pinion for one of the wheels.",
        examples=[4.1],
    )
    axle_load: Force | None = Field(
        None,
        description="Weight on this axle, at the steepest climb that is meant.",
        examples=["1900 lb"],
    )
    tyre_radius: Size | None = Field(
        None, description="From the axle's centre to the ground.", examples=["16 1/2 in"]
    )
    friction: Friction | None = Field(
        None, description="Friction of the tyres on the ground.", examples=[1.0]
    )
    use: Literal["road", "trail"] | None = Field(
        None,
        description="road: tyres that slip save the shaft. trail: a wedged tyre cannot slip.",
    )
    comes_on: Literal["slowly", "abruptly"] | None = Field(
        None, description="How torque comes on: abruptly doubles it for a moment."
    )
    top_speed: RoadSpeed | None = Field(None, description="Fastest on the road.")
    top_gear: Ratio | None = Field(
        None, description="Ratio of the highest gear: under 1 for an overdrive.", examples=[0.75]
    )
    engine_top: Turning | None = Field(None, description="Fastest that the engine turns.")
    cruise: Efficiency | None = Field(
        None,
        description="Share of the engine's most torque that a steady cruise in top gear takes.",
        examples=[0.4],
    )
    balance: Grade | None = Field(None, description="Balance grade that is wanted.")
