"""What a shaft is built for: the torque it gets, the joint that takes it."""

from sim.sizing.joint_size import JointSize, generic_joint, joint_sizes, smallest_joint
from sim.sizing.torque import (
    ABRUPT,
    SMOOTH,
    Axle,
    Drive,
    ShaftTorque,
    Shock,
    SizingError,
    grab_torque,
    shaft_torque,
)

__all__ = [
    "ABRUPT",
    "SMOOTH",
    "Axle",
    "Drive",
    "JointSize",
    "ShaftTorque",
    "Shock",
    "SizingError",
    "generic_joint",
    "grab_torque",
    "joint_sizes",
    "shaft_torque",
    "smallest_joint",
]
