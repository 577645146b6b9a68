"""What sets the most torque at the axle: low gear on one side, the grip of the tyres on the other.

How far each number may be off is from memory where the file does not say; all of them off the
worst way at once bound what is told.
"""

from __future__ import annotations

from typing import Final

from sim.table.fields import Size
from sim.table.form import field, maybe
from sim.table.loads import (
    FORCE,
    TORQUE,
    Efficiency,
    Force,
    Friction,
    OffShare,
    Ratio,
    Torque,
    share_or,
)
from sim.table.part import Part
from sim.wrap.estimate import Estimate
from sim.wrap.torque import AxleTorque, grip, low_gear, pinion_torque

ENGINE_OFF: Final = 0.1
"""Share by which an engine's torque may be off what is said of it (from memory)."""
LOAD_OFF: Final = 0.1
"""The same for the weight on an axle, which driving and braking shift (from memory)."""
FRICTION_OFF: Final = 0.2
"""The same for the friction of tyres (from memory)."""


class Drive(Part):
    """What sets the most torque at the axle: engine and gears, or the grip of the tires."""

    engine_torque: Torque = field(
        "Most torque of the engine.",
        "300 lb-ft",
        "400 N m",
        asks="What is the engine's most torque?",
    )
    low_gear: Ratio = field(
        "Ratio of the lowest forward gear.", 3.8, asks="What is the ratio of first gear?"
    )
    low_range: Ratio = field(
        "Ratio of the transfer case in low range; 1 where there is none.",
        2.7,
        default=1.0,
        asks="What is the ratio of low range?",
    )
    converter: Ratio = field(
        "By how much a torque converter multiplies at stall; 1 with a clutch.",
        2.0,
        default=1.0,
        asks="By how much does the torque converter multiply at stall?",
    )
    efficiency: Efficiency = field(
        "What gearbox and transfer case let through.", 0.85, default=0.85
    )
    axle_ratio: Ratio = field(
        "Ratio of the axle: turns of the pinion for one of the wheels.",
        4.1,
        asks="What is the axle's ratio?",
    )
    axle_load: Force = field(
        "Weight on this axle, at the steepest climb or hardest stop that is meant.",
        "1900 lb",
        "860 kg",
        asks="How much weight is on this axle?",
    )
    tyre_radius: Size = field(
        "From the axle's center to the ground.",
        "16 1/2 in",
        name="tire radius",
        asks="How high is the axle's center above the ground?",
        datum="The radius of the tire under its load: such as 16 1/2 in.",
    )
    friction: Friction = field(
        "Friction of the tires on the ground.",
        1.0,
        default=1.0,
        asks="What is the friction of the tires?",
        datum="About 1 on dry rock (from memory).",
    )

    engine_torque_off: OffShare | None = maybe(
        "How far off the engine's torque may be, either way.", "5 %"
    )
    axle_load_off: OffShare | None = maybe("How far off the weight on this axle may be.", "5 %")
    friction_off: OffShare | None = maybe("How far off the friction of the tires may be.", "10 %")

    def torque(self) -> AxleTorque:
        """Most torque at both wheels together, each way."""
        share = Estimate.share
        engine = low_gear(
            share(TORQUE.sure(self.engine_torque), share_or(self.engine_torque_off, ENGINE_OFF)),
            self.low_gear,
            self.low_range,
            self.converter,
            self.efficiency,
        )
        slips = grip(
            share(FORCE.sure(self.axle_load), share_or(self.axle_load_off, LOAD_OFF)),
            share(self.friction, share_or(self.friction_off, FRICTION_OFF)),
            self.tyre_radius.mm,
            self.axle_ratio,
        )
        return AxleTorque.of(pinion_torque(engine, slips), self.axle_ratio)
