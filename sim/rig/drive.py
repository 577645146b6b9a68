"""What drives the shaft, and how fast: the numbers that a build ticket is sized by."""

from typing import Literal

from sim.table.fields import Size
from sim.table.form import maybe
from sim.table.loads import Efficiency, Force, Friction, Grade, Ratio, RoadSpeed, Torque, Turning
from sim.table.part import Part


class DriveTable(Part):
    """What drives the shaft, for the build ticket, which says what it cannot tell without.

    Every key may be left out. What [wrap.drive] says of the same is used where this table says
    nothing.
    """

    engine_torque: Torque | None = maybe("Most torque of the engine.", "300 lb-ft")
    low_gear: Ratio | None = maybe("Ratio of the lowest forward gear.", 3.8)
    low_range: Ratio | None = maybe("Ratio of the transfer case in low range.", 2.7)
    converter: Ratio | None = maybe(
        "By how much a torque converter multiplies at stall; 1 with a clutch.", 2.0
    )
    gearbox_efficiency: Efficiency | None = maybe(
        "What the gearbox lets through in low gear.", 0.85
    )
    case_efficiency: Efficiency | None = maybe("What the transfer case lets through.", 0.95)
    share: Efficiency | None = maybe(
        "Of the transfer case's torque, what this shaft can get; 1 where it locks.", 1.0
    )
    axle_ratio: Ratio | None = maybe(
        "Ratio of the axle: turns of the pinion for one of the wheels.", 4.1
    )
    axle_load: Force | None = maybe(
        "Weight on this axle, at the steepest climb that is meant.", "1900 lb"
    )
    tyre_radius: Size | None = maybe("From the axle's centre to the ground.", "16 1/2 in")
    friction: Friction | None = maybe("Friction of the tyres on the ground.", 1.0)
    use: Literal["road", "trail"] | None = maybe(
        "road: tyres that slip save the shaft. trail: a wedged tyre cannot slip."
    )
    comes_on: Literal["slowly", "abruptly"] | None = maybe(
        "How torque comes on: abruptly doubles it for a moment."
    )
    top_speed: RoadSpeed | None = maybe("Fastest on the road.")
    top_gear: Ratio | None = maybe("Ratio of the highest gear: under 1 for an overdrive.", 0.75)
    engine_top: Turning | None = maybe("Fastest that the engine turns.")
    cruise: Efficiency | None = maybe(
        "Share of the engine's most torque that a steady cruise in top gear takes.", 0.4
    )
    balance: Grade | None = maybe("Balance grade that is wanted.")
