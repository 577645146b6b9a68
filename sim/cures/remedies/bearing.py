"""Moving the carrier bearing of a two-piece shaft: alone, or together with the output."""

from collections.abc import Sequence

from sim.cures.effects import SAME_SHAFT
from sim.cures.remedies.output import (
    DROPS,
    QUARTER,
    belly_or_floor,
    by_height,
    front_section_longer,
    moved,
)
from sim.cures.remedy import Case, Dose, Item, Remedy, stepped
from sim.cures.restate import in_coordinates, same_shaft
from sim.remark import Remark
from sim.rig import Rig

HEIGHTS = stepped(QUARTER, DROPS, "down", "up")
"""Quarter inches. Spacers past 3 in want a bracket of their own; common practice, no source."""


class BearingHeight(Remedy):
    """The carrier bearing lowered on spacers, or raised; the output stays."""

    code = "bearing-height"
    effect = SAME_SHAFT
    never_with = frozenset({"output-and-bearing", "two-piece"})
    each_way = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Quarter inches down and up, where there is a bearing."""
        return HEIGHTS if rig.carrier is not None else ()

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The bearing lower or higher, with the same rear section."""
        return same_shaft(in_coordinates(rig), moved(rig, bearing=by_height(dose)))

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """Spacers, by the inch."""
        return (Item(self.code, dose.size / 25.4),)

    def says(self, case: Case) -> Remark:
        """How far, which way, and what stays."""
        if case.dose.way == "down":
            return Remark("bearing-lowered", by=case.dose.size)
        return Remark("bearing-raised", by=case.dose.size)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """What the bearing comes near to, its rubber."""
        up = case.dose.way == "up"
        near = Remark("bearing-near-floor") if up else Remark("less-room-under-shaft")
        return (near, Remark("bearing-sits-square"), *front_section_longer(case))


class OutputAndBearing(Remedy):
    """The output and the carrier bearing lowered or raised together: the front section as it was.

    The middle joint goes along, as with a body or a crossmember that carries both.
    """

    code = "output-and-bearing"
    effect = SAME_SHAFT
    never_with = frozenset({"output-drop", "bearing-height", "two-piece"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Quarter inches down and up, where there is a bearing."""
        return HEIGHTS if rig.carrier is not None else ()

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Both lower or higher, with the same two sections."""
        by = by_height(dose)
        return same_shaft(in_coordinates(rig), moved(rig, output=by, bearing=by))

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """Spacers or brackets for both, by the inch."""
        return (Item(self.code, dose.size / 25.4),)

    def says(self, case: Case) -> Remark:
        """How far, which way."""
        if case.dose.way == "down":
            return Remark("output-and-bearing-dropped", by=case.dose.size)
        return Remark("output-and-bearing-raised", by=case.dose.size)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Belly clearance, or room above."""
        return belly_or_floor(case.dose)
