"""What the shaft hangs between: the output at the engine side and the pinion of the axle."""

from typing import Final, Literal

from pydantic import PrivateAttr

from sim.rig.tape import Tape
from sim.table.fields import Offset, Point, Size, Slope
from sim.table.form import field, maybe
from sim.table.kinds import Range
from sim.table.limits import LIMITS
from sim.table.part import Either, Needless, OneOf, Part, Together
from sim.table.typed import typed_length
from sim.units import Length

_LONG: Final = Range(LIMITS.short_shaft / 25.4, LIMITS.long_shaft / 25.4, "in")
_SLOPE = 'an angle such as "3 deg"'


class Output(Part):
    """What the shaft hangs on at the engine side: a transfer case, a gearbox, a bearing."""

    down = Either(("points_down", "points_up"), f"points_down or points_up, {_SLOPE}", neither=0.0)
    """Slope in the side view, rad, positive down."""
    left = Either(("points_left", "points_right"), neither=0.0)
    """Slope in the plan view, rad, positive left."""
    case = Together(("case_outside", "case_long"), "how thick the case is and how long, together")

    joint: Point | None = maybe(
        "Joint center from the center of the axle housing: forward, left, up. "
        "Leave it out when [ride_height] says where the joint is.",
        name="joint center",
        called="the output joint",
    )
    points_down: Slope | None = maybe(
        "How far the output shaft points down, seen toward the axle.",
        asks="How does the output point, looking toward the axle?",
        datum="The slope of the output shaft against level, on a machined face or on the output "
        "flange: such as 3 deg down. Down means lower toward the axle.",
        beware="Not on a cast or sloped face, and not from the other side of the vehicle without "
        "turning up and down. A floor that is not level tilts every reading.",
    )
    points_up: Slope | None = maybe("How far the output shaft points up, seen toward the axle.")
    points_left: Slope | None = maybe(
        "How far the output shaft points to the left of the vehicle.",
        asks="Does the output point to a side, looking toward the axle?",
        datum="Seen from above: such as 1 deg right of the vehicle. Most point straight.",
        otherwise="straight",
    )
    points_right: Slope | None = maybe(
        "How far the output shaft points to the right of the vehicle."
    )

    case_outside: Size | None = maybe(
        "Outside diameter of the case behind the output yoke, about the output's "
        "line: so that things on the axle are asked with it.",
        "7 in",
        name="case: outside diameter",
    )
    case_long: Size | None = maybe(
        "How far that case reaches on from the output yoke.",
        "10 in",
        name="case: length behind the yoke",
    )


class RideHeight(Part):
    """The shaft as it lies at ride height: what a phone call gives."""

    down = Either(("shaft_points_down", "shaft_points_up"), neither=None)
    """Slope of the shaft in the side view, rad, positive down toward the axle."""
    lower = Either(("pinion_lower", "pinion_higher"), neither=None, writes=typed_length)
    """How much lower the pinion joint sits than the output joint, mm."""
    left = Either(("shaft_points_left", "shaft_points_right"), neither=None)
    """Slope of the shaft in the plan view, rad, positive left toward the axle."""
    offset_left = Either(("pinion_left", "pinion_right"), neither=None, writes=typed_length)
    """How far to the left of the output joint the pinion joint sits, mm."""

    length: Size | None = maybe(
        "Joint center to joint center, along the shaft, with the vehicle's weight on its wheels.",
        "36 5/16 in",
        name="joint to joint",
        asks="How long is the shaft, joint center to joint center?",
        datum="CC, from the middle of one cross to the middle of the other, along the shaft, at "
        "ride height: such as 36 5/16 in. At a double-Cardan head, to the middle of its "
        "ball.",
        beware="Not the level distance, not from ear tips, and not hanging. A tape started at its "
        "1 in mark reads 1 in too much. With the slip on the output, in its running "
        "position.",
        usual=_LONG,
    )
    tape: Tape | None = maybe(
        "A length taped between other places than the joint centers, from which the "
        "length is worked out.",
        name="Taped between other places",
    )
    shaft_points_down: Slope | None = maybe(
        "How far the shaft points down, seen from the output toward the axle.",
        asks="How does the shaft point, looking toward the axle?",
        datum="The slope of the tube against level, such as 14 deg down; or the height difference"
        " of the joint centers, such as 9 in lower when the pinion joint sits 9 in lower.",
        beware="On a clean part of the tube, away from weld and weights.",
    )
    shaft_points_up: Slope | None = maybe(
        "How far the shaft points up, seen from the output toward the axle."
    )
    pinion_lower: Offset | None = maybe(
        "How much lower the pinion joint sits than the output joint."
    )
    pinion_higher: Offset | None = maybe(
        "How much higher the pinion joint sits than the output joint."
    )
    shaft_points_left: Slope | None = maybe(
        "How far the shaft points to the left of the vehicle, seen from the output toward the "
        "axle.",
        asks="Is the pinion joint off to a side of the output joint?",
        datum="Side offset, seen from above: such as 2 in right of the vehicle, or as a slope, 3 "
        "deg right.",
        beware="A side offset that is left out makes the true bend look smaller than it is.",
        otherwise="none",
    )
    shaft_points_right: Slope | None = maybe(
        "How far the shaft points to the right of the vehicle, seen from the output "
        "toward the axle."
    )
    pinion_left: Offset | None = maybe(
        "Side offset: how far to the left of the output joint the pinion joint sits."
    )
    pinion_right: Offset | None = maybe(
        "Side offset: how far to the right of the output joint the pinion joint sits."
    )

    _taped: Length | None = PrivateAttr(None)

    @property
    def centres(self) -> Length | None:
        """Joint centre to joint centre: as typed, or as worked out from the tape."""
        return self._taped if self.length is None else self.length

    def with_centres(self, length: Length) -> "RideHeight":
        """The same with its joint centres so far apart, where that is not typed."""
        made = self.model_copy()
        made._taped = length
        return made


class Axle(Part):
    """The axle and its pinion at ride height."""

    up = Either(("points_up", "points_down"), f"points_up or points_down, {_SLOPE}", neither=0.0)
    """Slope of the pinion in the side view, rad, positive up."""
    left = Either(("points_left", "points_right"), neither=0.0)
    """Slope of the pinion in the plan view, rad, positive left."""
    place = OneOf(("pinion_joint", "snout"))
    steers = Either(("caster", "negative_caster"), neither=None)
    """Caster, rad, top of the steering axis rearward positive; None where not said."""
    tubes = Together(
        ("tubes_outside", "tubes_long"), "how thick the tubes are and how long, together"
    )
    of_a_front_axle = Needless(
        ("caster", "negative_caster", "hubs"),
        "position",
        ("rear",),
        'position = "front"',
        "the axle is a rear one",
    )

    position: Literal["rear", "front"] = field(
        "Rear: the axle lies behind the output and its pinion looks forward. "
        "Front: the axle lies ahead and its pinion looks rearward.",
        asks="Is it the rear or the front axle?",
    )
    pinion_joint: Point | None = maybe(
        "Joint center from the center of the axle housing: forward, left, up. "
        "On a front axle forward is negative.",
        ["11 in", "0 in", "0 in"],
        name="pinion joint center",
        called="the pinion joint",
    )
    snout: Size | None = maybe(
        "From the center of the axle housing to the pinion joint, along the pinion; "
        "instead of pinion_joint.",
        "11 in",
        name="snout: axle to pinion joint",
        asks="How long is the snout?",
        datum="From the center of the axle tube to the pinion joint's center, along the pinion.",
    )
    points_up: Slope | None = maybe(
        "How far the pinion points up from level, seen toward the output.",
        asks="How does the pinion point, looking from the axle to the output?",
        datum="Against level (the ground), not against the shaft: such as 1 deg up when its nose "
        "is higher than its tail.",
        beware="Pinion angle is quoted both ways, to the ground and to the shaft; here it is to "
        "the ground. On a machined face, not on the cast housing.",
    )
    points_down: Slope | None = maybe(
        "How far the pinion points down from level, seen toward the output."
    )
    points_left: Slope | None = maybe(
        "How far the pinion points to the left of the vehicle.",
        asks="Does the pinion point to a side?",
        datum="Seen from above, from the axle to the output: such as 1 deg left. Most point "
        "straight.",
        otherwise="straight",
    )
    points_right: Slope | None = maybe("How far the pinion points to the right of the vehicle.")
    caster: Slope | None = maybe(
        "Caster of a front axle at ride height: top of the steering axis rearward.",
        "5 deg",
        asks="What caster does the axle have at ride height?",
        datum="Positive with the top of the steering axis rearward: such as 5 deg positive. "
        "Raising the pinion takes as many degrees of it.",
        way="positive",
        otherwise="not known",
        only=("position", "front"),
    )
    negative_caster: Slope | None = maybe(
        "Caster of a front axle the other way: top of the axis forward.", way="negative"
    )
    hubs: Literal["full-time", "unlock"] | None = maybe(
        "Hubs of a front axle. full-time: the shaft turns whenever the vehicle rolls. "
        "unlock: it stands still on the road.",
        asks="Which hubs does it have?",
        otherwise="not known",
        only=("position", "front"),
    )
    tubes_outside: Size | None = maybe(
        "Outside diameter of the axle tubes: so that things on the chassis are asked with them.",
        "3 in",
        name="axle tubes: outside diameter",
    )
    tubes_long: Size | None = maybe(
        "Length over both axle tubes, from end to end, the middle of the housing halfway.",
        "50 in",
        name="axle tubes: end to end",
    )
    snout_outside: Size | None = maybe(
        "Outside diameter of the snout, from the axle's middle to the pinion yoke: so "
        "that things on the chassis are asked with it.",
        "4 in",
        name="snout: outside diameter",
    )
    wrap_centre: Point = field(
        "Point about which axle wrap turns the housing, from the center of the "
        "housing: forward, left, up.",
        name="wrap center",
    )

    @property
    def front(self) -> bool:
        """Whether this is a front axle."""
        return self.position == "front"
