"""The carrier bearing of a two-piece shaft, and the joint behind it."""

from typing import Literal

from sim.rig.choice import CrossChoice, YokeChoice
from sim.table.fields import Point, Size, Turn
from sim.table.form import field, maybe
from sim.table.loads import Torque
from sim.table.part import Part


class MiddleJoint(Part):
    """The joint between the front section and the rear one."""

    joint: Literal["single"] = field("Kind of joint.")
    cross: CrossChoice
    front_yoke: YokeChoice = field("The yoke that ends the front section.")
    shaft_yoke: YokeChoice = field("The yoke on the rear section.")
    strap_nuts: Torque | None = maybe(
        "What the part maker gives for the nuts or bolts of the straps at this joint. "
        "It goes by the size of the bolt, so no figure of another joint stands in for it.",
        "20 lb-ft",
    )
    strap_bolt: Size | None = maybe("Diameter of these bolts over their thread.", "5/16 in")


class Carrier(Part):
    """The bearing that holds the end of the front section of a two-piece shaft."""

    bearing: Point = field(
        "Middle of the bearing from the centre of the axle housing: forward, left, up.",
        ["52 in", "0 in", "8 in"],
    )
    middle_joint_beyond: Size = field(
        "From the bearing to the centre of the middle joint, along the front section.", "3 1/2 in"
    )
    bearing_stub: Size | None = maybe(
        "From the end of the front section's tube to the middle of the bearing: the "
        "stub that is welded in.",
        "4 in",
    )
    phase: Turn = field(
        "Turn of the ears at the middle joint against those at the output, on the "
        "front section; zero when they are in line.",
        "0 deg",
    )
    middle: MiddleJoint
