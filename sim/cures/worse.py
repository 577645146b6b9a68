"""What a remedy makes worse: room at a joint, the slip, the shake."""

from math import radians

from sim.cures.remedy import Case
from sim.derive import vehicle_of
from sim.line import running
from sim.remark import Remark
from sim.rig import Rig
from sim.speed import UNDER_POWER, driven
from sim.vehicle import Pose

ROOM = radians(0.25)
"""What a bench protractor tells of a bend."""

LITTLE = 25.4 / 16.0
"""What a tape tells of a slip, mm."""

SHAKE = radians(0.05)
"""A change of lead and lag that a table of two places shows well."""


def made_worse(case: Case) -> list[Remark]:
    """Everything that the remedy leaves less of, or more of the shake."""
    return [*_room(case), *slip_left(case), *_shake(case)]


def slip_left(case: Case) -> list[Remark]:
    """Where the remedy leaves less of the slip than is wanted, or none."""
    wanted, said = case.after.slip_reserve, []
    for was, now, side in (
        (case.before.closes_left, case.after.closes_left, "closing"),
        (case.before.opens_left, case.after.opens_left, "opening"),
    ):
        if was - now < LITTLE or now >= wanted:
            continue
        if now < 0.0:
            said.append(Remark("slip-then-short", side=side, short=-now))
        else:
            said.append(Remark("leaves-little-slip", side=side, left=now, wanted=wanted))
    return said


def _room(case: Case) -> list[Remark]:
    """Joints of the rig as it was that have less left."""
    lost = {
        joint: case.before.margins[joint] - margin
        for joint, margin in case.after.margins.items()
        if joint in case.before.margins
    }
    return [
        Remark("takes-room", joint=joint, less=less) for joint, less in lost.items() if less > ROOM
    ]


def _shake(case: Case) -> list[Remark]:
    """Lead and lag at ride height, coasting and with the wrap that driving gives."""
    coasting = driven_so = None
    was, now = case.before.uneven, case.after.uneven
    if now > was + SHAKE:
        coasting = Remark("leads-at-ride", now=now, was=was)
    for share in (UNDER_POWER, 1.0):
        was, now = _driven_lead(case.rig, share), _driven_lead(case.cured, share)
        if now > was + SHAKE:
            driven_so = Remark("leads-under-power", now=now, was=was, all_wrap=share == 1.0)
            break
    if coasting is None and driven_so is None:
        return []
    return [Remark("shakes-more", coasting=coasting, driven=driven_so)]


def _driven_lead(rig: Rig, share: float) -> float:
    """Lead and lag (rad) at ride height with a share of the wrap that driving forward gives."""
    vehicle = vehicle_of(rig)
    wrap = driven(vehicle.travel, vehicle.front, share)
    return running(vehicle, Pose(wrap=wrap)).lead_amplitude if wrap else 0.0
