"""What shakes how often: orders of shaft, wheel and engine, and what each is a sign of.

The signs are common practice of the trade, without a source; they are consistent with a cause,
never proof of it.
"""

from dataclasses import dataclass
from math import pi
from typing import Literal

from sim.quantities import require_not_negative, require_positive
from sim.speed.road import Gearing, SpeedError

TurnsWith = Literal["shaft", "wheel", "engine"]


@dataclass(frozen=True)
class Order:
    """A way of shaking, so many times a turn of something."""

    name: str
    turns_with: TurnsWith
    per_turn: float
    grows_with: Literal["speed", "torque", "speed and torque"]
    """What makes it worse."""
    felt: str
    """The symptom, as a customer says it."""
    causes: tuple[str, ...]
    source: str = "common practice, no source"


ORDERS: tuple[Order, ...] = (
    Order(
        "shaft, once a turn",
        "shaft",
        1.0,
        "speed",
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
        "speed and torque",
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
        "speed and torque",
        "a harsh buzz under power with the shaft steeply bent",
        ("very large joint bends", "ears out of phase"),
    ),
    Order(
        "wheel, once a turn",
        "wheel",
        1.0,
        "speed",
        "a slow shake of wheel or seat that comes with road speed, whatever the torque",
        ("tyre or wheel out of balance", "bent wheel or axle flange"),
    ),
    Order(
        "wheel, twice a turn",
        "wheel",
        2.0,
        "speed",
        "a thump that comes with road speed, worst when cold",
        ("oval or flat-spotted tyre",),
    ),
    Order(
        "engine, once a turn",
        "engine",
        1.0,
        "speed",
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


def vibrations(
    gearing: Gearing, road: float, gear: int = -1, low: int = 0
) -> tuple[Vibration, ...]:
    """How often each order shakes at a road speed (mm/s), in a gear and range by their place."""
    speeds: dict[TurnsWith, float] = {
        "shaft": gearing.shaft_speed(road),
        "wheel": gearing.wheel_speed(road),
        "engine": gearing.engine_speed(road, gear, low),
    }
    return tuple(
        Vibration(order, order.per_turn * speeds[order.turns_with] / (2.0 * pi)) for order in ORDERS
    )


def nearest_orders(
    gearing: Gearing, road: float, frequency: float, gear: int = -1, low: int = 0
) -> tuple[Vibration, ...]:
    """Every order, the one nearest to a measured frequency (Hz) first, by ratio.

    A phone that counts the shaking tells Hz; a ratio near 1 points at what shakes.
    """
    require_positive(SpeedError, frequency=frequency, road_speed=road)
    found = vibrations(gearing, road, gear, low)
    return tuple(sorted(found, key=lambda v: max(v.frequency / frequency, frequency / v.frequency)))


def road_speed_of(gearing: Gearing, frequency: float, per_turn: float = 1.0) -> float:
    """Road speed (mm/s) at which the shaft shakes `per_turn` times a turn at a frequency (Hz).

    With the critical speed as the frequency: where once a turn (1) or twice a turn (2) meets it.
    """
    require_positive(SpeedError, per_turn=per_turn)
    require_not_negative(SpeedError, frequency=frequency)
    return gearing.road_speed(2.0 * pi * frequency / per_turn)
