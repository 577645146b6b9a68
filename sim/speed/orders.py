"""What shakes how often: orders of shaft, wheel and engine, and what each is a sign of.

The signs are common practice of the trade, without a source; they are consistent with a cause,
never proof of it.
"""

from dataclasses import dataclass
from math import pi
from typing import Literal

from sim.speed.road import Gearing

TurnsWith = Literal["shaft", "wheel", "engine"]


@dataclass(frozen=True)
class Order:
    """A way of shaking, so many times a turn of something."""

    name: str
    turns_with: TurnsWith
    per_turn: float
    felt: str
    """The symptom, as a customer says it."""
    causes: tuple[str, ...]


ORDERS: tuple[Order, ...] = (
    Order(
        "shaft, once a turn",
        "shaft",
        1.0,
        "a buzz that comes with road speed, in and out of gear, coasting in neutral too",
        (
            "imbalance",
            "bent tube or run-out",
            "lost balance weight, mud",
            "loose flange",
            "near its critical speed",
        ),
    ),
    Order(
        "shaft, twice a turn",
        "shaft",
        2.0,
        "a shudder pulling away or a drone that changes between drive, coast and neutral",
        (
            "joint bends too large or unequal",
            "ears out of phase",
            "worn or stiff joint",
            "axle wrap",
            "half of its critical speed",
        ),
    ),
    Order(
        "shaft, four times a turn",
        "shaft",
        4.0,
        "a harsh buzz under power with the shaft steeply bent",
        ("very large joint bends", "ears out of phase"),
    ),
    Order(
        "wheel, once a turn",
        "wheel",
        1.0,
        "a slow shake of wheel or seat that comes with road speed, whatever the torque",
        ("tyre or wheel out of balance", "bent wheel or axle flange"),
    ),
    Order(
        "wheel, twice a turn",
        "wheel",
        2.0,
        "a thump that comes with road speed, worst when cold",
        ("oval or flat-spotted tyre",),
    ),
    Order(
        "engine, once a turn",
        "engine",
        1.0,
        "a buzz that follows the engine, gone coasting in neutral",
        ("engine, clutch or converter", "engine mounts"),
    ),
)
"""Every order told apart here, the shaft's own first."""


@dataclass(frozen=True)
class Vibration:
    """An order at a road speed."""

    order: Order
    frequency: float
    """Hz."""


def vibrations(gearing: Gearing, road: float) -> tuple[Vibration, ...]:
    """How often each order shakes at a road speed (mm/s), in top gear and high range."""
    speeds: dict[TurnsWith, float] = {
        "shaft": gearing.shaft_speed(road),
        "wheel": gearing.wheel_speed(road),
        "engine": gearing.engine_speed(road),
    }
    return tuple(
        Vibration(order, order.per_turn * speeds[order.turns_with] / (2.0 * pi)) for order in ORDERS
    )
