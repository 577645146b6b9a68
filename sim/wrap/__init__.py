"""Axle wrap in degrees: from a simple test, from spring data, from bushes; with its spread."""

from sim.wrap.bushes import STIFFNESS_OFF, BushWrap, bush_wrap
from sim.wrap.estimate import Estimate, WrapError, carried
from sim.wrap.noses import AxleTorque, AxleWrap, both_ways, distance
from sim.wrap.simple_test import ANGLE_READING, MARK_READING, MeasuredWrap, from_angles, from_mark
from sim.wrap.springs import HalfRates, SpringWrap, from_leaves, from_rate, spring_wrap
from sim.wrap.torque import PinionTorque, grip, low_gear, pinion_torque, torque_of_pull

__all__ = [
    "ANGLE_READING",
    "MARK_READING",
    "STIFFNESS_OFF",
    "AxleTorque",
    "AxleWrap",
    "BushWrap",
    "Estimate",
    "HalfRates",
    "MeasuredWrap",
    "PinionTorque",
    "SpringWrap",
    "WrapError",
    "both_ways",
    "bush_wrap",
    "carried",
    "distance",
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
