"""What every finder of findings is shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees

from sim.around.surroundings import SurroundingGap
from sim.assessment import Assessment, JointAssessment
from sim.cardan import Chain
from sim.findings import Measure
from sim.line import FreeTurn
from sim.rests_on import Basis, Number
from sim.rig import Rig
from sim.search.first_contact import FirstContact
from sim.travel.what_it_takes import WhatItTakes
from sim.vehicle import Joint, Pose, Vehicle


@dataclass(frozen=True)
class JointCheck(JointAssessment):
    """One joint over the whole travel, with how it gets to touch.

    Attributes
    ----------
    down, up : where it first touches as the axle leaves ride height, this joint alone.
    takes : what the axle has to do for it to touch; None where it does not, or never moves.
    """

    down: FirstContact
    up: FirstContact
    takes: WhatItTakes | None = None

    @property
    def first(self) -> Pose | None:
        """The pose of first contact nearest to ride height, on the way down or up."""
        firsts = [way.first.at for way in (self.down, self.up) if way.first is not None]
        return min(firsts, key=lambda at: abs(at.travel), default=None)


@dataclass(frozen=True, eq=False)
class Seen:
    """All that was found out about a rig, before it is judged.

    Attributes
    ----------
    found : what the rig comes to over its travel.
    joints : the same of each joint, with how it gets to touch.
    turn : the room over a whole turn at ride height.
    near : the smallest gap to each thing near the shaft.
    running : how evenly the pinion turns at ride height.
    basis : tells on which assumed values a number rests.
    """

    found: Assessment
    joints: Mapping[Joint, JointCheck]
    turn: FreeTurn
    near: tuple[SurroundingGap, ...]
    running: Chain
    basis: Basis

    @property
    def rig(self) -> Rig:
        """What was asked."""
        return self.found.rig

    @property
    def vehicle(self) -> Vehicle:
        """Its vehicle."""
        return self.found.vehicle


def deg(rad: float) -> Measure:
    """An angle as findings have it."""
    return Measure(degrees(rad), "deg")


def mm(length: float) -> Measure:
    """A length as findings have it."""
    return Measure(length, "mm")


def where(counts: bool, number: Number) -> tuple[Number, ...]:
    """The number where it counts, to rest on."""
    return (number,) if counts else ()
