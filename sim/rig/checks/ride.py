"""Contradictions among the places and slopes at ride height."""

from collections.abc import Iterator
from math import hypot

from sim.remark import Remark
from sim.ride import Ride
from sim.rig.carrier import Carrier
from sim.rig.checks.carrier import carrier_can_be
from sim.rig.ends import Axle, Output, RideHeight
from sim.table.limits import LIMITS
from sim.table.part import Either
from sim.table.problems import NOTHING, Problem, as_typed


def joints_are_placed(
    output: Output, axle: Axle, ride_height: RideHeight | None
) -> Iterator[Problem]:
    """The output joint must follow from what is given, in one of the two ways."""
    yield from _pinion_side(axle)
    if output.joint is not None:
        return
    if ride_height is None:
        yield Problem("output.joint", NOTHING, Remark("two-ways"))
        return
    if ride_height.length is None and ride_height.tape is None:
        yield Problem("ride_height.length", NOTHING, Remark("two-ways-no-length"))
    if ride_height.down is None and ride_height.lower is None:
        yield Problem(
            "ride_height.shaft_points_down",
            NOTHING,
            Remark("two-ways-no-slope"),
        )


def _pinion_side(axle: Axle) -> Iterator[Problem]:
    """The pinion must look toward the output, from its side of the axle."""
    if axle.pinion_joint is None:
        return
    forward = axle.pinion_joint[0]
    if forward.mm * (-1.0 if axle.front else 1.0) > 0.0:
        return
    yield Problem(
        "axle.pinion_joint[1]",
        as_typed(forward.typed),
        Remark("pinion-looks", front=axle.front, position=axle.position),
        Remark("wrong-side-of-axle"),
    )


def shaft_can_be(ride_height: RideHeight | None) -> Iterator[Problem]:
    """The shaft must be longer than two yokes, and than the joints are apart one way."""
    if ride_height is None or ride_height.length is None:
        return
    length = ride_height.length
    apart = hypot(ride_height.lower or 0.0, ride_height.offset_left or 0.0)
    if length.mm < LIMITS.shortest:
        yield Problem(
            "ride_height.length",
            as_typed(length.typed),
            Remark("least-length", least=LIMITS.shortest),
            Remark("shorter-than-yokes"),
        )
    elif apart >= length.mm:
        yield Problem(
            "ride_height.length",
            as_typed(length.typed),
            Remark("longer-than-apart", apart=apart),
            Remark("too-short", at=None),
        )


def ride_height_agrees(
    output: Output, ride_height: RideHeight | None, ride: Ride | None
) -> Iterator[Problem]:
    """What is said twice of the shaft at ride height must agree."""
    if ride_height is not None and ride is not None and not any(shaft_can_be(ride_height)):
        yield from _said_twice(ride, ride_height, "joints" if output.joint else "slopes")


def _said_twice(ride: Ride, said: RideHeight, by: str) -> Iterator[Problem]:
    """Compare each number of [ride_height] with the joints as they are placed."""
    if said.length is not None and abs(said.length.mm - ride.length) > LIMITS.length:
        level = abs(said.length.mm - ride.along) <= LIMITS.length
        yield Problem(
            "ride_height.length",
            as_typed(said.length.typed),
            Remark(
                "length-as-given", length=ride.length, by=by, within=LIMITS.length, is_level=level
            ),
            Remark("contradicts", what="the joints"),
        )
    for typed, value, words, angle in (
        (RideHeight.down, said.down, ("down", "up"), ride.down),
        (RideHeight.left, said.left, ("left", "right"), ride.left),
    ):
        if value is not None and abs(value - angle) > LIMITS.slope:
            positive, negative = words
            as_given = Remark(
                "slope-as-given", slope=angle, positive=positive, negative=negative, by=by
            )
            yield _contradiction(said, typed, as_given)
    limit = max(LIMITS.offset, LIMITS.slope * ride.length)
    for typed, value, words, place in (
        (RideHeight.lower, said.lower, ("lower", "higher"), ride.lower),
        (RideHeight.offset_left, said.offset_left, ("left", "right"), ride.offset_left),
    ):
        if value is not None and abs(value - place) > limit:
            word = words[0] if place > 0.0 else words[1]
            as_given = Remark("offset-as-given", offset=abs(place), word=word, by=by, within=limit)
            yield _contradiction(said, typed, as_given)


def _contradiction(said: RideHeight, keys: Either[None], expected: Remark) -> Problem:
    key, typed = keys.said(said)
    return Problem(f"ride_height.{key}", typed, expected, Remark("said-twice"))


def joints_can_be(
    output: Output, axle: Axle, carrier: Carrier | None, ride: Ride | None
) -> Iterator[Problem]:
    """The axle must lie on its side of the output, and no joint be bent past a right angle."""
    if ride is None or any(carrier_can_be(output, axle, carrier)):
        return
    if carrier is not None:
        misplaced = list(_rear_section_can_be(ride, carrier))
        yield from misplaced
        if misplaced:
            return
    elif output.joint is not None:
        if ride.length < LIMITS.shortest:
            yield Problem(
                "output.joint",
                as_typed(list(output.joint)),
                Remark("least-from-pinion", least=LIMITS.shortest),
                Remark("from-pinion-joint", apart=ride.length),
            )
            return
        if ride.along <= 0.0:
            order = ("ahead of", "behind") if axle.front else ("behind", "ahead of")
            yield Problem(
                "output.joint[1]",
                as_typed(output.joint[0].typed),
                Remark("pinion-joint-belongs", where=order[0], position=axle.position),
                Remark("pinion-joint-lies", along=abs(ride.along), where=order[1]),
            )
            return
    for part, keys, name, bend in (
        (output, Output.down, ride.ends[0], ride.output_bend),
        (axle, Axle.up, ride.ends[1], ride.pinion_bend),
    ):
        if bend >= LIMITS.bend:
            table = "output" if part is output else "axle"
            key, typed = keys.said(part)
            yield Problem(
                f"{table}.{key}",
                typed,
                Remark("gentler-slopes"),
                Remark("bends-joint", joint=name, bend=bend),
            )


def _rear_section_can_be(ride: Ride, carrier: Carrier) -> Iterator[Problem]:
    """The middle joint must leave room for a shaft between it and the pinion joint."""
    if ride.along > 0.0 and ride.length >= LIMITS.shortest:
        return
    if ride.along > 0.0:
        why = Remark("middle-joint-lies", apart=ride.length, where="from")
    else:
        way = "ahead of" if ride.front else "behind"
        why = Remark("middle-joint-lies", apart=-ride.along, where=way)
    yield Problem(
        "carrier.bearing[1]",
        as_typed(carrier.bearing[0].typed),
        Remark("middle-joint-short", least=LIMITS.shortest),
        why,
    )
