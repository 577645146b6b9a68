"""The shaft: tube, slip and the joint at each end."""

from typing import Literal

from pydantic import model_validator

from sim.rig.choice import CrossChoice, HeadChoice, YokeChoice
from sim.table.fields import Distance, Size, Turn, impossible
from sim.table.form import field, maybe
from sim.table.loads import Torque
from sim.table.part import Part


class Tube(Part):
    """The tube of the shaft."""

    outside: Size = field("Outside diameter.", "3 in")
    wall: Size = field("Thickness of the wall.", "0.083 in")

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
        "output: a yoke that slides on the spline of the output."
    )
    closes: Distance = field(
        "How far it still closes from ride height before it bottoms.", "1 1/4 in"
    )
    opens: Distance = field(
        "How far it still opens from ride height with enough spline engaged.", "2 1/4 in"
    )
    comes_apart: Distance | None = maybe(
        "How far it opens from ride height until the splines part, where known.", "4 in"
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


class OutputEnd(Part):
    """The joint between the output and the shaft."""

    joint: Literal["single", "double"] = field(
        "Kind of joint: one cross, or a double-Cardan head with two."
    )
    head: HeadChoice | None = maybe("The double-Cardan head, where the joint is double.")
    cross: CrossChoice
    output_yoke: YokeChoice = field(
        "The yoke on the output shaft: of a flange, with straps, or sliding on the "
        "spline. How deep its throat is decides how far the joint bends."
    )
    shaft_yoke: YokeChoice = field(
        "The yoke at this end of the driveshaft, welded to its tube or stub as a rule. "
        "How deep its throat is decides how far the joint bends."
    )
    strap_nuts: Torque | None = maybe(
        "What the part maker gives for the nuts or bolts of the straps at this joint. "
        "It goes by the size of the bolt, so no figure of another joint stands in for it.",
        "20 lb-ft",
    )
    strap_bolt: Size | None = maybe("Diameter of these bolts over their thread.", "5/16 in")


class PinionEnd(Part):
    """The joint between the shaft and the pinion."""

    joint: Literal["single", "double"] = field(
        "Kind of joint: one cross, or a double-Cardan head with two."
    )
    head: HeadChoice | None = maybe("The double-Cardan head, where the joint is double.")
    cross: CrossChoice
    shaft_yoke: YokeChoice = field(
        "The yoke at this end of the driveshaft, welded to its tube or stub as a rule. "
        "How deep its throat is decides how far the joint bends."
    )
    pinion_yoke: YokeChoice = field(
        "The yoke on the pinion: with straps or of a flange. How deep its throat is "
        "decides how far the joint bends."
    )
    strap_nuts: Torque | None = maybe(
        "What the part maker gives for the nuts or bolts of the straps at this joint. "
        "It goes by the size of the bolt, so no figure of another joint stands in for it.",
        "20 lb-ft",
    )
    strap_bolt: Size | None = maybe("Diameter of these bolts over their thread.", "5/16 in")


class Shaft(Part):
    """The driveshaft itself."""

    tube: Tube
    slip: Slip
    output_end: OutputEnd
    pinion_end: PinionEnd
    phase: Turn = field(
        "Turn of the ears at the pinion end against those at the output end; zero "
        "when they are in line.",
        "0 deg",
    )
