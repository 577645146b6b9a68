"""Suspensions: how the axle housing moves. One file a kind."""

from sim.suspension.base import AxlePoses, EulerSuspension, Motion, Suspension, SuspensionError
from sim.suspension.vertical import Vertical

__all__ = [
    "AxlePoses",
    "EulerSuspension",
    "Motion",
    "Suspension",
    "SuspensionError",
    "Vertical",
]
