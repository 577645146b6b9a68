"""Less travel: straps or shorter shocks below, longer stops above."""

from collections.abc import Sequence
from math import radians

from sim.cures.remedy import Case, Dose, Remedy
from sim.derive import vehicle_of
from sim.rig import Rig
from sim.rig.change import changed
from sim.table.loads import ALL, share_or
from sim.table.typed import typed_length
from sim.units import format_angle, format_length
from sim.vehicle import TravelRegion

STEP = 25.4 / 4.0
"""mm. Straps are set to a quarter of an inch."""


class LimitStraps(Remedy):
    """Straps, or shorter shocks, that end the droop earlier."""

    code = "limit-straps"
    changes = frozenset({"travel"})
    takes_travel = True

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

    def says(self, case: Case) -> str:
        """Where the straps end the droop, and where on the axle that counts."""
        travel = case.cured.travel
        what, droop = "Limit straps or shorter shocks", "the droop"
        if travel.droop_strap == "middle":
            what = "A shorter limit strap in the middle of the axle"
        elif travel.stops_apart.mm > 0.0:
            what += f" at the axle's ends, {format_length(travel.stops_apart.mm)} apart,"
            droop = "each side's droop"
        ends = "ends" if travel.droop_strap == "middle" else "end"
        return (
            f"{what} that {ends} {droop} at {format_length(travel.droop.mm)} below ride height, "
            f"{format_length(case.dose.size)} earlier"
        )

    def costs(self, case: Case) -> str:
        """Travel, and the roll that goes with it where both ends are held."""
        share = case.dose.size / case.rig.travel.droop.mm
        stretch = "straps stretch and wear, so set them short by what they give"
        return "; ".join([f"costs {share:.0%} of the droop", *_roll_taken(case), stretch])


class BumpStops(Remedy):
    """Longer stops that end the bump earlier."""

    code = "bump-stops"
    changes = frozenset({"travel"})
    takes_travel = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every quarter inch off the bump, down to nothing of it."""
        return (_series(rig.travel.bump.mm),)

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
        """Travel, and the roll that goes with it."""
        share = case.dose.size / case.rig.travel.bump.mm
        said = [f"costs {share:.0%} of the bump", *_roll_taken(case), "the ride gets harder"]
        return "; ".join(said)


def _roll_taken(case: Case) -> list[str]:
    """What holding the axle's ends takes of the roll; nothing where it takes none.

    Where all of it is there to the new end of the travel, as with one strap in the middle, only
    the travel is taken.
    """
    was, now = vehicle_of(case.rig).travel, vehicle_of(case.cured).travel
    if now.most_roll < was.most_roll - _ROLL:
        least, most = format_angle(now.most_roll), format_angle(was.most_roll)
        return [f"takes roll too: no more than {least} at any height, {most} before"]
    (low, high), (bottom, top) = (_fully_rolled(each) for each in (now, was))
    said = []
    for left, before, last in ((low, bottom, now.low[0]), (high, top, now.high[0])):
        is_less = abs(left - before) > STEP / 4.0 and abs(left - last) > STEP / 4.0
        if is_less and now.most_roll > 0.0:
            end = "down" if left == low else "up"
            said.append(
                f"takes roll too: the whole {format_angle(now.most_roll)} only {end} to "
                f"{_height(left)}, before to {_height(before)}"
            )
    return said


def _fully_rolled(region: TravelRegion) -> tuple[float, float]:
    """Least and most travel (mm) at which the axle rolls as far as it ever does."""
    low, high = region.travel_limits(region.most_roll, 0.0)
    return float(low), float(high)


def _height(travel: float) -> str:
    """A travel (mm) in words."""
    way = "of bump" if travel > 0.0 else "of droop"
    return "ride height" if abs(travel) < STEP / 8.0 else f"{format_length(abs(travel))} {way}"


_ROLL = radians(0.05)
"""A tenth of a degree shows as less."""


def _series(most: float) -> tuple[Dose, ...]:
    """Every step, and all of it."""
    steps = tuple(Dose(STEP * (i + 1)) for i in range(int(most / STEP + 1e-9)))
    reached = steps[-1].size if steps else 0.0
    return steps if most - reached < 1e-6 else (*steps, Dose(most))
