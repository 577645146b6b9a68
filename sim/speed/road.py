"""How fast the shaft turns: from road speed, tyre, axle ratio; and what each gear allows."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from geometry.errors import BindpointError
from sim.quantities import require_not_negative, require_positive


class SpeedError(BindpointError, ValueError):
    """Ratios or speeds that no shaft turns at."""


class GearSpeed(NamedTuple):
    """One gear in one range; speeds at the engine's top speed."""

    gear: int
    """Counted from 1, the lowest."""
    range: int
    """Counted from 0, as the ranges were given."""
    shaft: float
    """Shaft, rad/s."""
    road: float
    """Road, mm/s."""


@dataclass(frozen=True)
class Gearing:
    """What lies between engine, shaft and road."""

    tyre_radius: float
    """Rolling radius, mm: about 0.97 of half of the tyre's diameter (from memory)."""
    axle_ratio: float
    gears: tuple[float, ...] = (1.0,)
    """Gearbox, from the lowest (largest number) to overdrive."""
    ranges: tuple[float, ...] = (1.0,)
    """Transfer case: (1.0, 2.72)."""
    engine_top: float | None = None
    """Fastest the engine turns, rad/s."""

    def __post_init__(self) -> None:
        require_positive(SpeedError, tyre_radius=self.tyre_radius, axle_ratio=self.axle_ratio)
        for what, ratios in (("gears", self.gears), ("ranges", self.ranges)):
            if not ratios:
                raise SpeedError(f"{what}: got none, expected at least one ratio")
            for ratio in ratios:
                require_positive(SpeedError, **{f"ratio of {what}": ratio})
        if self.engine_top is not None:
            require_positive(SpeedError, engine_top=self.engine_top)

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

    def engine_speed(self, road: float, gear: int = -1, low: int = 0) -> float:
        """Turning of the engine, rad/s, at a road speed, mm/s; gear and range by their place."""
        return (
            self.shaft_speed(road)
            * _picked("gear", self.gears, gear)
            * _picked("range", self.ranges, low)
        )

    def top_speeds(self) -> tuple[GearSpeed, ...]:
        """What each gear and range allows at the engine's top speed.

        Raises SpeedError when that is not known.
        """
        if self.engine_top is None:
            raise SpeedError("top speeds: the engine's top speed is not given")
        found = []
        for place, low in enumerate(self.ranges):
            for number, gear in enumerate(self.gears, start=1):
                shaft = self.engine_top / (gear * low)
                found.append(GearSpeed(number, place, shaft, self.road_speed(shaft)))
        return tuple(found)


def _picked(what: str, ratios: Sequence[float], place: int) -> float:
    if not -len(ratios) <= place < len(ratios):
        raise SpeedError(f"{what}: got place {place}, there are {len(ratios)}")
    return ratios[place]
