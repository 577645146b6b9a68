"""How far the axle goes from ride height."""

from math import degrees
from typing import Final, Literal

from sim.table.fields import Distance, Swing
from sim.table.form import field, maybe
from sim.table.kinds import Range
from sim.table.limits import LIMITS
from sim.table.loads import ALL, LeftShare, share_or
from sim.table.part import Part
from sim.travel.region import TravelRegion

_WRAP: Final = Range(0.0, degrees(LIMITS.much_wrap), "deg")


class Travel(Part):
    """The axle's travel; each number is a distance from ride height, and zero closes it."""

    bump: Distance = field(
        "How far the axle goes up from ride height, to its stops.",
        "4 in",
        asks="How far does the axle go up from ride height?",
        datum="Bump, to the stops, both wheels together: such as 4 in. At the axle, not at the "
        "wheel arch.",
    )
    droop: Distance = field(
        "How far the axle hangs down from ride height, to its straps or shocks.",
        "8 in",
        asks="How far does the axle hang down from ride height?",
        datum="Droop, on its straps or shocks, both wheels together: such as 8 in.",
        beware="At the straps or shocks, not at the wheels: those stand farther out, so one alone "
        "drops farther when crossed up; that is the roll, asked next.",
    )
    roll: Swing = field(
        "How far the axle rolls each way, one wheel up and the other down: the angle of its tube "
        "against level.",
        "8 deg",
        asks="How far does the axle roll each way, crossed up?",
        usual=Range(0.0, degrees(LIMITS.much_roll), "deg"),
    )
    stops_apart: Distance = field(
        "Distance, left to right, of the places on the axle where its stops, shocks or "
        "straps act. One side down on its strap, the axle cannot roll farther that way.",
        "32 in",
        name="stops apart, left to right",
        asks="How far apart, left to right, do the axle's stops or straps act?",
        datum="Where bump stops, shocks or straps meet the axle, such as 32 in. With both sides "
        "on their straps the axle cannot roll; with one side down it rolls no farther that "
        "way. A single strap in the middle of the axle leaves the roll free: then say 32 "
        "in, middle strap.",
        beware="Where stops and straps sit at different distances, say the smaller one: it leaves "
        "more roll, which is the careful side.",
    )
    droop_strap: Literal["sides", "middle"] = field(
        "What ends the droop: straps or shocks at both sides, or a single strap in the "
        "middle, which leaves the axle free to roll at full droop.",
        default="sides",
        name="droop ends at",
    )
    nose_up: Swing | None = maybe(
        "Axle wrap that lifts the nose of the pinion: driving forward on a rear axle, "
        "braking on a front axle. Worked out where there is a [wrap] table.",
        "8 deg",
        asks="How far can the nose of the pinion wrap up?",
        datum="Axle wrap when driving forward on a rear axle, when braking on a front axle. "
        "Links: about 1 deg; stiff leaves 2 to 4; ordinary leaves 4 to 7; soft ones 7 to 12"
        " (from memory).",
        usual=_WRAP,
    )
    nose_down: Swing | None = maybe(
        "Axle wrap that lowers the nose of the pinion: braking or reversing on a rear "
        "axle, driving forward on a front axle. Worked out where there is a [wrap] table.",
        "4 deg",
        asks="How far can the nose of the pinion wrap down?",
        datum="Axle wrap when braking or reversing on a rear axle, driving forward on a front "
        "axle. On a rear axle it adds to the bend of the pinion joint at droop.",
        usual=_WRAP,
    )
    wrap_at_droop: LeftShare = field(
        "How much of the axle wrap is left at full droop. Torque needs load on the "
        "tires; from ride height down to full droop the wrap falls evenly to that share.",
        "40 %",
        default="100 %",
        name="wrap left at full droop",
        asks="How much of that wrap is left with the wheels hanging?",
    )

    def region(self, nose_up: float, nose_down: float) -> TravelRegion:
        """The poses that there are, with so much wrap (rad) each way."""
        return TravelRegion(
            bump=self.bump.mm,
            droop=self.droop.mm,
            roll=self.roll.rad,
            nose_up=nose_up,
            nose_down=nose_down,
            stops_apart=self.stops_apart.mm,
            droop_strap=self.droop_strap,
            wrap_at_droop=share_or(self.wrap_at_droop, ALL),
        )
