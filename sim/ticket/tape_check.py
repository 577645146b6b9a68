"""What a straight tape reads between the places of a shaft that a hand gets at, at ride height."""

from __future__ import annotations

from dataclasses import dataclass

from sim.derive import ride_height_of
from sim.rig import Rig
from sim.rig.datum import datums_at_hand, taped


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
    output, pinion = datums_at_hand(rig.shaft, rig.carrier)
    return tuple(
        TapeReading(one, other, taped(ride, output[one], pinion[other]))
        for one in output
        for other in pinion
        if (one, other) != ("joint centre", "joint centre")
    )
