"""How fast the shaft turns: from road speed, tyre, axle ratio."""

from dataclasses import dataclass
from math import pi
from typing import Final

from geometry.errors import BindpointError
from sim.quantities import require_fields, require_not_negative

RPM: Final = 2.0 * pi / 60.0
"""rad/s."""

ABSURD: Final = 10_000.0 * RPM
"""rad/s. No driveshaft of this kind turns faster (from memory); a ratio is wrong."""


class SpeedError(BindpointError, ValueError):
    """Ratios or speeds that no shaft turns at."""


@dataclass(frozen=True)
class Gearing:
    """What lies between engine, shaft and road."""

    tyre_radius: float
    """Rolling radius, mm: about 0.97 of half of the tyre's diameter (from memory)."""
    axle_ratio: float
    top_gear: float = 1.0
    """Gearbox in its last gear: under 1 for an overdrive."""

    def __post_init__(self) -> None:
        require_fields(SpeedError, self, "tyre_radius axle_ratio top_gear")

    def wheel_speed(self, road: float) -> float:
        """Turning of the wheels, rad/s, at a road speed, mm/s, without slip: v / r."""
        require_not_negative(SpeedError, road_speed=road)
        return road / self.tyre_radius

    def shaft_speed(self, road: float) -> float:
        """Turning of the shaft, rad/s, at a road speed, mm/s: i v / r.

        The gears take no part: the shaft is geared to the wheels, so an overdrive turns it no
        faster at the same road speed; a lower axle ratio does.
        """
        return self.axle_ratio * self.wheel_speed(road)

    def road_speed(self, shaft: float) -> float:
        """Road speed, mm/s, at which the shaft turns at `shaft` rad/s."""
        require_not_negative(SpeedError, shaft_speed=shaft)
        return shaft * self.tyre_radius / self.axle_ratio

    def engine_speed(self, road: float) -> float:
        """Turning of the engine, rad/s, at a road speed, mm/s, in top gear and high range."""
        return self.shaft_speed(road) * self.top_gear
