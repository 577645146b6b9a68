"""What turning does: shaft speed on the road, limits of speed and bend, shaking and its signs."""

from sim.speed.excitation import Excitation, excitation
from sim.speed.felt import Felt, FeltLimit, felt, felt_by_load
from sim.speed.limits import INERTIA, TORSIONAL, bend_limit, speed_limit
from sim.speed.load import COASTING, LOADS, UNDER_POWER, Load, driven, pose_under
from sim.speed.orders import ORDERS, Order, Vibration, vibrations
from sim.speed.phase import best_phase, cancelling_phase, whole_teeth
from sim.speed.road import ABSURD, RPM, Gearing, SpeedError

__all__ = [
    "ABSURD",
    "COASTING",
    "INERTIA",
    "LOADS",
    "ORDERS",
    "RPM",
    "TORSIONAL",
    "UNDER_POWER",
    "Excitation",
    "Felt",
    "FeltLimit",
    "Gearing",
    "Load",
    "Order",
    "SpeedError",
    "Vibration",
    "bend_limit",
    "best_phase",
    "cancelling_phase",
    "driven",
    "excitation",
    "felt",
    "felt_by_load",
    "pose_under",
    "speed_limit",
    "vibrations",
    "whole_teeth",
]
