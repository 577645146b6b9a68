"""A joint that touches as the vehicle stands: more likely a measurement than a shaft that runs."""

from collections.abc import Iterator
from math import radians
from typing import Final

from sim.derive import vehicle_of
from sim.hardware.head import end_hardware
from sim.line import line
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.notes import TABLES
from sim.vehicle import Joint, Vehicle

NEVER: Final = radians(15.0)
"""A bend at which no joint of the trade touches (from memory): yokes need not be built for it."""


def ride_bends(vehicle: Vehicle) -> dict[Joint, float]:
    """Bend (rad) of every joint at ride height, from the output to the pinion."""
    bends = line(vehicle, 0.0, 0.0, 0.0).bends
    return {joint: float(bend) for joint, bend in bends.items()}


def touching_at_ride(joint: Joint, bend: float, clear: float) -> Iterator[Remark]:
    """Doubt a joint that is bent (rad) at ride height past where it is clear."""
    if bend >= clear:
        yield Remark("touches_at_ride", TABLES[joint], joint=joint, bend=bend, clear=clear)


def ride_doubts(rig: Rig) -> Iterator[Remark]:
    """Doubt every joint of a rig that touches at ride height; its yokes are built where they may.

    Raises
    ------
    BindpointError
        When the rig's parts cannot be built or clash as they stand.
    """
    for joint, bend in ride_bends(vehicle_of(rig)).items():
        if bend > NEVER:
            clear = end_hardware(rig, joint).touch().certified_clear
            yield from touching_at_ride(joint, bend, clear)
