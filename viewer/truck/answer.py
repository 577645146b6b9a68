"""What `bindpoint truck` found: what was seen on it, and its visits."""

from __future__ import annotations

from dataclasses import dataclass

from sim.rig import Rig
from sim.truck.held import HeldAgainst
from sim.visits.visits import Visits


@dataclass(frozen=True)
class TruckAnswer:
    """Both, of one rig."""

    rig: Rig
    held: HeldAgainst
    visits: Visits
