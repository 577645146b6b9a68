"""The shaft: tube, slip and the joint at each end."""

from typing import ClassVar, Final, Literal

from pydantic import model_validator

from sim.rig.bench import BENCH, BenchReadings
from sim.rig.choice import CrossChoice, HeadChoice, YokeChoice
from sim.table.fields import Distance, Size, Turn, impossible
from sim.table.form import field, maybe
from sim.table.loads import Torque
from sim.table.part import Part


class Tube(Part):
    """The tube of the shaft."""

    outside: Size = field(
        "Outside diameter.",
        "3 in",
        name="outside diameter",
        asks="What is the tube's outside diameter?",
    )
    wall: Size = field(
        "Thickness of the wall.",
        "0.083 in",
        asks="How thick is the tube's wall?",
    )

    @model_validator(mode="after")
    def _is_hollow(self) -> "Tube":
        if 2.0 * self.wall.mm > self.outside.mm:
            raise impossible(
                "wall", self.wall, f"outside is {self.outside}", "at most half the outside"
            )
        return self


class Slip(Part):
    """The slip, and what it has left at ride height."""

    at: Literal["shaft", "output"] = field(
        "shaft: a slip joint within the shaft. "
        "output: a yoke that slides on the spline of the output.",
        name="slips",
        asks="Where is the slip?",
    )
    closes: Distance = field(
        "How far it still closes from ride height before it bottoms.",
        "1 1/4 in",
        name="closes from ride height",
        asks="How far does the slip still close from ride height, before it bottoms?",
        datum="Push it home and measure how much shorter it gets.",
    )
    opens: Distance = field(
        "How far it still opens from ride height with enough spline engaged.",
        "2 1/4 in",
        name="opens from ride height",
        asks="How far does the slip still open from ride height, with enough spline engaged?",
        datum="Enough is about 1 1/2 to 2 spline diameters (from memory).",
    )
    comes_apart: Distance | None = maybe(
        "How far it opens from ride height until the splines part, where known.",
        "4 in",
        asks="How far does it open until the splines part?",
        otherwise="not known",
    )
    pushed_home: Size | None = maybe(
        "Length of a slip in the shaft, pushed home, from weld land to weld land: the "
        "tube's cut length depends on it inch for inch.",
        "10 1/2 in",
    )

    @model_validator(mode="after")
    def _comes_apart_last(self) -> "Slip":
        if self.comes_apart is not None and self.comes_apart.mm < self.opens.mm:
            raise impossible(
                "comes_apart",
                self.comes_apart,
                f"yet it opens {self.opens}",
                "at least as much as it opens",
            )
        return self


JOINT: Final = field(
    "Kind of joint: one cross, or a double-Cardan head with two.",
    asks="Is the joint at the {end} single or double?",
    datum="single: one cross. double: a double-Cardan head, two crosses with a center yoke. The "
    "joint center of a head is the middle of its ball.",
)
HEAD: Final = maybe(
    "The double-Cardan head, where the joint is double.",
    asks="Which kind of head is at the {end}?",
    datum="One of: {choices}. Both are generic; put the dimensions of yours into the file.",
    only=("joint", "double"),
)
CROSS: Final = field(
    asks="Which size is the cross at the {end} end?",
    datum="Cap diameter x span over the caps in mm, or its trade number: {choices}.",
    beware="Measure the caps, not over the clips, and not across worn caps.",
)
_ONE_OF_THE_YOKES: Final = "One of: {choices}. Deep-throat is made for high angles."
SHAFT_YOKE: Final = field(
    "The yoke at this end of the driveshaft, welded to its tube or stub as a rule. "
    "How deep its throat is decides how far the joint bends.",
    asks="Which kind of yoke is on the shaft at that end?",
    datum=_ONE_OF_THE_YOKES,
)
STRAP_NUTS: Final = maybe(
    "What the part maker gives for the nuts or bolts of the straps at this joint. "
    "It goes by the size of the bolt, so no figure of another joint stands in for it.",
    "20 lb-ft",
)
STRAP_BOLT: Final = maybe("Diameter of these bolts over their thread.", "5/16 in")


class OutputEnd(Part):
    """The joint between the output and the shaft."""

    yokes: ClassVar = ("output_yoke", "shaft_yoke")
    """Keys of both yokes, from the engine on."""

    joint: Literal["single", "double"] = JOINT
    head: HeadChoice | None = HEAD
    cross: CrossChoice = CROSS
    output_yoke: YokeChoice = field(
        "The yoke on the output shaft: of a flange, with straps, or sliding on the "
        "spline. How deep its throat is decides how far the joint bends.",
        asks="Which kind of yoke is on the output?",
        datum=_ONE_OF_THE_YOKES,
    )
    shaft_yoke: YokeChoice = SHAFT_YOKE
    strap_nuts: Torque | None = STRAP_NUTS
    strap_bolt: Size | None = STRAP_BOLT
    bench: BenchReadings = BENCH


class PinionEnd(Part):
    """The joint between the shaft and the pinion."""

    yokes: ClassVar = ("shaft_yoke", "pinion_yoke")
    """Keys of both yokes, from the engine on."""

    joint: Literal["single", "double"] = JOINT
    head: HeadChoice | None = HEAD
    cross: CrossChoice = CROSS
    shaft_yoke: YokeChoice = SHAFT_YOKE
    pinion_yoke: YokeChoice = field(
        "The yoke on the pinion: with straps or of a flange. How deep its throat is "
        "decides how far the joint bends.",
        asks="Which kind of yoke is on the pinion?",
        datum=_ONE_OF_THE_YOKES,
    )
    strap_nuts: Torque | None = STRAP_NUTS
    strap_bolt: Size | None = STRAP_BOLT
    bench: BenchReadings = BENCH


End = OutputEnd | PinionEnd
"""The joint at either end."""


def on_vehicle(end: End) -> YokeChoice:
    """The yoke of a joint that is on the output or the pinion."""
    return end.output_yoke if isinstance(end, OutputEnd) else end.pinion_yoke


class Shaft(Part):
    """The driveshaft itself."""

    tube: Tube
    slip: Slip
    output_end: OutputEnd = field(name="Joint at the output")
    pinion_end: PinionEnd = field(name="Joint at the pinion")
    phase: Turn = field(
        "Turn of the ears at the pinion end against those at the output end; zero "
        "when they are in line.",
        "0 deg",
        name="phase of the ears",
    )
