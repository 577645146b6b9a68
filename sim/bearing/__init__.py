"""The needle bearings of a cross: rating, load on a needle, life."""

from sim.bearing.life import JointLife, joint_life, rating_life
from sim.bearing.needles import BearingError, Needles

__all__ = [
    "BearingError",
    "JointLife",
    "Needles",
    "joint_life",
    "rating_life",
]
