"""Output and carrier bearing lowered or raised: each alone, or both together."""

from collections.abc import Sequence
from typing import ClassVar, Literal

import numpy as np

from sim.cures.effects import SAME_SHAFT
from sim.cures.remedies.longer_shaft import QUARTER, moved
from sim.cures.remedy import INCH, Case, Dose, Remedy, stepped
from sim.cures.restate import in_coordinates, same_shaft
from sim.derive import ride_height_of
from sim.remark import Remark
from sim.rig import Rig

HEIGHTS = stepped(QUARTER, 12, "down", "up")
"""Quarter inches. A drop of 3 in is about the most that is sold, and spacers past that want a
bracket of their own; common practice, no source."""

A_TAPE = 25.4 / 16.0
"""mm that a tape tells."""


class _Height(Remedy):
    """Something lowered or raised with the same shaft, or the same sections, in the vehicle.

    moves : what of the two.
    """

    effect = SAME_SHAFT
    unit = INCH
    moves: ClassVar[tuple[Literal["output", "bearing"], ...]]

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Quarter inches down and up; of a bearing where there is one."""
        return HEIGHTS if rig.carrier is not None or "bearing" not in self.moves else ()

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """All of it lower or higher, pointing as before."""
        by = np.array([0.0, 0.0, -dose.size if dose.way == "down" else dose.size])
        return same_shaft(in_coordinates(rig), moved(rig, **dict.fromkeys(self.moves, by)))


class OutputDrop(_Height):
    """The case, with its engine mounts or a drop bracket, let down or lifted.

    A carrier bearing stays where it is; its own height, and both together, are other remedies.
    """

    code = "output-drop"
    moves = ("output",)

    def says(self, case: Case) -> Remark:
        """How far, which way, and what does not go along."""
        two_piece = case.rig.carrier is not None
        if case.dose.way == "down":
            return Remark("output-dropped", by=case.dose.size, two_piece=two_piece)
        return Remark("output-raised", by=case.dose.size, two_piece=two_piece)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Belly clearance, or room above."""
        return (*_belly_or_floor(case.dose), *_front_section_longer(case))


class BearingHeight(_Height):
    """The carrier bearing lowered on spacers, or raised; the output stays."""

    code = "bearing-height"
    moves = ("bearing",)
    never_with = frozenset({"output-and-bearing", "two-piece"})
    each_way = True

    def says(self, case: Case) -> Remark:
        """How far, which way, and what stays."""
        if case.dose.way == "down":
            return Remark("bearing-lowered", by=case.dose.size)
        return Remark("bearing-raised", by=case.dose.size)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """What the bearing comes near to, its rubber."""
        up = case.dose.way == "up"
        near = Remark("bearing-near-floor") if up else Remark("less-room-under-shaft")
        return (near, Remark("bearing-sits-square"), *_front_section_longer(case))


class OutputAndBearing(_Height):
    """The output and the carrier bearing lowered or raised together: the front section as it was.

    The middle joint goes along, as with a body or a crossmember that carries both.
    """

    code = "output-and-bearing"
    moves = ("output", "bearing")
    never_with = frozenset({"output-drop", "bearing-height", "two-piece"})

    def says(self, case: Case) -> Remark:
        """How far, which way."""
        if case.dose.way == "down":
            return Remark("output-and-bearing-dropped", by=case.dose.size)
        return Remark("output-and-bearing-raised", by=case.dose.size)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Belly clearance, or room above."""
        return _belly_or_floor(case.dose)


def _belly_or_floor(dose: Dose) -> tuple[Remark, ...]:
    """What lowering or raising the case comes near to."""
    if dose.way == "down":
        return Remark("costs-belly", by=dose.size), Remark("watch-fan")
    return (Remark("watch-floor"),)


def _front_section_longer(case: Case) -> tuple[Remark, ...]:
    """How much longer or shorter the front section has to be, where a tape tells."""
    was, now = ride_height_of(case.rig).section, ride_height_of(case.cured).section
    if was is None or now is None or abs(now.to_bearing - was.to_bearing) < A_TAPE:
        return ()
    return (Remark("front-section-changes", longer=now.to_bearing - was.to_bearing),)
