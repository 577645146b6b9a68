"""Less travel: straps or shorter shocks below, longer stops above."""

from collections.abc import Sequence

from sim.cures.remedy import Case, Dose, Remedy
from sim.cures.restate import typed_length
from sim.rig import Rig
from sim.rig.change import changed
from sim.units import format_length

STEP = 25.4 / 4.0
"""mm. Straps are set to a quarter of an inch."""


class LimitStraps(Remedy):
    """Straps, or shorter shocks, that end the droop earlier."""

    code = "limit-straps"
    changes = frozenset({"travel"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every quarter inch off the droop, down to a quarter of it."""
        return (_series(0.75 * rig.travel.droop.mm),)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Less droop."""
        return changed(rig, {"travel.droop": typed_length(rig.travel.droop.mm - dose.size)})

    def says(self, case: Case) -> str:
        """Where the straps end the droop."""
        return (
            f"Limit straps or shorter shocks that end the droop at "
            f"{format_length(case.cured.travel.droop.mm)} below ride height, "
            f"{format_length(case.dose.size)} earlier"
        )

    def costs(self, case: Case) -> str:
        """Travel."""
        share = case.dose.size / case.rig.travel.droop.mm
        return (
            f"costs {share:.0%} of the droop; straps stretch and wear, so set them short by what "
            "they give"
        )


class BumpStops(Remedy):
    """Longer stops that end the bump earlier."""

    code = "bump-stops"
    changes = frozenset({"travel"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every quarter inch off the bump, down to a quarter of it."""
        return (_series(0.75 * rig.travel.bump.mm),)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Less bump."""
        return changed(rig, {"travel.bump": typed_length(rig.travel.bump.mm - dose.size)})

    def says(self, case: Case) -> str:
        """Where the stops end the bump."""
        return (
            f"Bump stops that end the travel {format_length(case.cured.travel.bump.mm)} above ride "
            f"height, {format_length(case.dose.size)} earlier"
        )

    def costs(self, case: Case) -> str:
        """Travel."""
        share = case.dose.size / case.rig.travel.bump.mm
        return f"costs {share:.0%} of the bump; the ride gets harder"


def _series(most: float) -> tuple[Dose, ...]:
    return tuple(Dose(STEP * (i + 1)) for i in range(int(most / STEP + 1e-9)))
