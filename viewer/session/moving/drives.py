"""Drives that can be played: what the axle and the shaft do over a few seconds on the road.

The share of the travel each one uses is to show, not measured: common practice, no source.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from math import cos, pi, sin, tau

from sim.vehicle import RIDE, Pose, TravelRegion
from viewer.session.moving.legs import Leg, smooth

TURNS_A_SECOND = 0.5
"""Slow enough to see each ear go by."""

LEAD = 0.8
"""s that an axle takes to where a drive begins, where it is elsewhere."""


@dataclass(frozen=True)
class Course:
    """A drive as it is played once, from where the axle and the shaft are.

    Neither pose nor turn jumps, from where both were at the beginning to the end.

    Attributes
    ----------
    seconds : how long it lasts.
    pose : of the axle after some seconds; None where it stays as it is.
    turned : by how much (rad) a hand has turned the output yoke by then, seen in the chassis.
    arrives : seconds after which it stops at what it is about, and may be pushed on from there;
        None for one that stops nowhere.
    """

    seconds: float
    pose: Callable[[float], Pose] | None
    turned: Callable[[float], float]
    arrives: float | None = None

    def at(self, start: Pose, seconds: float) -> Pose:
        """Pose after some seconds of a drive that began at `start`."""
        return start if self.pose is None else self.pose(seconds)


class Drive(ABC):
    """Something to play.

    Attributes
    ----------
    name : what it is called.
    says : what happens, in a line.
    stays : whether the axle stays where it is and only the shaft turns.
    """

    name: str
    says: str
    stays: bool = False

    @abstractmethod
    def course(self, at: Pose, spin: float, box: TravelRegion, front: bool, /) -> Course:
        """The drive as it is played from a pose and a turn (rad)."""

    def stopped_says(self) -> str:
        """What it stopped at, in a sentence."""
        return ""

    def ended_says(self) -> str:
        """What holds where it ends, in a sentence."""
        return ""


@dataclass(frozen=True)
class RoadDrive(Drive):
    """What an axle does on the road.

    Attributes
    ----------
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

    def course(self, at: Pose, _spin: float, box: TravelRegion, front: bool, /) -> Course:
        """From where the axle is to ride height, and the drive from there."""
        lead = 0.0 if self.stays or at == RIDE else LEAD
        home = Leg(at, RIDE, lead, smooth)

        def pose(seconds: float) -> Pose:
            if seconds < lead:
                return home.pose(seconds)
            return self.pose(seconds - lead, box, front)

        def turned(seconds: float) -> float:
            return tau * TURNS_A_SECOND * seconds

        return Course(lead + self.seconds, None if self.stays else pose, turned)

    def pose(self, seconds: float, box: TravelRegion, front: bool) -> Pose:
        """Pose of the axle after some seconds, begun at ride height."""
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
        RoadDrive("droop", "hangs out and comes back", 6.0, lambda s: (-_swell(s), 0.0, 0.0)),
        RoadDrive("bump", "goes up to its stops", 5.0, lambda s: (_swell(s), 0.0, 0.0)),
        RoadDrive(
            "crossed up",
            "one wheel stuffed, the other hanging",
            8.0,
            lambda s: (-0.25 * _swell(s), sin(2.0 * pi * s), 0.0),
            crosses=True,
        ),
        RoadDrive(
            "launch",
            "full power: a rear nose comes up, a front one dives",
            5.0,
            lambda s: (0.35 * _swell(s), 0.0, _swell(s)),
            by_load=True,
        ),
        RoadDrive(
            "braking",
            "brakes: a rear nose goes down, a front one comes up",
            5.0,
            lambda s: (-0.35 * _swell(s), 0.0, -_swell(s)),
            by_load=True,
        ),
        RoadDrive(
            "turn by hand",
            "two slow turns of the shaft",
            4.0,
            lambda _: (0.0, 0.0, 0.0),
            stays=True,
        ),
    )
}
