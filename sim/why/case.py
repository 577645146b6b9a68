"""A rig and one of its joints, and what has to be known of them: worked out once, when asked."""

from dataclasses import dataclass
from functools import cached_property
from math import radians
from typing import Final

from geometry.errors import BindpointError
from sim.assessment import Assessment, Assessor, JointAssessment
from sim.head.bend import Head
from sim.marks import Marks, marks_of
from sim.rig import Rig
from sim.speed import LOADS, Felt, Gearing, felt
from sim.ticket.drive_said import DriveSaid, drive_said
from sim.ticket.gears import gearing_of
from sim.vehicle import Joint
from sim.vibration.case import Case as Shaken
from sim.vibration.symptom import Symptom
from sim.whirl import WhirlMargin

PAST: Final = radians(2.0)
"""Bend past the first touch at which marks are looked for where the axle never bends a joint so
far: as much as a tape and a generic yoke may be off (judgement)."""


@dataclass(frozen=True, eq=False)
class Case:
    """A rig over its travel, and the joint that failed.

    Attributes
    ----------
    found : what the rig comes to, which everything here reads.
    """

    found: Assessment
    joint: Joint

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.found.rig

    @property
    def at_joint(self) -> JointAssessment:
        """The joint over the travel."""
        return self.found.joints[self.joint]

    @property
    def head(self) -> Head | None:
        """The double-Cardan head that the joint is; None for a single cross."""
        return self.found.vehicle.heads.get(self.joint)

    @cached_property
    def said(self) -> DriveSaid:
        """What the rig says of its drive."""
        return drive_said(self.rig)

    @cached_property
    def gearing(self) -> Gearing | None:
        """What lies between shaft and road; None where it is not known."""
        return gearing_of(self.said)

    @cached_property
    def top(self) -> float | None:
        """Speed of the shaft at the rig's top speed, rad/s; None where that is not known."""
        road = self.said.numbers.get("top_speed")
        return None if self.gearing is None or road is None else self.gearing.shaft_speed(road)

    @property
    def stands_still(self) -> bool:
        """Whether the shaft does not turn on the road, its hubs being unlocked."""
        return self.rig.axle.hubs == "unlock"

    @property
    def bend(self) -> float:
        """Bend (rad) at ride height that one cross runs at: of a head's bend about half."""
        ride = self.at_joint.ride
        return ride if self.head is None else 0.5 * ride

    @cached_property
    def marks(self) -> Marks | None:
        """Where metal meets; None where the yokes never do, at any bend.

        Where the axle does not bend the joint so far, where they would meet if it did.
        """
        found = self.at_joint
        if found.curve.first is None:
            return None
        if found.margin > 0.0:
            return marks_of(self.found, self.joint, bend=found.curve.touch_min + PAST)
        return marks_of(self.found, self.joint)

    @cached_property
    def felt(self) -> Felt:
        """From which speed on the joints' shake is felt, under the worst of steady driving."""
        told = (felt(self.found.vehicle, self.gearing, load) for load in LOADS)
        return min(told, key=lambda each: each.speed)

    @cached_property
    def whirl(self) -> WhirlMargin | None:
        """The share of the critical speed in use at top speed; None where one is not known."""
        top = self.top
        if top is None or not top > 0.0:
            return None
        assessor = Assessor()
        assessor.knows(self.found)
        try:
            critical = Shaken(self.rig, Symptom(shaft=top), assessor).whirl.critical
        except BindpointError:  # a shaft that cannot be cut as described has no critical speed
            return None
        return None if critical is None else WhirlMargin(top, critical)
