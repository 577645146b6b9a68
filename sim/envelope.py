"""The sweep: the true worst of every bend and of the slip over travel, roll and wrap."""

from dataclasses import dataclass

import numpy as np

from sim.first_contact import Contact, ContactRow, FirstContact, first_contact
from sim.frames import FloatArray
from sim.line import line
from sim.vehicle import RIDE, Pose, Slip, Vehicle
from sim.worst import NODES, Extreme, Kind, extremes

__all__ = [
    "Contact",
    "ContactRow",
    "Envelope",
    "FirstContact",
    "JointSweep",
    "SlipSweep",
    "envelope",
    "first_contact",
]


@dataclass(frozen=True)
class JointSweep:
    """Bend of one joint over the whole travel box, rad."""

    most: Extreme
    """Worst bend and its pose."""
    least: Extreme
    """Smallest bend and its pose."""
    ride: float
    """Bend at ride height."""


@dataclass(frozen=True)
class SlipSweep:
    """Slip over the whole travel box, mm from ride height, positive when it opens."""

    shortest: Extreme
    """Furthest closed; negative unless ride height is the shortest."""
    longest: Extreme
    """Furthest open."""
    has: Slip
    """What it has left at ride height."""

    @property
    def closes_left(self) -> float:
        """Closing left (mm) in the shortest pose; negative where it bottoms."""
        return self.has.closes + self.shortest.value

    @property
    def opens_left(self) -> float:
        """Opening left (mm) in the longest pose; negative where the engagement gets too short."""
        return self.has.opens - self.longest.value

    @property
    def apart_left(self) -> float | None:
        """Opening left (mm) before it comes apart, in the longest pose; None if not known."""
        if self.has.comes_apart is None:
            return None
        return self.has.comes_apart - self.longest.value


@dataclass(frozen=True)
class Envelope:
    """What the shaft has to bear over the whole travel box: every extreme with its pose."""

    output: JointSweep
    pinion: JointSweep
    slip: SlipSweep
    length_ride: float
    """Distance of the joint centres at ride height, mm."""
    unreachable: Pose | None
    """A pose that suspension and shaft cannot reach, the nearest to ride height that was met;
    None if all were reached. The extremes are those of the poses that can be reached; right at the
    edge of the reach bends change without bound, and the least of them is only found nearly."""
    extrapolated: tuple[float, float]
    """How far (mm) the box goes below and above the heights that the suspension was read at."""

    @property
    def length_least(self) -> float:
        """Least distance of the joint centres, mm; constant with the slip at the output."""
        return self.length_ride + (self.slip.shortest.value if self._slips_within else 0.0)

    @property
    def length_most(self) -> float:
        """Greatest distance of the joint centres, mm."""
        return self.length_ride + (self.slip.longest.value if self._slips_within else 0.0)

    @property
    def _slips_within(self) -> bool:
        return self.slip.has.at == "shaft"


def envelope(vehicle: Vehicle, nodes: tuple[int, int, int] = NODES) -> Envelope:
    """Find the true extremes of bends, slip and length over the vehicle's whole travel box."""
    met = _Met(vehicle)
    wanted: list[tuple[int, Kind]] = [(i, kind) for i in range(3) for kind in ("most", "least")]
    knots = vehicle.suspension.knots()
    found = extremes(met.values, vehicle.travel, wanted, nodes, knots=knots)
    if met.unreachable is not None:
        found = extremes(met.values, vehicle.travel, wanted, nodes, _Reach(vehicle), knots)
    output_most, output_least, pinion_most, pinion_least, longest, shortest = found
    ride = line(vehicle, RIDE.travel, RIDE.roll, RIDE.wrap)
    return Envelope(
        output=JointSweep(_bend(output_most), _bend(output_least), float(ride.output_bend)),
        pinion=JointSweep(_bend(pinion_most), _bend(pinion_least), float(ride.pinion_bend)),
        slip=SlipSweep(shortest, longest, vehicle.slip),
        length_ride=float(ride.length),
        unreachable=met.unreachable,
        extrapolated=_extrapolated(vehicle),
    )


class _Met:
    """Asks for poses and remembers the nearest that could not be reached."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self.unreachable: Pose | None = None
        self._nearest = np.inf

    def values(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Squared bends and slip, (3, ...).

        The bend has a crease where it is zero, which its square has not; both have their extremes
        at the same pose, and a search finds those of the square more surely.
        """
        state = line(self.vehicle, travel, roll, wrap)
        missed = ~state.reachable
        if missed.any():
            box = self.vehicle.travel
            poses = np.stack([travel[missed], roll[missed], wrap[missed]], axis=-1)
            size = np.where(box.high > box.low, box.high - box.low, 1.0)
            distance = np.linalg.norm(poses / size, axis=-1)
            nearest = int(np.argmin(distance))
            if distance[nearest] < self._nearest:
                self._nearest = float(distance[nearest])
                self.unreachable = Pose(*map(float, poses[nearest]))
        return np.stack([state.output_bend**2, state.pinion_bend**2, state.slip])


class _Reach:
    """Bends the box to what can be reached: from ride height as far as it goes each way."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle

    def __call__(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Travel at the same share of the way that can be gone at this roll and wrap."""
        box = self.vehicle.travel
        end = np.where(travel < 0.0, -box.droop, box.bump)
        short = ~line(self.vehicle, end, roll, wrap).reachable & (end != 0.0)
        r, w, outside = roll[short], wrap[short], end[short]
        inside = np.zeros_like(outside)
        for _ in range(HALVINGS if outside.size else 0):
            middle = 0.5 * (inside + outside)
            reached = line(self.vehicle, middle, r, w).reachable
            inside, outside = np.where(reached, middle, inside), np.where(reached, outside, middle)
        share = np.ones_like(end)
        share[short] = inside / end[short]
        return travel * share


HALVINGS = 50
"""Halvings of the travel that close in on the reach: to rounding, since the bends of a shaft near
the end of its reach go with the root of the distance to it."""


def _bend(squared: Extreme) -> Extreme:
    return Extreme(float(np.sqrt(squared.value)), squared.at)


def _extrapolated(vehicle: Vehicle) -> tuple[float, float]:
    read = vehicle.suspension.range()
    if read is None:
        return 0.0, 0.0
    low, high = read
    return max(0.0, low + vehicle.travel.droop), max(0.0, vehicle.travel.bump - high)
