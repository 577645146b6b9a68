"""What every kind of suspension in a rig file can do, and says of itself."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Literal

from sim.frames import FloatArray, Vec3
from sim.remark import Remark
from sim.ride import Ride
from sim.suspension.base import Suspension
from sim.table.default import Default
from sim.table.part import Part
from sim.table.problems import Problem

if TYPE_CHECKING:  # these rest on suspensions themselves
    from sim.travel.table import Travel
    from sim.vehicle import Vehicle

TurnedBy = Literal["arms", "shims", "either"]
"""What a shop turns a pinion with: arms made longer, shims under the springs, or nobody knows."""


@dataclass(frozen=True)
class Springs:
    """Leaf springs, as far as a table tells of them, mm."""

    ahead: float | None
    """From the seat to the eye ahead of it."""
    behind: float | None
    seat: float
    """How far above the axle's centre they are clamped."""


@dataclass(frozen=True, eq=False)
class Change:
    """How the joints of a shaft have moved on an axle that is otherwise the same."""

    nose_up: float
    """rad by which the housing is turned about its own axis."""
    by: FloatArray
    """(3,) mm by which the end of the shaft on the chassis has moved."""
    joint_by: FloatArray
    """(3,) mm by which the pinion joint has moved on the housing, before that turns."""


class SuspensionPart(Part, ABC):
    """A [suspension] table, told apart by its key `kind`, and all that is known of its kind.

    What every kind has to say is abstract; what only some have defaults to nothing.
    """

    kind: str

    defaults: ClassVar[tuple[Default, ...]] = ()
    """What is assumed for keys of this kind that are left out."""

    adds: ClassVar[Mapping[str, Mapping[str, Any]]] = {}
    """What a table that may be added to it starts from, by the key it is added at."""

    has_links: ClassVar[bool] = False
    """Whether links hold the axle: told one by one and judged as a set, with bushes that give."""

    @classmethod
    @abstractmethod
    def starts(cls, vehicle: Vehicle, travel: Travel) -> Iterator[dict[str, Any]]:
        """Keys that a table of this kind starts from when it is chosen, the best first."""

    @abstractmethod
    def build(self, ride: Ride, wrap_centre: Vec3) -> Suspension:
        """Build the suspension of the mathematics.

        `ride` says where the joints lie at ride height; wrap turns the housing about
        `wrap_centre`, in A (mm).
        """

    @abstractmethod
    def against_ride(self, ride: Ride | None) -> Iterator[Problem]:
        """What contradicts itself, or where the joints lie at ride height, if that is known."""

    @abstractmethod
    def against_travel(self, travel: Travel) -> Iterator[Problem]:
        """What cannot be, or cannot reach the whole travel."""

    @abstractmethod
    def notes(self, ride: Ride | None, travel: Travel | None) -> Iterator[Remark]:
        """What is odd but possible, by what is known of the rest."""

    @property
    @abstractmethod
    def turned_by(self) -> TurnedBy:
        """What turns the pinion in a shop."""

    @abstractmethod
    def restated(
        self, typed: Mapping[str, Any], vehicle: Callable[[], Vehicle], change: Change
    ) -> dict[str, Any]:
        """Keys of this table, which reads `typed`, that say something else after a change.

        `vehicle` builds the vehicle as it was.
        """

    def springs(self) -> Springs | None:
        """The leaf springs, where there are any, whose wind-up wraps the axle."""
        return None
