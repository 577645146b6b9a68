"""Which limits of the axle a pose lies beyond."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from sim.tolerances import TOL
from sim.travel.region import Pose, TravelRegion

Way = Literal[
    "droop",
    "left droop",
    "right droop",
    "bump",
    "left bump",
    "right bump",
    "roll",
    "nose up",
    "nose down",
]
"""What ends a motion of the axle: of both sides together, or of one."""


ANGLES: Final[frozenset[Way]] = frozenset({"roll", "nose up", "nose down"})
"""Those that are told in rad; the others in mm."""


@dataclass(frozen=True)
class Overstep:
    """A limit that a pose lies beyond.

    Attributes
    ----------
    way : which one.
    asked, limit : distances from ride height, mm; for roll and wrap, rad.
    """

    way: Way
    asked: float
    limit: float


def oversteps(region: TravelRegion, at: Pose) -> tuple[Overstep, ...]:
    """Every limit that a pose lies beyond; none where the axle can be."""
    return tuple(each for each in _asked(region, at) if each.asked > each.limit + _slack(each))


def _asked(region: TravelRegion, at: Pose) -> Iterator[Overstep]:
    left, right = (float(side) for side in region.sides(at.travel, at.roll))
    level = abs(left - right) <= TOL.same_height
    if level or region.droop_strap == "middle":
        yield Overstep("droop", -at.travel, region.droop)
    else:
        yield Overstep("left droop", -left, region.droop)
        yield Overstep("right droop", -right, region.droop)
    if level:
        yield Overstep("bump", at.travel, region.bump)
    else:
        yield Overstep("left bump", left, region.bump)
        yield Overstep("right bump", right, region.bump)
    yield Overstep("roll", abs(at.roll), region.roll)
    share = float(region.wrap_share(at.travel))
    yield Overstep("nose up", at.wrap, region.nose_up * share)
    yield Overstep("nose down", -at.wrap, region.nose_down * share)


def _slack(each: Overstep) -> float:
    return TOL.same_angle if each.way in ANGLES else TOL.same_height
