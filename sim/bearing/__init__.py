"""The needle bearings of a cross: rating, load on a needle, life."""

from sim.bearing.life import Duty, JointLife, duty_life, joint_life, rating_life
from sim.bearing.needles import BearingError, Needles

__all__ = [
    "BearingError",
    "Duty",
    "JointLife",
    "Needles",
    "duty_life",
    "joint_life",
    "rating_life",
]
