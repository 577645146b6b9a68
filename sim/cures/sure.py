"""How sure each cure is: of all trucks that measure like this one, how many still touch with it."""

from __future__ import annotations

from dataclasses import replace

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.bars import first_bars
from sim.bars.doubts import doubts_of
from sim.cures.cures import Cures, in_order
from sim.progress import Progress, silent


def with_chances(found: Cures, progress: Progress | None = None) -> Cures:
    """The cures, each with its chance of still touching; those that leave next to none come first.

    All by one seed, so of the same trucks wherever the same things may be off: what one cure does
    better than another is not by luck.
    """
    tell, chances = progress or silent, []
    rigs = [found.before, *(cure.after for cure in found.cures)]
    for number, each in enumerate(rigs):
        tell(f"how sure each of them is, {number + 1} of {len(rigs)}", 0.95)
        chances.append(_chance(each))
    before, *after = chances
    cures = [replace(cure, chance=each) for cure, each in zip(found.cures, after, strict=True)]
    return replace(found, cures=in_order(cures), chance=before)


def _chance(found: Assessment) -> float | None:
    """That anything touches or runs out; None where nobody can tell."""
    try:
        doubts = doubts_of(found.rig, found.joints)
        return first_bars(found, sources=doubts.sources, shapes=doubts.shapes).chance
    except BindpointError:
        return None
