"""The carrier bearing of a two-piece shaft, and the joint behind it."""

from typing import Literal

from pydantic import Field

from sim.rig.choice import CrossChoice, YokeChoice
from sim.rig.fields import Point, Size, Turn
from sim.rig.loads import Torque
from sim.rig.part import Part


class MiddleJoint(Part):
    """The joint between the front section and the rear one."""

    joint: Literal["single"] = Field(description="Kind of joint.")
    cross: CrossChoice
    front_yoke: YokeChoice = Field(description="The yoke that ends the front section.")
    shaft_yoke: YokeChoice = Field(description="The yoke on the rear section.")
    strap_nuts: Torque | None = Field(
        None,
        description="What the part maker gives for the nuts or bolts of the straps at this joint. "
        "It goes by the size of the bolt, so no figure of another joint stands in for it.",
        examples=["20 lb-ft"],
    )
    strap_bolt: Size | None = Field(
        None,
        description="Diameter of these bolts over their thread.",
        examples=["5/16 in"],
    )


class Carrier(Part):
    """The bearing that holds the end of the front section of a two-piece shaft."""

    bearing: Point = Field(
        description="Middle of the bearing from the centre of the axle housing: forward, left, up.",
        examples=[["52 in", "0 in", "8 in"]],
    )
    middle_joint_beyond: Size = Field(
        description="From the bearing to the centre of the middle joint, along the front section.",
        examples=["3 1/2 in"],
    )
    bearing_stub: Size | None = Field(
        None,
        description="From the end of the front section's tube to the middle of the bearing: the "
        "stub that is welded in.",
        examples=["4 in"],
    )
    phase: Turn = Field(
        description="Turn of the ears at the middle joint against those at the output, on the "
        "front section; zero when they are in line.",
        examples=["0 deg"],
    )
    middle: MiddleJoint
