"""Where the axle sits on the road: level, under power, coasting."""

from typing import Final, Literal

from sim.vehicle import Pose, TravelRegion

Load = Literal["level", "power", "coast"]
"""level: ride height, no wrap. power: driving forward steadily. coast: foot off, in gear."""

LOADS: Final[tuple[Load, ...]] = ("level", "power", "coast")

UNDER_POWER: Final = 0.5
"""Share of the whole wrap that steady driving takes; common practice, no source."""

COASTING: Final = 0.25
"""Share of the whole wrap the other way that an engine holding back takes: with its throttle shut
it holds back with about a quarter of what it pulls with (from memory)."""


def driven(travel: TravelRegion, front: bool, share: float = UNDER_POWER) -> float:
    """Wrap (rad, nose up) of driving forward, which lowers the nose of a front axle.

    share : of the whole wrap; that of steady driving where not given.
    """
    return share * (-travel.nose_down if front else travel.nose_up)


def held_back(travel: TravelRegion, front: bool, share: float = COASTING) -> float:
    """Wrap (rad, nose up) of coasting in gear, which lifts the nose of a front axle."""
    return share * (travel.nose_up if front else -travel.nose_down)


def pose_under(travel: TravelRegion, front: bool, load: Load) -> Pose:
    """Ride height with the wrap of a load."""
    wraps = {"level": 0.0, "power": driven(travel, front), "coast": held_back(travel, front)}
    return Pose(wrap=wraps[load])
