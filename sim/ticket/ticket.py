"""The build ticket: everything a shop builds a shaft from, in one frozen object."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from geometry.tolerances import TOL
from sim.assessment import Assessment, Assessor
from sim.derive import Derivation, derive
from sim.progress import Progress, silent
from sim.remark import Remark
from sim.rig import Rig
from sim.sizing import ShaftTorque
from sim.ticket.cut_list import CutList, cut_list
from sim.ticket.drive_said import DriveSaid, drive_said
from sim.ticket.drive_torque import (
    USE_NOT_SAID,
    drive_torque,
    torque_assumed,
    torque_missing,
)
from sim.ticket.odd_drive import odd_drive
from sim.ticket.owner_limits import OwnerLimits, owner_limits
from sim.ticket.pieces import pieces_of
from sim.ticket.reserves import Reserves
from sim.ticket.room import room_flags
from sim.ticket.shaft_parts import shaft_parts
from sim.ticket.slip_plan import SlipPlan, Split, slip_plan
from sim.ticket.speed_of import SpeedSaid, speed_of
from sim.ticket.strength_of import StrengthSaid, strength_of
from sim.ticket.sure import TicketSure, ticket_sure
from sim.ticket.tape_check import TapeReading, front_readings, tape_assumed, tape_readings
from sim.vehicle import Slip

STOPS: Final = frozenset(
    {"touches", "hits-surroundings", "out-of-reach", "slip-bottoms", "slip-runs-out",
     "slip-parts", "no-tube", "too-weak", "past-whirl"}
)  # fmt: skip
"""Flags of a shaft that cannot be built and run as described."""

TOLD_BY: Final = MappingProxyType(
    {"spline-shorter-than-stroke": "slip-parts", "spline-little-engaged": "slip-little-engaged"}
)
"""Flags of strength that say no more than those of the slip."""


@dataclass(frozen=True, eq=False)
class Ticket:
    """A build ticket.

    Attributes
    ----------
    rig, derivation : what was asked, and what it rests on besides what was typed.
    cuts, slip : what to cut, and how the slip is split.
    tape, front_tape : what a tape reads on the vehicle between other places than the joint
        centres; along the front section of a two-piece shaft, from the output to the bearing.
    drive, torque, strength, speed : what drives it, and what that does to it.
    limits : what the owner heeds.
    found : what the rig comes to over its travel.
    sure : how far off its numbers may be; None where nothing may be off, or nobody asked, see
        `sim.ticket.sure`.
    """

    rig: Rig
    derivation: Derivation
    cuts: CutList
    tape: tuple[TapeReading, ...]
    front_tape: tuple[TapeReading, ...]
    slip: SlipPlan
    drive: DriveSaid
    torque: ShaftTorque
    strength: StrengthSaid
    speed: SpeedSaid
    limits: OwnerLimits
    found: Assessment
    sure: TicketSure | None = None

    @property
    def missing(self) -> Mapping[str, tuple[Remark, ...]]:
        """What the rig does not say: by key, all that cannot be told without it."""
        reasons: dict[str, list[Remark]] = {}
        for each in (
            *self.cuts.missing,
            *torque_missing(self.drive),
            *self.strength.missing,
            *self.speed.missing,
        ):
            reasons.setdefault(each.key, []).append(each)
        return {key: tuple(dict.fromkeys(why)) for key, why in reasons.items()}

    @property
    def assumed(self) -> tuple[Remark, ...]:
        """Each value that was assumed."""
        lines = [item.remark for item in self.rig.assumed]
        lines += torque_assumed(self.drive)
        lines += [*self.cuts.assumed, *tape_assumed(self.rig)]
        return tuple(dict.fromkeys([*lines, *self.strength.assumed, *self.speed.assumed]))

    @property
    def flags(self) -> tuple[Remark, ...]:
        """What is wrong or odd, in words."""
        slip = self.slip.as_cut(self.cuts.cuts[-1].split)
        found = [flag for flag in self.torque.flags if flag.code == USE_NOT_SAID]
        found += [*self.cuts.flags, *slip.flags, *room_flags(self.found)]
        if self.found.swept.unreachable is not None:
            found.append(Remark("out-of-reach"))
        found += [*odd_drive(self.drive), *self.torque.flags]
        told = {flag.code for flag in found}
        found += [flag for flag in self.strength.flags if TOLD_BY.get(flag.code) not in told]
        return tuple(dict.fromkeys([*found, *self.speed.flags]))

    @property
    def stops(self) -> bool:
        """Whether a shaft cannot be built and run as described."""
        return any(flag.code in STOPS for flag in self.flags)


def build_ticket(rig: Rig, progress: Progress | None = None) -> Ticket:
    """Work out the ticket of a rig.

    Raises
    ------
    BindpointError
        When the rig's parts cannot be built or clash as they stand.
    """
    tell = progress or silent
    assessor = Assessor()
    derivation = derive(rig)
    vehicle = derivation.vehicle
    tell("building the yokes", 0.1)
    _ = [assessor.room(rig, joint).touch for joint in vehicle.joints]
    tell("sweeping the travel", 0.3)
    found = assessor.assess(rig)
    tell("looking at what is near the shaft", 0.4)
    _ = found.near
    plan = slip_plan(rig, found.swept)
    cuts = cut_list(rig, pieces_of(rig, found.parts), plan)
    said = drive_said(rig)
    torque = drive_torque(said)
    tell("asking the larger joints", 0.5)
    peak = None if torque.peak is None else torque.peak.value
    cut = plan.as_cut(cuts.cuts[-1].split)
    # Metal meets before that, and at 90 deg a joint bears nothing.
    bent = {joint: min(each.most, TOL.bend_limit) for joint, each in found.joints.items()}
    ride = {joint: each.ride for joint, each in found.joints.items()}
    strength = strength_of(rig, cut, peak, bent, ride, assessor)
    tell("turning the shaft", 0.8)
    level = shaft_parts(rig, cut, ride)
    speed = speed_of(rig, vehicle, said, cuts, cut, level)
    limits = owner_limits(Reserves(found, _slip(plan, cut.built)), plan.best)
    return Ticket(
        rig=rig,
        derivation=derivation,
        cuts=cuts,
        tape=tape_readings(rig),
        front_tape=front_readings(rig),
        slip=plan,
        drive=said,
        torque=torque,
        strength=strength,
        speed=speed,
        limits=limits,
        found=found,
    )


def with_bars(ticket: Ticket, progress: Progress | None = None) -> Ticket:
    """The ticket with how far off its numbers may be."""
    return replace(ticket, sure=ticket_sure(ticket.found, progress or silent))


def _slip(plan: SlipPlan, cut: Split) -> Slip:
    """The slip that is held against its reserve: as cut, and no more than the rig file has."""
    closes, opens = cut.closes, cut.opens
    if plan.by_rig:
        closes, opens = min(closes, plan.built.closes), min(opens, plan.built.opens)
    return Slip("shaft" if plan.at == "shaft" else "output", max(closes, 0.0), max(opens, 0.0))
