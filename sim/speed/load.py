"""Where the axle sits on the road: level, under power, coasting, pulling away, loaded, hanging."""

from typing import Final, Literal

from sim.vehicle import Pose, TravelRegion

Load = Literal["level", "power", "coast", "takeoff", "loaded", "drooped"]
"""level: ride height, no wrap. power: driving forward steadily. coast: foot off, in gear. takeoff:
pulling away, with all the wrap there is. loaded, drooped: part of the way up or down, no wrap."""

LOADS: Final[tuple[Load, ...]] = ("level", "power", "coast")
"""Those of steady driving."""

UNDER_POWER: Final = 0.5
"""Share of the whole wrap that steady driving takes; common practice, no source."""

COASTING: Final = 0.25
"""Share of the whole wrap the other way that an engine holding back takes: with its throttle shut
it holds back with about a quarter of what it pulls with (from memory)."""


PART_WAY: Final = 0.5
"""Share of the bump that a load takes, and of the droop where it hangs; common practice, no
source."""


def driven(travel: TravelRegion, front: bool, share: float = UNDER_POWER) -> float:
    """Wrap (rad, nose up) of driving forward, which lowers the nose of a front axle.

    share : of the whole wrap; that of steady driving where not given.
    """
    return share * (-travel.nose_down if front else travel.nose_up)


def held_back(travel: TravelRegion, front: bool, share: float = COASTING) -> float:
    """Wrap (rad, nose up) of coasting in gear, which lifts the nose of a front axle."""
    return share * (travel.nose_up if front else -travel.nose_down)


def pose_under(travel: TravelRegion, front: bool, load: Load) -> Pose:
    """The pose of the axle under a load."""
    poses: dict[Load, Pose] = {
        "level": Pose(),
        "power": Pose(wrap=driven(travel, front)),
        "coast": Pose(wrap=held_back(travel, front)),
        "takeoff": Pose(wrap=driven(travel, front, 1.0)),
        "loaded": Pose(travel=PART_WAY * travel.bump),
        "drooped": Pose(travel=-PART_WAY * travel.droop),
    }
    return poses[load]
