"""What a joint's readings come to at once: a forecast, before any yoke that agrees is built.

It is quick enough to follow whoever types, and its bands are wide rather than narrow: a library's
forecast is farther off than one that was put right where the readings say the joint is.
"""

from __future__ import annotations

from dataclasses import dataclass

from sim.bench.agreement import Agreement
from sim.bench.curves import NotKeptError, library
from sim.bench.fitted import Contradiction
from sim.bench.free import doubt_of
from sim.bench.outlook import Outlook
from sim.bench.posterior import ends
from sim.bench.readings import Told, told
from sim.rig import Rig
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class Foretold:
    """What is forecast of a joint by its readings.

    Attributes
    ----------
    joint : which one.
    readings : as they were taken.
    lowest : low and high (rad) between which 95 of 100 joints that agree with all that was read
        first touch over a whole turn, by forecast.
    before : the same before any reading.
    contradictions : where readings fight each other or the kind of yoke.
    """

    joint: Joint
    readings: tuple[Told, ...]
    lowest: tuple[float, float]
    before: tuple[float, float]
    contradictions: tuple[Contradiction, ...]


def foretold_joint(rig: Rig, joint: Joint) -> Foretold | None:
    """The forecast of a joint by its readings; None where nothing is read, free or kept yet.

    Raises BindpointError for names that are not in the catalogue and dimensions that clash.
    """
    read = told(rig, joint)
    doubt = doubt_of(rig, joint) if read else None
    if doubt is None:
        return None
    try:
        outlook = Outlook.of(library(doubt, make=False))
    except NotKeptError:
        return None
    by = Agreement(outlook, read)
    fights, counted = by.fights()
    return Foretold(
        joint=joint,
        readings=read,
        lowest=ends(by.lowest(by.agreeing(counted))),
        before=ends(by.before()),
        contradictions=fights,
    )
