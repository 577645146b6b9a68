"""What a rig comes to: every joint, the slip and the reach over the whole travel."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import degrees

from geometry.contact.gap import Gap
from geometry.contact.touch import Contact, TouchCurve
from sim.assessment.joint_room import JointRoom
from sim.assessment.limits import Limits
from sim.head.hardware import EndHardware
from sim.rig import Rig
from sim.search.envelope import Envelope, JointSweep
from sim.vehicle import Joint, Pose, Vehicle


@dataclass(frozen=True)
class JointAssessment:
    """One joint over the whole travel.

    Attributes
    ----------
    room : its parts, and how far it may bend.
    sweep : the bends it meets.
    """

    room: JointRoom
    sweep: JointSweep

    @property
    def hardware(self) -> EndHardware:
        """Its parts."""
        return self.room.hardware

    @property
    def curve(self) -> TouchCurve:
        """When they touch."""
        return self.room.touch

    @property
    def clear(self) -> float:
        """Certified clear bend, rad."""
        return self.room.clear

    @property
    def most(self) -> float:
        """The worst bend, rad."""
        return self.sweep.most.value

    @property
    def where(self) -> Pose:
        """Where that is."""
        return self.sweep.most.at

    @property
    def ride(self) -> float:
        """Bend at ride height, rad."""
        return self.sweep.ride

    @property
    def margin(self) -> float:
        """Bend (rad) left between the worst pose and the certified clear bend."""
        return self.room.left(self.most)

    @cached_property
    def gap(self) -> Gap:
        """Smallest gap over a turn at the worst bend."""
        return self.hardware.smallest_gap(min(self.most, self.curve.limit))

    @property
    def meeting(self) -> Gap | Contact:
        """What meets: at first touch where it touches, else what is nearest at the worst bend."""
        first = self.curve.first
        return first if first is not None and self.margin <= 0.0 else self.gap


@dataclass(frozen=True, kw_only=True)
class Assessment(Limits):
    """What a rig comes to, found by sweeping its whole travel.

    Two are equal where the numbers are.

    Attributes
    ----------
    rig, vehicle : what was asked.
    joints : from the output to the pinion.
    swept : the extremes over the travel.
    uneven : rad by which the pinion leads and lags at ride height.
    length : mm between the joints at ride height.
    """

    rig: Rig = field(compare=False, repr=False)
    vehicle: Vehicle = field(compare=False, repr=False)
    joints: Mapping[Joint, JointAssessment] = field(compare=False, repr=False)
    swept: Envelope = field(compare=False, repr=False)
    uneven: float
    length: float

    @property
    def parts(self) -> dict[Joint, EndHardware]:
        """Built parts of every joint."""
        return {joint: found.hardware for joint, found in self.joints.items()}

    @property
    def worst(self) -> dict[Joint, Pose]:
        """Where each joint has the least left."""
        return {joint: found.where for joint, found in self.joints.items()}

    @property
    def bend_at_ride(self) -> float:
        """The largest bend of all joints at ride height, rad."""
        return max(found.ride for found in self.joints.values())

    @property
    def lines(self) -> dict[str, float]:
        """The numbers by name, deg and mm, for a table of before and after."""
        margins = {f"{joint}_margin_deg": degrees(m) for joint, m in self.margins.items()}
        return margins | {
            "slip_closes_left_mm": self.closes_left,
            "slip_opens_left_mm": self.opens_left,
            "lead_and_lag_deg": degrees(self.uneven),
            "length_mm": self.length,
            "largest_bend_at_ride_deg": degrees(self.bend_at_ride),
        }
