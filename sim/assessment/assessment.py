"""What a rig comes to: every joint, the slip and the reach over the whole travel."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import degrees

from geometry.contact.gap import Gap
from geometry.contact.touch import Contact, TouchCurve
from sim.around.surroundings import (
    Neighbours,
    SurroundingGap,
    Tell,
    keeps_off,
    surrounding_gaps,
)
from sim.assessment.joint_room import JointRoom
from sim.assessment.limits import Limits
from sim.cardan import Chain
from sim.derive import ride_height_of
from sim.findings import Verdict, worst_of
from sim.hardware.head import EndHardware
from sim.line import FreeTurn, free_turn, limit_by_spin, running
from sim.rests_on import Basis
from sim.rig import Rig
from sim.search.envelope import Envelope, JointSweep
from sim.search.first_contact import (
    Direction,
    FirstContact,
    earliest,
    first_contact,
    past_touching,
)
from sim.search.what_it_takes import WhatItTakes, what_it_takes
from sim.vehicle import RIDE, Joint, Pose, Vehicle


@dataclass(frozen=True)
class JointAssessment:
    """One joint over the whole travel.

    Attributes
    ----------
    room : its parts, and how far it may bend.
    sweep : the bends it meets.
    joint, vehicle : which one, and what bends it.
    """

    room: JointRoom
    sweep: JointSweep
    joint: Joint
    vehicle: Vehicle = field(repr=False)

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

    @cached_property
    def down(self) -> FirstContact:
        """Where it first touches as the axle goes down from ride height, this joint alone."""
        return self._first_contact("down")

    @cached_property
    def up(self) -> FirstContact:
        """The same going up."""
        return self._first_contact("up")

    @property
    def first(self) -> Pose | None:
        """The pose of first contact nearest to ride height, on the way down or up."""
        firsts = [way.first.at for way in (self.down, self.up) if way.first is not None]
        return min(firsts, key=lambda at: abs(at.travel), default=None)

    @cached_property
    def takes(self) -> WhatItTakes | None:
        """What the axle has to do for it to touch; None where it does not, or never moves."""
        if self.joint in self.vehicle.still or self.most < self.clear:
            return None
        past = past_touching(self.vehicle, self.joint, self.clear)
        return what_it_takes(past, self.vehicle.travel)

    def _first_contact(self, way: Direction) -> FirstContact:
        touches = self.most >= self.clear
        return first_contact(self.vehicle, self.joint, self.clear, way, touches)


@dataclass(frozen=True, kw_only=True)
class Assessment(Limits):
    """What a rig comes to, found by sweeping its whole travel.

    Two are equal where the numbers are.

    Attributes
    ----------
    rig, vehicle : what was asked.
    joints : from the output to the pinion.
    swept : the extremes over the travel.
    """

    rig: Rig = field(compare=False, repr=False)
    vehicle: Vehicle = field(compare=False, repr=False)
    joints: Mapping[Joint, JointAssessment] = field(compare=False, repr=False)
    swept: Envelope = field(compare=False, repr=False)

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
    def tight_gaps(self) -> dict[Joint, float]:
        """Least gap (mm) of each joint whose largest bend keeps its reserve, but not the gap's."""
        return {
            joint: found.gap.distance
            for joint, found in self.joints.items()
            if found.room.short_of(found.most) == "gap"
        }

    @cached_property
    def near(self) -> tuple[SurroundingGap, ...]:
        """The smallest gap to each thing near the shaft.

        Raises MeshError for the mesh file of one that cannot be read.
        """
        return surrounding_gaps(self.rig, self.vehicle, self.parts)

    @property
    def near_verdict(self) -> Verdict:
        """The verdict on all that is near the shaft; whose gap is found only where that tells."""
        wanted = self.rig.wanted.clearance.mm
        known = "near" in vars(self)
        if not known and keeps_off(self.rig, self.vehicle, self.parts, wanted):
            return "clear"
        return worst_of([gap.verdict(wanted) for gap in self.near])

    def look_around(self, tell: Tell) -> None:
        """Find what is near the shaft now, telling what is looked at."""
        vars(self)["near"] = surrounding_gaps(self.rig, self.vehicle, self.parts, tell)

    @property
    def short_of_clearance(self) -> tuple[SurroundingGap, ...]:
        """What the shaft touches, or comes nearer to than is wanted."""
        return tuple(gap for gap in self.near if gap.certified_mm < self.rig.wanted.clearance.mm)

    @cached_property
    def neighbours(self) -> Neighbours:
        """Those of them, ready to be asked pose by pose; the rest is clear in each of the travel.

        Raises MeshError for the mesh file of one that cannot be read.
        """
        short = {gap.name for gap in self.short_of_clearance}
        things = [each for each in self.rig.surroundings if each.name in short]
        return Neighbours(self.rig, self.vehicle, self.parts, things)

    @cached_property
    def down(self) -> FirstContact:
        """Where the first joint touches as the axle goes down from ride height."""
        return earliest([each.down for each in self.joints.values()])

    @cached_property
    def up(self) -> FirstContact:
        """The same going up."""
        return earliest([each.up for each in self.joints.values()])

    @cached_property
    def turn(self) -> FreeTurn:
        """The room over a whole turn at ride height: that of the tightest joint, where it is least.

        Which spin that is comes from the sampled curves; how much room, from the certificate.
        """
        rooms = {name: each.clear - each.ride for name, each in self.joints.items()}
        tightest = min(rooms, key=lambda name: rooms[name])
        curve = self.joints[tightest].curve
        limit = {tightest: limit_by_spin(curve.spin, curve.clear)}
        return FreeTurn(rooms[tightest], tightest, free_turn(self.vehicle, RIDE, limit).spin)

    @cached_property
    def running(self) -> Chain:
        """How evenly the pinion turns at ride height, over one even turn of the output."""
        return running(self.vehicle)

    @property
    def uneven(self) -> float:
        """How far (rad) the pinion leads and lags at ride height."""
        return self.running.lead_amplitude

    @property
    def length(self) -> float:
        """Distance of the joints at ride height, mm."""
        return ride_height_of(self.rig).length

    @cached_property
    def basis(self) -> Basis:
        """Tells on which assumed values a number rests."""
        return Basis(self.rig, self.vehicle)

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
