"""How sure each cure is: of all trucks that measure like this one, how many still touch with it."""

from __future__ import annotations

from dataclasses import replace

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.bars import first_bars
from sim.bars.doubts import doubts_of
from sim.cures.cures import Cure, Cures, in_order
from sim.progress import Progress, silent


def with_chances(found: Cures, progress: Progress | None = None) -> Cures:
    """The cures, each with its chance of still touching; those that leave next to none come first.

    All by one seed, so of the same trucks wherever the same things may be off: what one cure does
    better than another is not by luck. One that touches by the numbers as they are, with other
    yokes than the rig has, is left out: how far those may be off takes longest, and it is no cure.
    """
    if not found.cures:
        return found
    tell = progress or silent
    asked = [cure.after for cure in found.cures if not _is_none(found, cure)]
    chances = {}
    for number, each in enumerate((found.before, *asked), start=1):
        tell(f"how sure each of them is, {number} of {len(asked) + 1}", 0.95)
        chances[id(each)] = _chance(each)
    cures = [replace(cure, chance=chances.get(id(cure.after))) for cure in found.cures]
    return replace(found, cures=in_order(cures), chance=chances[id(found.before)])


def _is_none(found: Cures, cure: Cure) -> bool:
    rooms = {joint: each.room for joint, each in found.before.joints.items()}
    same = all(rooms.get(joint) is each.room for joint, each in cure.after.joints.items())
    return cure.after.held == "touches" and not same


def _chance(found: Assessment) -> float | None:
    """That anything touches or runs out; None where nobody can tell."""
    try:
        doubts = doubts_of(found.rig, found.joints)
        told = first_bars(found, 0, doubts.sources, doubts.shapes, ask_again=False)
        return told.chance
    except BindpointError:
        return None
