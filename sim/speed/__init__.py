"""What turning does: shaft speed on the road, limits of speed and bend, shaking and its signs."""

from sim.speed.excitation import Excitation, excitation
from sim.speed.limits import INERTIA, TORSIONAL, bend_limit, speed_limit
from sim.speed.orders import ORDERS, Order, Vibration, vibrations
from sim.speed.phase import best_phase, cancelling_phase, whole_teeth
from sim.speed.road import Gearing, SpeedError

__all__ = [
    "INERTIA",
    "ORDERS",
    "TORSIONAL",
    "Excitation",
    "Gearing",
    "Order",
    "SpeedError",
    "Vibration",
    "bend_limit",
    "best_phase",
    "cancelling_phase",
    "excitation",
    "speed_limit",
    "vibrations",
    "whole_teeth",
]
