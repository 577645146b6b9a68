"""Axle wrap in degrees: from a simple test, from spring data, from bushes; with its spread."""

from sim.wrap.bushes import BushWrap, bush_wrap
from sim.wrap.estimate import Estimate, WrapError, carried
from sim.wrap.simple_test import MeasuredWrap, from_angles, from_mark
from sim.wrap.springs import HalfRates, SpringWrap, from_leaves, from_rate, spring_wrap
from sim.wrap.torque import PinionTorque, grip, low_gear, pinion_torque, torque_of_pull

__all__ = [
    "BushWrap",
    "Estimate",
    "HalfRates",
    "MeasuredWrap",
    "PinionTorque",
    "SpringWrap",
    "WrapError",
    "bush_wrap",
    "carried",
    "from_angles",
    "from_leaves",
    "from_mark",
    "from_rate",
    "grip",
    "low_gear",
    "pinion_torque",
    "spring_wrap",
    "torque_of_pull",
]
