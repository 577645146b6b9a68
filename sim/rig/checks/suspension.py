"""Suspensions that cannot be, or contradict the rest of the file; each kind says how."""

from collections.abc import Iterator

from sim.ride import Ride
from sim.suspension import SuspensionTable
from sim.table.problems import Problem
from sim.travel.table import Travel


def suspension_agrees(suspension: SuspensionTable, ride: Ride | None) -> Iterator[Problem]:
    """What the suspension says of ride height must be what the rest of the file says."""
    return suspension.against_ride(ride)


def suspension_reaches(suspension: SuspensionTable, travel: Travel) -> Iterator[Problem]:
    """The suspension must hold the axle and reach the whole travel."""
    return suspension.against_travel(travel)
