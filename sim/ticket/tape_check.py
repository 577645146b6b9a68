"""What a straight tape reads between the places of a shaft that a hand gets at, at ride height."""

from __future__ import annotations

from dataclasses import dataclass

from sim.derive import ride_height_of
from sim.remark import Remark
from sim.ride import Ride
from sim.rig import Rig
from sim.rig.datum import EndDatum, datums_at_hand, taped
from sim.rig.tape import FROM_THE_SEAL, Tape


@dataclass(frozen=True)
class TapeReading:
    """What the tape reads (mm) between two datums, named as in the rig file."""

    at_output: str
    at_pinion: str
    reads: float


def tape_readings(rig: Rig) -> tuple[TapeReading, ...]:
    """Every reading between the datums of a rig's parts but joint centre to joint centre.

    On a two-piece shaft those of the rear section; its "joint centre" at the output is the middle
    joint.
    """
    ride = ride_height_of(rig)
    output, pinion = datums_at_hand(rig.shaft, rig.carrier, _told(rig))
    return tuple(
        TapeReading(one, other, taped(ride, output[one], pinion[other]))
        for one in output
        for other in pinion
        if (one, other) != ("joint centre", "joint centre")
    )


def front_readings(rig: Rig) -> tuple[TapeReading, ...]:
    """The same of the front section of a two-piece shaft, from the output to the bearing."""
    section = ride_height_of(rig).section
    if section is None:
        return ()
    ride = Ride(
        front=rig.axle.front,
        p_C_output=section.p_C_output,
        p_C_pinion=section.p_C_bearing,
        output_points=-section.axis_C_output,
        pinion_points=-section.axis_C,
    )
    output, _ = datums_at_hand(rig.shaft, None)
    return tuple(
        TapeReading(name, "bearing", taped(ride, datum, EndDatum()))
        for name, datum in output.items()
    )


def tape_assumed(rig: Rig) -> tuple[Remark, ...]:
    """What readings from the seal of a sliding yoke rest on, unless the rig says where it is."""
    told = _told(rig)
    if told is not None and told.seal_to_joint is not None:
        return ()
    output, _ = datums_at_hand(rig.shaft, rig.carrier, told)
    return tuple(
        Remark("tape-check-from", place=name, source=datum.source)
        for name, datum in output.items()
        if name in FROM_THE_SEAL
    )


def _told(rig: Rig) -> Tape | None:
    return None if rig.ride_height is None else rig.ride_height.tape
