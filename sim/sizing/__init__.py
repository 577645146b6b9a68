"""What a shaft is built for: the torque it gets, the joint that takes it."""

from sim.sizing.joint_size import joint_strength, smallest_joint
from sim.sizing.torque import (
    ABRUPT,
    SMOOTH,
    Axle,
    Drive,
    ShaftTorque,
    SizingError,
    shaft_torque,
)

__all__ = [
    "ABRUPT",
    "SMOOTH",
    "Axle",
    "Drive",
    "ShaftTorque",
    "SizingError",
    "joint_strength",
    "shaft_torque",
    "smallest_joint",
]
