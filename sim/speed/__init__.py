"""What turning does: shaft speed on the road, limits of speed and bend, shaking and its signs."""

from sim.speed.excitation import Excitation, excitation, order_amplitudes
from sim.speed.limits import (
    INERTIA,
    TORSIONAL,
    bend_limit,
    second_bend_limit,
    speed_angle,
    speed_limit,
)
from sim.speed.orders import (
    ORDERS,
    Order,
    Vibration,
    nearest_orders,
    road_speed_of,
    vibrations,
)
from sim.speed.phase import BestPhase, best_phase, cancelling_phase, whole_teeth
from sim.speed.road import Gearing, GearSpeed, SpeedError

__all__ = [
    "INERTIA",
    "ORDERS",
    "TORSIONAL",
    "BestPhase",
    "Excitation",
    "GearSpeed",
    "Gearing",
    "Order",
    "SpeedError",
    "Vibration",
    "bend_limit",
    "best_phase",
    "cancelling_phase",
    "excitation",
    "nearest_orders",
    "order_amplitudes",
    "road_speed_of",
    "second_bend_limit",
    "speed_angle",
    "speed_limit",
    "vibrations",
    "whole_teeth",
]
