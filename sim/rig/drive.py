"""What drives the shaft, and how fast: the numbers that a build ticket is sized by."""

from typing import Final, Literal

from sim.table.fields import Size
from sim.table.form import maybe, maybe_as
from sim.table.loads import Efficiency, Force, Friction, Grade, Ratio, RoadSpeed, Torque, Turning
from sim.table.part import Part
from sim.wrap.drive import Drive


class DriveTable(Part):
    """What drives the shaft, for the build ticket, which says what it cannot tell without.

    Every key may be left out. What [wrap.drive] says of the same is used where this table says
    nothing.
    """

    engine_torque: Torque | None = maybe_as(Drive, "engine_torque")
    low_gear: Ratio | None = maybe_as(Drive, "low_gear")
    low_range: Ratio | None = maybe_as(
        Drive, "low_range", "Ratio of the transfer case in low range."
    )
    converter: Ratio | None = maybe_as(Drive, "converter")
    gearbox_efficiency: Efficiency | None = maybe(
        "What the gearbox lets through in low gear.",
        0.85,
        asks="How much of the torque does the gearbox let through?",
        datum="As a share: such as 0.85 for a manual one, 0.8 for an automatic (common practice, "
        "no source).",
    )
    case_efficiency: Efficiency | None = maybe(
        "What the transfer case lets through.",
        0.95,
        asks="How much of the torque does the transfer case let through?",
        datum="As a share: such as 0.95.",
    )
    share: Efficiency | None = maybe(
        "Of the transfer case's torque, what this shaft can get; 1 where it locks.",
        1.0,
        asks="How much of the transfer case's torque can this shaft get?",
        datum="As a share: 1 where the case locks, or drives this axle alone.",
    )
    axle_ratio: Ratio | None = maybe_as(Drive, "axle_ratio")
    axle_load: Force | None = maybe_as(
        Drive, "axle_load", "Weight on this axle, at the steepest climb that is meant."
    )
    tyre_radius: Size | None = maybe_as(Drive, "tyre_radius")
    friction: Friction | None = maybe_as(Drive, "friction")
    use: Literal["road", "trail"] | None = maybe(
        "road: tires that slip save the shaft. trail: a wedged tire cannot slip.",
        asks="Is it for the road or the trail?",
    )
    comes_on: Literal["slowly", "abruptly"] | None = maybe(
        "How torque comes on: abruptly doubles it for a moment.",
        asks="How does the torque come on?",
        datum="slowly, or abruptly: a dropped clutch doubles it for a moment.",
    )
    top_speed: RoadSpeed | None = maybe(
        "Fastest on the road.",
        asks="How fast is it on the road, at most?",
    )
    top_gear: Ratio | None = maybe(
        "Ratio of the highest gear: under 1 for an overdrive.",
        0.75,
        asks="What is the ratio of the highest gear?",
    )
    engine_top: Turning | None = maybe(
        "Fastest that the engine turns.",
        asks="How fast does the engine turn, at most?",
    )
    cruise: Efficiency | None = maybe(
        "Share of the engine's most torque that a steady cruise in top gear takes.",
        0.4,
        asks="How much of the engine's torque does a steady cruise take?",
        datum="As a share, for how long the joints' needles last: such as 0.4.",
    )
    balance: Grade | None = maybe(
        "Balance grade that is wanted.",
        asks="Which balance grade is wanted?",
    )


SAME: Final = tuple(key for key in DriveTable.model_fields if key in Drive.model_fields)
"""Keys that [wrap.drive] has by the same name."""
