"""How strong the parts of a shaft are at a torque and a bend; one member a file.

Static strength of nominal sections: no notch, no fatigue, no wear. Nothing here certifies a shaft.
"""

from sim.strength.clamp import BoltedCap, clamp_members
from sim.strength.couples import JointLoad, joint_load, slip_thrust
from sim.strength.cross import Trunnion, needle_member, trunnion_members
from sim.strength.ear import Ear, ear_members
from sim.strength.flange import FlangeBolts, flange_members
from sim.strength.member import Member, Strength, StrengthError, weakest_of
from sim.strength.shaft import JointEnd, ShaftParts, YokeEnd, joint_members, shaft_strength
from sim.strength.spline import Spline, spline_members
from sim.strength.tube import buckling_shear, tube_members
from sim.strength.weld import WeldRing, weld_members

__all__ = [
    "BoltedCap",
    "Ear",
    "FlangeBolts",
    "JointEnd",
    "JointLoad",
    "Member",
    "ShaftParts",
    "Spline",
    "Strength",
    "StrengthError",
    "Trunnion",
    "WeldRing",
    "YokeEnd",
    "buckling_shear",
    "clamp_members",
    "ear_members",
    "flange_members",
    "joint_load",
    "joint_members",
    "needle_member",
    "shaft_strength",
    "slip_thrust",
    "spline_members",
    "trunnion_members",
    "tube_members",
    "weakest_of",
    "weld_members",
]
