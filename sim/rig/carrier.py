"""The carrier bearing of a two-piece shaft, and the joint behind it."""

from typing import ClassVar, Final, Literal

from sim.rig.bench import BENCH, BenchReadings
from sim.rig.choice import CrossChoice, YokeChoice
from sim.rig.shaft import STRAP_BOLT, STRAP_NUTS
from sim.table.fields import Point, Size, Turn
from sim.table.form import field, maybe
from sim.table.loads import Torque
from sim.table.part import Part

_AS_AT_THE_ENDS: Final = "A size or kind as at the ends of the shaft."


class MiddleJoint(Part):
    """The joint between the front section and the rear one."""

    yokes: ClassVar = ("front_yoke", "shaft_yoke")
    """Keys of both yokes, from the engine on."""

    joint: Literal["single"] = field("Kind of joint.")
    cross: CrossChoice = field(
        asks="Which size is the cross of the middle joint?", datum=_AS_AT_THE_ENDS
    )
    front_yoke: YokeChoice = field(
        "The yoke that ends the front section.",
        asks="Which kind of yoke ends the front section?",
        datum=_AS_AT_THE_ENDS,
    )
    shaft_yoke: YokeChoice = field(
        "The yoke on the rear section.",
        asks="Which kind of yoke is on the rear section at the middle joint?",
        datum=_AS_AT_THE_ENDS,
    )
    strap_nuts: Torque | None = STRAP_NUTS
    strap_bolt: Size | None = STRAP_BOLT
    bench: BenchReadings = BENCH


class Carrier(Part):
    """The bearing that holds the end of the front section of a two-piece shaft."""

    bearing: Point = field(
        "Middle of the bearing from the center of the axle housing: forward, left, up.",
        ["52 in", "0 in", "8 in"],
        called="the carrier bearing",
    )
    middle_joint_beyond: Size = field(
        "From the bearing to the center of the middle joint, along the front section.",
        "3 1/2 in",
        asks="How far beyond the bearing is the center of the middle joint?",
    )
    bearing_stub: Size | None = maybe(
        "From the end of the front section's tube to the middle of the bearing: the "
        "stub that is welded in.",
        "4 in",
        asks="How long is the stub between the front tube and the bearing?",
        otherwise="not known",
    )
    phase: Turn = field(
        "Turn of the ears at the middle joint against those at the output, on the "
        "front section; zero when they are in line.",
        "0 deg",
        asks="How far are the ears at the middle joint turned against those at the output?",
    )
    middle: MiddleJoint = field(name="Middle joint")
