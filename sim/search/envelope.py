"""The sweep: the true worst of every bend and of the slip over travel, roll and wrap."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sim.frames import FloatArray
from sim.line import line
from sim.search.reach_edge import Poses, Reached, reached
from sim.search.worst import NODES, Extreme, Kind, extremes
from sim.vehicle import RIDE, Joint, Pose, Slip, Vehicle


@dataclass(frozen=True)
class JointSweep:
    """Bend of one joint over the whole travel, rad."""

    most: Extreme
    """Worst bend and its pose."""
    least: Extreme
    """Smallest bend and its pose."""
    ride: float
    """Bend at ride height."""


@dataclass(frozen=True)
class SlipSweep:
    """Slip over the whole travel, mm from ride height, positive when it opens."""

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
    """What the shaft has to bear over the whole travel: every extreme with its pose."""

    joints: Mapping[Joint, JointSweep]
    """Every joint from the output to the pinion; one that the axle does not move has its extremes
    at ride height."""
    slip: SlipSweep
    length_ride: float
    """Distance of the joint centres at ride height, mm."""
    unreachable: Pose | None
    """The pose nearest to ride height, by shares of the travel, that suspension and shaft cannot
    reach; None if all were reached. The extremes are those of the poses that can be reached; right
    at the edge of the reach bends change without bound, and the least of them is only found
    nearly."""
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
    """Find the true extremes of bends, slip and length over the vehicle's whole travel."""
    met = _Met(vehicle)
    wanted: list[tuple[int, Kind]] = [(i, kind) for i in range(3) for kind in ("most", "least")]
    knots = vehicle.suspension.knots()
    found = extremes(met.values, vehicle.travel, wanted, nodes, knots)
    unreachable = None
    if met.missed:
        edge = _Edge(vehicle)
        *others, nearest = extremes(
            edge.values, vehicle.travel, [*wanted, (3, "least")], nodes, knots
        )
        found = tuple(Extreme(each.value, edge.inside(each.at)) for each in others)
        unreachable = edge.outside(nearest.at)
    *bends, longest, shortest = found
    ride = line(vehicle, RIDE.travel, RIDE.roll, RIDE.wrap)
    joints = {joint: _still(bend) for joint, bend in vehicle.still.items()}
    for joint, most, least in zip(vehicle.ends, bends[::2], bends[1::2], strict=True):
        joints[joint] = JointSweep(_bend(most), _bend(least), float(ride.bends[joint]))
    return Envelope(
        joints=MappingProxyType(joints),
        slip=SlipSweep(shortest, longest, vehicle.slip),
        length_ride=float(ride.length),
        unreachable=unreachable,
        extrapolated=vehicle.beyond_readings,
    )


class _Met:
    """Asks for poses and remembers whether one could not be reached."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self.missed = False

    def values(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Squared bends and slip, (3, ...).

        The bend has a crease where it is zero, which its square has not; both have their extremes
        at the same pose, and a search finds those of the square more surely.
        """
        state = line(self.vehicle, travel, roll, wrap)
        self.missed = self.missed or not bool(state.reachable.all())
        return np.stack([state.output_bend**2, state.pinion_bend**2, state.slip])


class _Edge:
    """Asks for poses, each as far as it can be reached, and for how far the edge is."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        size = vehicle.travel.high - vehicle.travel.low
        self.size = np.where(size > 0.0, size, 1.0)

    def values(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Squared bends, slip, and where a pose is out of reach how far its edge is, (4, ...).

        That is by shares of the travel, squared.
        """
        found = reached(self.vehicle, travel, roll, wrap)
        state = line(self.vehicle, *found.inside)
        shares = np.stack(found.outside, axis=-1) / self.size
        away = np.where(found.short, np.sum(shares * shares, axis=-1), np.nan)
        return np.stack([state.output_bend**2, state.pinion_bend**2, state.slip, away])

    def inside(self, at: Pose) -> Pose:
        """The last pose in reach on the way to a pose."""
        return _pose(self._reached(at).inside)

    def outside(self, at: Pose) -> Pose:
        """The first pose out of reach on the way to a pose."""
        return _pose(self._reached(at).outside)

    def _reached(self, at: Pose) -> Reached:
        return reached(self.vehicle, *(np.array([way]) for way in (at.travel, at.roll, at.wrap)))


def _pose(poses: Poses) -> Pose:
    travel, roll, wrap = (float(each[0]) for each in poses)
    return Pose(travel, roll, wrap)


def _still(bend: float) -> JointSweep:
    """A joint that no pose of the axle bends."""
    always = Extreme(bend, RIDE)
    return JointSweep(always, always, bend)


def _bend(squared: Extreme) -> Extreme:
    return Extreme(float(np.sqrt(squared.value)), squared.at)
