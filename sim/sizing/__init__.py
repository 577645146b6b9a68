"""What a shaft is built for: the torque it gets."""

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
    "ShaftTorque",
    "Shock",
    "SizingError",
    "grab_torque",
    "shaft_torque",
]
