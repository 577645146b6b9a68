"""Less travel: straps or shorter shocks below, longer stops above."""

from collections.abc import Sequence
from math import radians

from sim.cures.effects import TRAVEL
from sim.cures.remedy import Case, Dose, Remedy
from sim.derive import vehicle_of
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.table.loads import ALL, share_or
from sim.table.typed import typed_length
from sim.vehicle import TravelRegion

STEP = 25.4 / 4.0
"""mm. Straps are set to a quarter of an inch."""


class LimitStraps(Remedy):
    """Straps, or shorter shocks, that end the droop earlier."""

    code = "limit-straps"
    effect = TRAVEL
    takes_travel = True
    builds = frozenset({"travel.droop"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every quarter inch off the droop, down to nothing of it."""
        return (_series(rig.travel.droop.mm),)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Less droop; as much wrap as there was at every height that is left."""
        travel = rig.travel
        left = travel.droop.mm - dose.size
        values = {"travel.droop": typed_length(left)}
        share = share_or(travel.wrap_at_droop, ALL)
        if share < 1.0 and travel.droop.mm > 0.0:
            share = 1.0 - (1.0 - share) * left / travel.droop.mm
            values["travel.wrap_at_droop"] = f"{100.0 * share:.4f} %"
        return changed(rig, values)

    def says(self, case: Case) -> Remark:
        """Where the straps end the droop, and where on the axle that counts."""
        travel = case.cured.travel
        return Remark(
            "straps-end-droop",
            in_middle=travel.droop_strap == "middle",
            apart=travel.stops_apart.mm,
            droop=travel.droop.mm,
            earlier=case.dose.size,
        )

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Travel, and the roll that goes with it where both ends are held."""
        share = case.dose.size / case.rig.travel.droop.mm
        return (Remark("costs-droop", share=share), *_roll_taken(case), Remark("straps-stretch"))


class BumpStops(Remedy):
    """Longer stops that end the bump earlier."""

    code = "bump-stops"
    effect = TRAVEL
    takes_travel = True
    builds = frozenset({"travel.bump"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every quarter inch off the bump, down to nothing of it."""
        return (_series(rig.travel.bump.mm),)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Less bump."""
        return changed(rig, {"travel.bump": typed_length(rig.travel.bump.mm - dose.size)})

    def says(self, case: Case) -> Remark:
        """Where the stops end the bump."""
        bump = case.cured.travel.bump.mm
        return Remark("stops-end-bump", bump=bump, earlier=case.dose.size)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Travel, and the roll that goes with it."""
        share = case.dose.size / case.rig.travel.bump.mm
        return (Remark("costs-bump", share=share), *_roll_taken(case), Remark("ride-harder"))


def _roll_taken(case: Case) -> tuple[Remark, ...]:
    """What holding the axle's ends takes of the roll; nothing where it takes none.

    Where all of it is there to the new end of the travel, as with one strap in the middle, only
    the travel is taken.
    """
    was, now = vehicle_of(case.rig).travel, vehicle_of(case.cured).travel
    if now.most_roll < was.most_roll - _ROLL:
        return (Remark("takes-roll", most=now.most_roll, before=was.most_roll),)
    (low, high), (bottom, top) = (_fully_rolled(each) for each in (now, was))
    said = []
    for left, before, last in ((low, bottom, now.low[0]), (high, top, now.high[0])):
        is_less = abs(left - before) > STEP / 4.0 and abs(left - last) > STEP / 4.0
        if is_less and now.most_roll > 0.0:
            said.append(
                Remark(
                    "takes-roll-past",
                    roll=now.most_roll,
                    down=left == low,
                    travel=left,
                    before=before,
                )
            )
    return tuple(said)


def _fully_rolled(region: TravelRegion) -> tuple[float, float]:
    """Least and most travel (mm) at which the axle rolls as far as it ever does."""
    low, high = region.travel_limits(region.most_roll, 0.0)
    return float(low), float(high)


_ROLL = radians(0.05)
"""A tenth of a degree shows as less."""


def _series(most: float) -> tuple[Dose, ...]:
    """Every step, and all of it."""
    steps = tuple(Dose(STEP * (i + 1)) for i in range(int(most / STEP + 1e-9)))
    reached = steps[-1].size if steps else 0.0
    return steps if most - reached < 1e-6 else (*steps, Dose(most))
