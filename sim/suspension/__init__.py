"""Suspensions: how the axle housing moves. One file a kind, one line in `KINDS`."""

from sim.suspension.base import AxlePoses, EulerSuspension, Motion, Suspension, SuspensionError
from sim.suspension.leaf import Leaf
from sim.suspension.links import Links
from sim.suspension.measured import Measured, Reading
from sim.suspension.vertical import Vertical

KINDS: dict[str, type[Suspension]] = {
    "vertical": Vertical,
    "measured": Measured,
    "leaf": Leaf,
    "links": Links,
}
"""The kinds by the name they have in a rig file."""

__all__ = [
    "KINDS",
    "AxlePoses",
    "EulerSuspension",
    "Leaf",
    "Links",
    "Measured",
    "Motion",
    "Reading",
    "Suspension",
    "SuspensionError",
    "Vertical",
]
