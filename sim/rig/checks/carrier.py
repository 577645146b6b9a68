"""Contradictions about a carrier bearing."""

from collections.abc import Iterator

from sim.remark import Remark
from sim.rig.carrier import Carrier
from sim.rig.ends import Axle, Output
from sim.rig.shaft import Shaft
from sim.table.problems import NOTHING, Problem, as_typed


def carrier_can_be(output: Output, axle: Axle, carrier: Carrier | None) -> Iterator[Problem]:
    """The bearing must lie between the output joint and the axle, and the output must be placed."""
    if carrier is None:
        return
    if output.joint is None:
        yield Problem(
            "output.joint",
            NOTHING,
            Remark("needs-output-joint"),
            Remark("needed-with-carrier"),
        )
        return
    ahead = -1.0 if axle.front else 1.0
    bearing, joint = ahead * carrier.bearing[0].mm, ahead * output.joint[0].mm
    if not 0.0 < bearing < joint:
        yield Problem(
            "carrier.bearing[1]",
            as_typed(carrier.bearing[0].typed),
            Remark("between-axle-and-output", at=output.joint[0].typed),
            Remark("not-on-the-way"),
        )


def slip_is_behind_the_bearing(shaft: Shaft, carrier: Carrier | None) -> Iterator[Problem]:
    """A slip ahead of the bearing would push the bearing to and fro."""
    if carrier is not None and shaft.slip.at == "output":
        yield Problem(
            "shaft.slip.at",
            as_typed(shaft.slip.at),
            Remark("slip-in-rear-section"),
            Remark("bearing-behind-slip"),
        )


def no_head_ahead_of_the_bearing(shaft: Shaft, carrier: Carrier | None) -> Iterator[Problem]:
    """The line of a front section is that between single joints."""
    if carrier is not None and shaft.output_end.joint == "double":
        yield Problem(
            "shaft.output_end.joint",
            as_typed("double"),
            Remark("single-or-one-piece"),
            Remark("ahead-of-bearing"),
        )
