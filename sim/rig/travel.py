"""How far the axle goes from ride height."""

from pydantic import Field

from sim.rig.fields import Distance, Swing
from sim.rig.part import Part


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
