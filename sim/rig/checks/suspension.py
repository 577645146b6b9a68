"""Suspensions that cannot be, or contradict the rest of the file; each kind says how."""

from collections.abc import Iterator

from sim.rig.carrier import Carrier
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.ride import ride_of
from sim.suspension import SuspensionTable
from sim.table.problems import Problem
from sim.travel.table import Travel


def suspension_agrees(
    suspension: SuspensionTable,
    output: Output,
    axle: Axle,
    ride_height: RideHeight | None,
    carrier: Carrier | None,
) -> Iterator[Problem]:
    """What the suspension says of ride height must be what the rest of the file says."""
    return suspension.against_ride(ride_of(output, axle, ride_height, carrier))


def suspension_reaches(suspension: SuspensionTable, travel: Travel) -> Iterator[Problem]:
    """The suspension must hold the axle and reach the whole travel."""
    return suspension.against_travel(travel)
