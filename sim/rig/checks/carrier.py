"""Contradictions about a carrier bearing."""

from collections.abc import Iterator

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
            "the coordinates of the output joint, which the front section runs from",
            "needed with a [carrier]",
        )
        return
    ahead = -1.0 if axle.front else 1.0
    bearing, joint = ahead * carrier.bearing[0].mm, ahead * output.joint[0].mm
    if not 0.0 < bearing < joint:
        yield Problem(
            "carrier.bearing[1]",
            as_typed(carrier.bearing[0].typed),
            f"a place between the axle and the output joint at {output.joint[0].typed}",
            "not on the way from the output to the axle",
        )


def slip_is_behind_the_bearing(shaft: Shaft, carrier: Carrier | None) -> Iterator[Problem]:
    """A slip ahead of the bearing would push the bearing to and fro."""
    if carrier is not None and shaft.slip.at == "output":
        yield Problem(
            "shaft.slip.at",
            as_typed(shaft.slip.at),
            '"shaft": a slip in the rear section, behind the carrier bearing',
            "the carrier bearing is behind the slip",
        )


def no_head_ahead_of_the_bearing(shaft: Shaft, carrier: Carrier | None) -> Iterator[Problem]:
    """The line of a front section is that between single joints."""
    if carrier is not None and shaft.output_end.joint == "double":
        yield Problem(
            "shaft.output_end.joint",
            as_typed("double"),
            '"single", or a shaft of one piece; on two pieces a head can sit at the pinion alone',
            "ahead of a carrier bearing",
        )
