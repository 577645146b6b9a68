"""From which speed on the shake of a rig's joints is felt, on the road if its gears are known."""

from sim.derive import vehicle_of
from sim.rig import Rig
from sim.speed import Felt, Load, felt
from sim.ticket.drive_said import drive_said
from sim.ticket.gears import gearing_of


def felt_of(rig: Rig, load: Load = "level") -> Felt:
    """The speed under a load at ride height."""
    return felt(vehicle_of(rig), gearing_of(drive_said(rig)), load)
