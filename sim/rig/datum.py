"""From a tape between two datums to joint centre to joint centre, by the parts' own dimensions.

A datum at an end lies on that end's own axis, behind the joint centre; the inner cross of a head
lies on the shaft. The tape is straight between them, so the bends at ride height count: a flange
face 3 in behind a joint that is bent 15 deg adds 2.9 in, not 3.
"""

from contextlib import suppress
from dataclasses import dataclass
from typing import Final, get_args

import numpy as np

from geometry.errors import BindpointError
from geometry.yoke import YokeShape
from sim.frames import FloatArray, unit
from sim.head.bend import Head, ball_of
from sim.remark import Remark
from sim.ride import Ride
from sim.rig.carrier import Carrier
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of
from sim.rig.ride import ride_of
from sim.rig.shaft import End, Shaft, on_vehicle
from sim.rig.tape import FROM_THE_SEAL, OutputDatum, PinionDatum, Tape
from sim.table.fields import FARTHEST
from sim.units import Length

SHORTEST: Final = 25.0
"""mm. Shorter shafts are not searched for."""


class DatumError(BindpointError, ValueError):
    """A datum that these parts do not have, told at one of the tape's keys."""

    def __init__(self, key: str, why: str, expected: str) -> None:
        """Key of the tape, what is wrong with it, what would go."""
        super().__init__(f"{key}: {why}; expected {expected}")
        self.key, self.why, self.expected = key, why, expected


_ANY: Final = {"reads": "1 m", "at_output": "joint centre", "at_pinion": "joint centre"}
"""A tape of which nothing but one datum after the other is asked."""


@dataclass(frozen=True)
class EndDatum:
    """Where the tape was held at one end."""

    behind: float = 0.0
    """mm behind the joint centre on that end's own axis; negative before it."""
    head: Head | None = None
    """Where it was held to the inner cross: the head that decides how far that is."""
    source: Remark | None = None
    """Where the number is from; None for a joint centre."""


def taped(ride: Ride, output: EndDatum, pinion: EndDatum) -> float:
    """What a straight tape between two datums reads (mm) on a shaft at ride height."""
    along = unit(ride.shaft)
    start = ride.p_C_output + _shift(output, ride.output_points, along, ride.output_bend)
    end = ride.p_C_pinion + _shift(pinion, ride.pinion_points, -along, ride.pinion_bend)
    return float(np.linalg.norm(end - start))


def _shift(datum: EndDatum, points: FloatArray, along: FloatArray, bend: float) -> FloatArray:
    """From a joint centre to its datum, (3,) mm."""
    shift = -datum.behind * points
    if datum.head is not None:
        shift = shift + float(datum.head.split(bend).reach) * along
    return shift


def datums_of(tape: Tape, shaft: Shaft, carrier: Carrier | None) -> tuple[EndDatum, EndDatum]:
    """Both datums of a tape. Raises DatumError for one that the parts do not have."""
    output_head, pinion_head = heads_of(shaft)
    return (
        _output_datum(tape, shaft, carrier, output_head),
        _end_datum("at_pinion", tape.at_pinion, shaft, shaft.pinion_end, pinion_head),
    )


def datums_at_hand(
    shaft: Shaft, carrier: Carrier | None, told: Tape | None = None
) -> tuple[dict[OutputDatum, EndDatum], dict[PinionDatum, EndDatum]]:
    """Every datum that the parts have at the output and at the pinion, by its name.

    told : a tape that says where the seal and the end of the output shaft are.
    """
    output: dict[OutputDatum, EndDatum] = {}
    pinion: dict[PinionDatum, EndDatum] = {}
    heads = heads_of(shaft)
    known = told or Tape.model_validate(_ANY)
    for at_output in get_args(OutputDatum):
        out = known.stick_out if at_output == "shaft end" else None
        if at_output == "shaft end" and out is None:
            continue  # how far it stands out is not among the parts
        with suppress(DatumError):
            held = known.model_copy(update={"at_output": at_output, "stick_out": out})
            output[at_output] = _output_datum(held, shaft, carrier, heads[0])
    for at_pinion in get_args(PinionDatum):
        with suppress(DatumError):
            pinion[at_pinion] = _end_datum(
                "at_pinion", at_pinion, shaft, shaft.pinion_end, heads[1]
            )
    return output, pinion


def length_of(
    tape: Tape,
    output: Output,
    axle: Axle,
    ride_height: RideHeight,
    datums: tuple[EndDatum, EndDatum],
) -> float | None:
    """Joint centre to joint centre (mm) that makes the tape read what it does; None for none."""
    # The optimisers are slow to start, and most rigs have no tape.
    from scipy.optimize import brentq  # noqa: PLC0415

    def off(length: float) -> float:
        ride = ride_of(output, axle, ride_height.with_centres(Length.exactly(length)))
        return np.nan if ride is None else taped(ride, *datums) - tape.reads.mm

    spread = sum(abs(d.behind) + (d.head.span if d.head else 0.0) for d in datums)
    low, high = max(tape.reads.mm - spread - 1.0, SHORTEST), tape.reads.mm + spread + 1.0
    apart = np.hypot(ride_height.lower or 0.0, ride_height.offset_left or 0.0)
    low = max(low, float(apart) + 1e-6)
    if not low < high < 2.0 * FARTHEST:
        return None
    ends = off(low), off(high)
    if not (np.isfinite(ends).all() and ends[0] <= 0.0 <= ends[1]):
        return None
    return float(brentq(off, low, high, xtol=1e-9))


def with_taped_length(
    ride_height: RideHeight, output: Output, axle: Axle, shaft: Shaft
) -> RideHeight:
    """The same with its joint centres as far apart as the tape says; as it was where it cannot be.

    What is wrong with the tape is told by the check of it.
    """
    tape = ride_height.tape
    if tape is None or ride_height.length is not None or output.joint is not None:
        return ride_height
    try:
        datums = datums_of(tape, shaft, None)
        length = length_of(tape, output, axle, ride_height, datums)
    except BindpointError:
        return ride_height
    return ride_height if length is None else ride_height.with_centres(Length.exactly(length))


def _output_datum(tape: Tape, shaft: Shaft, carrier: Carrier | None, head: Head | None) -> EndDatum:
    datum = tape.at_output
    if carrier is not None:
        if datum == "bearing":
            beyond = carrier.middle_joint_beyond
            return EndDatum(beyond.mm, source=Remark("bearing-lies", beyond=str(beyond)))
        if datum != "joint centre":
            raise DatumError(
                "at_output", "a two-piece shaft", '"bearing" or "joint centre" (the middle joint)'
            )
        return EndDatum()
    if datum == "bearing":
        raise DatumError("at_output", "there is no [carrier]", "another datum")
    if datum in FROM_THE_SEAL:
        return _from_the_seal(tape, shaft)
    return _end_datum("at_output", datum, shaft, shaft.output_end, head)


def _from_the_seal(tape: Tape, shaft: Shaft) -> EndDatum:
    """A sliding yoke: taken to bottom with the start of its barrel at the face of the seal."""
    yoke = _outer(shaft.output_end, shaft)
    if shaft.slip.at != "output":
        raise DatumError("at_output", "the yoke does not slide on the output", '"flange face"')
    if tape.seal_to_joint is not None:
        out = tape.seal_to_joint.mm
        source = Remark("out-of-seal", out=str(tape.seal_to_joint))
    elif yoke is not None and yoke.barrel is not None:
        out = yoke.barrel.start + shaft.slip.closes.mm
        source = Remark(
            "bottoms-at-seal",
            out=out,
            barrel_start=yoke.barrel.start,
            closes=str(shaft.slip.closes),
        )
    else:
        raise DatumError("seal_to_joint", "not known of this yoke", 'a length such as "3 1/4 in"')
    if tape.stick_out is not None:
        source = Remark("shaft-end-out", seal=source, out=str(tape.stick_out))
        return EndDatum(out - tape.stick_out.mm, source=source)
    return EndDatum(out, source=source)


def _end_datum(key: str, datum: str, shaft: Shaft, end: End, head: Head | None) -> EndDatum:
    if datum == "joint centre":
        return EndDatum()
    ball = ball_of(head)
    if datum in ("outer cross", "inner cross"):
        if head is None:
            raise DatumError(key, "a single joint has one cross", '"joint centre"')
        if datum == "inner cross":
            return EndDatum(head=head, source=Remark("inner-cross-lies"))
        return EndDatum(ball, source=Remark("outer-cross-lies", behind=ball))
    yoke = _outer(end, shaft)
    face = None if yoke is None else yoke.datums.get(datum)
    if face is not None and datum == "flange face":
        behind = ball + face
        return EndDatum(
            behind, source=Remark("flange-lies", behind=behind, headed=head is not None)
        )
    if face is not None:
        return EndDatum(face, source=Remark("yoke-flat-lies", behind=face))
    raise DatumError(
        key, f"a {on_vehicle(end).name} has no {datum}", '"joint centre", or another datum'
    )


def _outer(end: End, shaft: Shaft) -> YokeShape | None:
    """Shape of the yoke on the vehicle's side; None for one from a mesh file."""
    yoke = on_vehicle(end)
    return None if yoke.is_own else fitted_yoke(yoke, fitted_cross(end.cross), shaft.tube)
