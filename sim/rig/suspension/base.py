"""What every kind of suspension in a rig file can do."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import TYPE_CHECKING

from sim.frames import Vec3
from sim.rig.part import Part
from sim.rig.ride import Ride

if TYPE_CHECKING:  # interpolation and optimisers are slow to load, and not needed to read a file
    from sim.suspension import Suspension


class SuspensionPart(Part, ABC):
    """A [suspension] table: one file a kind, told apart by its key `kind`."""

    @abstractmethod
    def build(self, ride: Ride, wrap_centre: Vec3) -> Suspension:
        """Build the suspension of the mathematics.

        `ride` says where the joints lie at ride height; wrap turns the housing about
        `wrap_centre`, in A (mm).
        """
