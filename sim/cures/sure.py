"""How sure each cure is: of all trucks that measure like this one, how many still touch with it."""

from __future__ import annotations

from dataclasses import replace

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.bars import first_bars
from sim.bars.doubts import doubts_of
from sim.cures.as_typed import said_as_typed
from sim.cures.cures import Cure, Cures, in_order
from sim.progress import Progress, silent


def with_chances(found: Cures, progress: Progress | None = None) -> Cures:
    """The cures, each with its chance of still touching; those that leave next to none come first.

    All by one seed, so of the same trucks wherever the same things may be off: what one cure does
    better than another is not by luck. One that touches by the numbers as they are, with other
    yokes than the rig has, is left out: how far those may be off takes longest, and it is no cure.
    Each cured rig is said in the keys of the rig as typed, so what may be off stays as far off.
    """
    if not found.cures:
        return found
    tell = progress or silent
    asked, cures = sum(not _is_none(found, cure) for cure in found.cures), []
    tell(f"how sure each of them is, 1 of {asked + 1}", 0.95)
    chance, number = _chance(found.before), 1
    for cure in found.cures:
        if _is_none(found, cure):
            cures.append(cure)
            continue
        number += 1
        tell(f"how sure each of them is, {number} of {asked + 1}", 0.95)
        cures.append(replace(cure, chance=_chance(as_measured(found, cure))))
    return replace(found, cures=in_order(cures), chance=chance)


def as_measured(found: Cures, cure: Cure) -> Assessment:
    """What a cure comes to, of its rig in the words, and with the errors, of the rig as typed."""
    return replace(cure.after, rig=said_as_typed(found.rig, cure.rig, cure.builds))


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
