"""What a remedy makes worse: room at a joint, the slip, the shake."""

from math import radians

from sim.cures.remedy import Case
from sim.remark import Remark
from sim.speed import Load
from sim.ticket.felt_of import felt_of

ROOM = radians(0.25)
"""What a bench protractor tells of a bend."""

LITTLE = 25.4 / 16.0
"""What a tape tells of a slip, mm."""

SOONER = 0.95
"""Of the speed from which shake was felt: a driver tells no less apart (from memory)."""


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
    """Loads under which the shake of the joints is felt at a lower speed than before."""
    level, power = _sooner(case, "level"), _sooner(case, "power")
    return [Remark("shakes-more", level=level, power=power)] if level or power else []


def _sooner(case: Case, load: Load) -> Remark | None:
    was, now = felt_of(case.rig, load), felt_of(case.cured, load)
    if not now.ever or now.speed >= SOONER * was.speed:
        return None
    return Remark(
        "felt-above", load=load, now=now.speed, road=now.road, was=was.speed, was_road=was.road
    )
