"""Drives that can be played: what the axle and the shaft do over a few seconds on the road.

The share of the travel each one uses is to show, not measured: common practice, no source.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, pi, sin, tau

from sim.vehicle import Pose, TravelRegion

TURNS_A_SECOND = 0.5
"""Slow enough to see each ear go by."""


@dataclass(frozen=True)
class Drive:
    """One drive.

    Attributes
    ----------
    name : what it is called.
    says : what happens, in a line.
    seconds : how long it lasts.
    shape : shares (travel, roll, wrap) at a share of the time, each -1 to 1: of the travel, and of
        the roll and the wrap that the axle has at that height.
    by_load : whether a front axle does the opposite: it droops and dives where a rear one squats.
    stays : whether the axle stays where it is and only the shaft turns.
    crosses : whether it is about rolling: the height then keeps to those with the most roll.
    """

    name: str
    says: str
    seconds: float
    shape: Callable[[float], tuple[float, float, float]]
    by_load: bool = False
    stays: bool = False
    crosses: bool = False

    def spin(self, seconds: float) -> float:
        """Turn of the output yoke (rad) after some seconds."""
        return (tau * TURNS_A_SECOND * seconds) % tau

    def pose(self, seconds: float, box: TravelRegion, front: bool) -> Pose:
        """Pose of the axle after some seconds."""
        travel, roll, wrap = self.shape(seconds / self.seconds)
        if front and self.by_load:
            travel, wrap = -travel, -wrap
        at = box.at_shares(travel, roll, wrap)
        if not self.crosses:
            return at
        low, high = (float(each) for each in box.travel_limits(box.most_roll, 0.0))
        there = abs(roll)
        height = (1.0 - there) * at.travel + there * min(max(at.travel, low), high)
        return box.held(Pose(height, roll * box.most_roll, at.wrap))


def _swell(share: float) -> float:
    """Out and back: 0 at both ends, 1 in the middle, at rest at all three."""
    return 0.5 * (1.0 - cos(2.0 * pi * share))


DRIVES = {
    drive.name: drive
    for drive in (
        Drive("droop", "hangs out and comes back", 6.0, lambda s: (-_swell(s), 0.0, 0.0)),
        Drive("bump", "goes up to its stops", 5.0, lambda s: (_swell(s), 0.0, 0.0)),
        Drive(
            "crossed up",
            "one wheel stuffed, the other hanging",
            8.0,
            lambda s: (-0.25 * _swell(s), sin(2.0 * pi * s), 0.0),
            crosses=True,
        ),
        Drive(
            "launch",
            "full power: a rear nose comes up, a front one dives",
            5.0,
            lambda s: (0.35 * _swell(s), 0.0, _swell(s)),
            by_load=True,
        ),
        Drive(
            "braking",
            "brakes: a rear nose goes down, a front one comes up",
            5.0,
            lambda s: (-0.35 * _swell(s), 0.0, -_swell(s)),
            by_load=True,
        ),
        Drive(
            "turn by hand",
            "two slow turns of the shaft",
            4.0,
            lambda _: (0.0, 0.0, 0.0),
            stays=True,
        ),
    )
}
