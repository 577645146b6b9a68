"""The axle on links: any set of links, wishbones, radius arms, a torque arm, a track bar."""

from sim.suspension.links.bushes import GENERIC_GIVE, GENERIC_STIFFNESS
from sim.suspension.links.freedom import Loose
from sim.suspension.links.give import Give
from sim.suspension.links.members import Arm, Link, Member, TorqueArm, Wishbone
from sim.suspension.links.motion import Links
from sim.suspension.links.torque import TorqueGive, under_torque

__all__ = [
    "GENERIC_GIVE",
    "GENERIC_STIFFNESS",
    "Arm",
    "Give",
    "Link",
    "Links",
    "Loose",
    "Member",
    "TorqueArm",
    "TorqueGive",
    "Wishbone",
    "under_torque",
]
