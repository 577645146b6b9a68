"""A rig that shakes, and what has to be known of it: worked out once, when it is asked for."""

from dataclasses import dataclass
from functools import cached_property
from math import radians
from typing import Final

from sim.assessment import Assessment, Assessor
from sim.balance import Balance
from sim.derive import vehicle_of
from sim.line import line
from sim.rig import Rig
from sim.speed import LOADS, TORSIONAL, Felt, Gearing, Load, felt, pose_under, speed_limit
from sim.ticket.cut_list import CutList, cut_list
from sim.ticket.drive_said import DriveSaid, drive_said
from sim.ticket.gears import gearing_of
from sim.ticket.pieces import pieces_of
from sim.ticket.slip_plan import SlipPlan, slip_plan
from sim.ticket.speed_of import balances_of
from sim.ticket.whirl_of import WhirlSaid, whirl_of
from sim.vehicle import Joint, Vehicle
from sim.vibration.symptom import Symptom, Turns, turns_of

ENOUGH: Final = 1.1
"""Times the speed at which it shakes that a shaft has to be smooth up to; common practice, no
source."""

EVEN: Final = radians(3.0)
"""Bend of one joint that is as uneven as a smooth shaft may be: tan(b) sin(b) = 0.0027, the goal of
a technical page of the trade, read there."""


@dataclass(frozen=True, eq=False)
class Case:
    """A rig and what is said of its shake.

    Attributes
    ----------
    assessor : what it sweeps is kept for the cures.
    """

    rig: Rig
    symptom: Symptom
    assessor: Assessor

    @cached_property
    def vehicle(self) -> Vehicle:
        """The rig's joints and axle."""
        return vehicle_of(self.rig)

    @cached_property
    def said(self) -> DriveSaid:
        """What the rig says of its drive."""
        return drive_said(self.rig)

    @cached_property
    def gearing(self) -> Gearing | None:
        """What lies between shaft and road; None where it is not known."""
        return gearing_of(self.said)

    @cached_property
    def turns(self) -> Turns:
        """What turns how fast. Raises SymptomError for a speed at which no shaft turns."""
        return turns_of(self.symptom, self.gearing, self.said.numbers.get("top_gear"))

    @cached_property
    def felt(self) -> Felt:
        """From which speed on its joints are felt: under the worst of the loads it may be."""
        return soonest(self.vehicle, self.gearing, self.symptom.loads)

    @cached_property
    def always(self) -> Felt:
        """The same under the worst load of steady driving."""
        return soonest(self.vehicle, self.gearing, LOADS)

    @property
    def goal(self) -> float | None:
        """The shaft's speed (rad/s) up to which it is to be smooth; None where none is known.

        Pulling away it has to be as even as a smooth shaft may be, whatever its speed.
        """
        if self.symptom.when == "takeoff":
            return speed_limit(EVEN, TORSIONAL)
        shaft = self.turns.shaft
        return None if shaft is None else ENOUGH * shaft

    def bends(self, load: Load) -> dict[Joint, float]:
        """Bend (rad) of every joint under a load."""
        return bends_under(self.vehicle, load)

    @cached_property
    def to_blame(self) -> tuple[Joint, float]:
        """The joint that shakes most where it is felt soonest, and its bend there, rad.

        Driving it is one before the pinion's, coasting the pinion's; of what is left at the pinion
        the one bent most. A head evens itself out, so it is none where another joint is.
        """
        bends = self.bends(self.felt.load)
        single = {joint: bend for joint, bend in bends.items() if joint not in self.vehicle.heads}
        may = single or bends
        if self.felt.governs == "coast" and "pinion" in may:
            return "pinion", may["pinion"]
        if self.felt.governs == "drive":
            may = {joint: bend for joint, bend in may.items() if joint != "pinion"} or may
        joint = max(may, key=lambda each: may[each])
        return joint, may[joint]

    @property
    def stands_still(self) -> bool:
        """Whether the shaft does not turn on the road, its hubs being unlocked."""
        driving = self.symptom.only in ("4wd", "hubs-locked")
        return self.rig.axle.hubs == "unlock" and not driving

    @cached_property
    def found(self) -> Assessment:
        """What the rig comes to over its travel."""
        return self.assessor.assess(self.rig)

    @cached_property
    def cut(self) -> tuple[CutList, SlipPlan]:
        """How the shaft is cut, and its slip set."""
        plan = slip_plan(self.rig, self.found.swept)
        cuts = cut_list(self.rig, pieces_of(self.rig, self.found.parts), plan)
        return cuts, plan.as_cut(cuts.cuts[-1].split)

    @cached_property
    def whirl(self) -> WhirlSaid:
        """Its critical speed."""
        cuts, plan = self.cut
        return whirl_of(self.rig, cuts.cuts, plan)

    @cached_property
    def balances(self) -> tuple[tuple[str, Balance], ...]:
        """What balancing may leave of each piece, at the speed of the symptom."""
        return balances_of(self.said, self.cut[0].cuts, self.whirl.pieces, self.turns.shaft)


def bends_under(vehicle: Vehicle, load: Load) -> dict[Joint, float]:
    """Bend (rad) of every joint under a load, from the output to the pinion."""
    at = pose_under(vehicle.travel, vehicle.front, load)
    state = line(vehicle, at.travel, at.roll, at.wrap)
    return {joint: float(bend) for joint, bend in state.bends.items()}


def soonest(vehicle: Vehicle, gearing: Gearing | None, loads: tuple[Load, ...]) -> Felt:
    """The load under which a shaft is felt at the lowest speed."""
    return min((felt(vehicle, gearing, load) for load in loads), key=lambda each: each.speed)
