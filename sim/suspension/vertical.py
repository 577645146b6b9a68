"""The suspension of which nothing is known but its travel."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from sim.frames import FloatArray, Vec3
from sim.remark import Remark
from sim.ride import Ride
from sim.suspension.base import EulerSuspension, Motion
from sim.suspension.bodies import Body
from sim.suspension.table import Change, SuspensionPart, TurnedBy
from sim.table.form import field
from sim.table.problems import Problem

if TYPE_CHECKING:
    from sim.travel.table import Travel
    from sim.vehicle import Vehicle


@dataclass(frozen=True, kw_only=True)
class Vertical(EulerSuspension):
    """Straight up and down, rolling about the housing centre: R_CA = Rx(roll) @ R_wrap."""

    def motion(self, travel: FloatArray, roll: FloatArray) -> Motion:
        """Housing centre at (0, 0, travel), rolled."""
        still = np.zeros(())
        return Motion(x=still, y=still, z=travel, roll=roll, pitch=still)

    def bodies(self) -> tuple[Body, ...]:
        """Nobody knows what holds it."""
        return ()


class VerticalTable(SuspensionPart):
    """The axle goes straight up and down, and rolls about its own center."""

    kind: Literal["vertical"] = field("Straight up and down.")

    @classmethod
    def starts(cls, vehicle: Vehicle, travel: Travel) -> Iterator[dict[str, Any]]:
        """There is nothing to type."""
        del vehicle, travel
        yield {}

    def build(self, ride: Ride, wrap_centre: Vec3) -> Vertical:
        """Build the suspension of the mathematics."""
        return Vertical(front=ride.front, wrap_centre=wrap_centre)

    def against_ride(self, ride: Ride | None) -> Iterator[Problem]:
        """It goes with every ride height."""
        del ride
        return iter(())

    def against_travel(self, travel: Travel) -> Iterator[Problem]:
        """It reaches everything."""
        del travel
        return iter(())

    def notes(self, ride: Ride | None, travel: Travel | None) -> Iterator[Remark]:
        """Nothing is odd about what nobody knows."""
        del ride, travel
        return iter(())

    @property
    def turned_by(self) -> TurnedBy:
        """Nobody knows what it hangs on."""
        return "either"

    def restated(
        self, typed: Mapping[str, Any], vehicle: Callable[[], Vehicle], change: Change
    ) -> dict[str, Any]:
        """It says nothing that could change."""
        del typed, vehicle, change
        return {}
