"""What a remedy makes worse: room at a joint, the slip, the shake."""

from math import radians

from sim.cures.aim import UNDER_POWER, driven
from sim.cures.remedy import Case
from sim.derive import vehicle_of
from sim.line import running
from sim.rig import Rig
from sim.units import format_angle, format_length_under, format_missing
from sim.vehicle import Pose

ROOM = radians(0.25)
"""What a bench protractor tells of a bend."""

LITTLE = 25.4 / 16.0
"""What a tape tells of a slip, mm."""

SHAKE = radians(0.05)
"""A change of lead and lag that a table of two places shows well."""


def made_worse(case: Case) -> list[str]:
    """Everything that the remedy leaves less of, or more of the shake, a phrase each."""
    return [*_room(case), *slip_left(case), *_shake(case)]


def slip_left(case: Case) -> list[str]:
    """Where the remedy leaves less of the slip than is wanted, or none."""
    wanted, said = case.after.slip_reserve, []
    for was, now, side, fails in (
        (case.before.closes_left, case.after.closes_left, "closing", "bottoms"),
        (case.before.opens_left, case.after.opens_left, "opening", "runs out"),
    ):
        if was - now < LITTLE or now >= wanted:
            continue
        if now < 0.0:
            said.append(f"the slip then {fails}, {format_missing(-now)} short")
        else:
            said.append(f"leaves only {format_length_under(now, wanted)} of {side}")
    return said


def _room(case: Case) -> list[str]:
    """Joints of the rig as it was that have less left."""
    lost = {
        joint: case.before.margins[joint] - margin
        for joint, margin in case.after.margins.items()
        if joint in case.before.margins
    }
    return [
        f"takes {format_angle(less)} of room from the {joint} joint"
        for joint, less in lost.items()
        if less > ROOM
    ]


def _shake(case: Case) -> list[str]:
    """Lead and lag at ride height, coasting and with the wrap that driving gives."""
    said = []
    was, now = case.before.uneven, case.after.uneven
    if now > was + SHAKE:
        said.append(f"{_led(was, now)} at ride height")
    for share, words in ((UNDER_POWER, "half"), (1.0, "all")):
        was, now = _driven_lead(case.rig, share), _driven_lead(case.cured, share)
        if now > was + SHAKE:
            said.append(f"{_led(was, now)} under power with {words} of the wrap")
            break
    return [f"shakes more, by the pinion's lead and lag: {', '.join(said)}"] if said else []


def _driven_lead(rig: Rig, share: float) -> float:
    """Lead and lag (rad) at ride height with a share of the wrap that driving forward gives."""
    vehicle = vehicle_of(rig)
    wrap = driven(vehicle.travel, vehicle.front, share)
    return running(vehicle, Pose(wrap=wrap)).lead_amplitude if wrap else 0.0


def _led(was: float, now: float) -> str:
    return f"{format_angle(now, 2)} in place of {format_angle(was, 2)}"
