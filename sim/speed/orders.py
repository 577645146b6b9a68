"""What shakes how often: orders of shaft, wheel and engine."""

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


ORDERS: tuple[Order, ...] = (
    Order("shaft, once a turn", "shaft", 1.0),
    Order("shaft, twice a turn", "shaft", 2.0),
    Order("shaft, four times a turn", "shaft", 4.0),
    Order("wheel, once a turn", "wheel", 1.0),
    Order("wheel, twice a turn", "wheel", 2.0),
    Order("engine, once a turn", "engine", 1.0),
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
