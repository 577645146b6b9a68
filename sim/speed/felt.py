"""The shaft speed from which the shake of the joints is felt, by the limits in use.

Shake grows with the speed squared, so the speed at which it reaches a limit is the root of the
limit over the shake at unit speed. [derivation]
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf, sqrt
from types import MappingProxyType
from typing import Final, Literal

from sim.cardan import chain
from sim.frames import FloatArray
from sim.line import shafts
from sim.speed.limits import INERTIA, TORSIONAL, bend_limit
from sim.speed.load import LOADS, Load, pose_under
from sim.speed.road import ABSURD, Gearing
from sim.vehicle import Vehicle

FeltLimit = Literal["torsional", "drive", "coast"]
"""torsional: left at the pinion. drive, coast: what turns the shaft itself unevenly, turned by the
engine or by the wheels."""

COUNTS: Final[Mapping[Load, tuple[FeltLimit, ...]]] = MappingProxyType(
    {
        "level": ("torsional", "drive", "coast"),
        "power": ("torsional", "drive"),
        "coast": ("torsional", "coast"),
        "takeoff": ("torsional",),
        "loaded": ("torsional", "drive", "coast"),
        "drooped": ("torsional", "drive", "coast"),
    }
)
"""What shakes under each load; without wrap it may be driven either way. Pulling away is too slow
for a shaft's own weight to count."""

NOTHING: Final = 1e-12
"""Shake at unit speed that is rounding: bends that cancel, or none."""


@dataclass(frozen=True)
class Felt:
    """From which speed on a shaft shakes so that it is felt.

    Attributes
    ----------
    load : how the drive leans on the axle.
    governs : the limit that is reached first.
    share : greatest acceleration of what governs, over the shaft's speed squared.
    limit : rad/s2, what it is held to.
    road : mm/s, the same speed on the road; None where gears and tyres are not known.
    """

    load: Load
    governs: FeltLimit
    share: float
    limit: float
    gearing: Gearing | None = None

    @property
    def speed(self) -> float:
        """Of the shaft, rad/s; inf where nothing shakes."""
        return sqrt(self.limit / self.share) if self.share > NOTHING else inf

    @property
    def ever(self) -> bool:
        """Whether such a shaft turns that fast at all."""
        return self.speed < ABSURD

    @property
    def road(self) -> float | None:
        """The same speed on the road, mm/s; None without gears and tyres, or where never."""
        return self.gearing.road_speed(self.speed) if self.gearing and self.ever else None

    @property
    def bend(self) -> float:
        """Bend (rad) of the one joint that would shake as hard; 0 where nothing shakes."""
        return bend_limit(1.0, self.share) if self.share > NOTHING else 0.0


def felt(vehicle: Vehicle, gearing: Gearing | None = None, load: Load = "level") -> Felt:
    """Find the speed from which the joints' shake is felt under a load.

    The center yoke of a double-Cardan head does turn unevenly, but it is light, so it is not
    held to the limit of a shaft (from memory); what the head passes on is.
    """
    shakes = _shakes(vehicle, load)
    most: dict[FeltLimit, float] = {"torsional": TORSIONAL, "drive": INERTIA, "coast": INERTIA}
    first = max(COUNTS[load], key=lambda each: shakes[each] / most[each])
    return Felt(load, first, shakes[first], most[first], gearing)


def felt_by_load(vehicle: Vehicle, gearing: Gearing | None = None) -> Mapping[Load, Felt]:
    """The same under every load of steady driving."""
    return MappingProxyType({load: felt(vehicle, gearing, load) for load in LOADS})


def _shakes(vehicle: Vehicle, load: Load) -> dict[FeltLimit, float]:
    """Greatest accelerations over the speed squared, of what each limit is for."""
    at = pose_under(vehicle.travel, vehicle.front, load)
    axes, phases = shafts(vehicle, at)
    count = len(axes)
    heavy = list(_heavy(vehicle))
    back = [count - 1 - place for place in heavy]
    return {
        "torsional": chain(axes, phases).greatest_acceleration,
        "drive": _uneven(axes, phases, heavy),
        "coast": _uneven(-axes[::-1], phases[::-1], back),
    }


def _uneven(axes: FloatArray, phases: tuple[float, ...], places: list[int]) -> float:
    """The hardest shaken of the shafts at some places of a chain."""
    each = (chain(axes[: at + 1], phases[: at - 1]).greatest_acceleration for at in places)
    return max(each, default=0.0)


def _heavy(vehicle: Vehicle) -> Iterator[int]:
    """Places in the chain of the shafts between two joints; center yokes are left out."""
    place = 0
    for joint in vehicle.joints[:-1]:
        place += 2 if joint in vehicle.heads else 1
        yield place
