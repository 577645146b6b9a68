"""What an axle has to do for something to be past its limit: hang, cross up, or wrap.

The poses of the axle are cut down to those that are level, those without wrap, and those that are
neither crossed up nor wrapped; each is searched like the whole.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from sim.search.first_past import DIRECTIONS, FirstPast, closest
from sim.search.worst import PoseFunction, extreme
from sim.vehicle import Pose, TravelRegion

Takes = Literal[
    "ride height", "both hanging", "both up", "crossed up", "wrap", "crossed up or wrap",
    "crossed up and wrap",
]  # fmt: skip
"""Nothing: it is past its limit at ride height. Both sides at one height, without wrap. Crossed up
without wrap, as level it never is. Wrap while level, as without wrap it never is. Either of the
two. Both together."""


@dataclass(frozen=True)
class WhatItTakes:
    """What it takes to be past a limit.

    Attributes
    ----------
    takes : the least that does.
    level : the height nearest to ride height at which it is so level and without wrap; None where
        it never is.
    """

    takes: Takes
    level: Pose | None


def what_it_takes(past: PoseFunction, region: TravelRegion) -> WhatItTakes:
    """Tell for a limit that is reached somewhere in the region.

    past : how far past its limit a pose is, (...); not below zero somewhere.
    """
    return takes_by(lambda part: _first(past, part), lambda part: _ever(past, part), region)


def takes_by(
    first: Callable[[TravelRegion], Pose | None],
    ever: Callable[[TravelRegion], bool],
    region: TravelRegion,
) -> WhatItTakes:
    """Tell for something that happens somewhere in the region.

    first : the pose nearest to ride height of a level part without wrap where it does, if any.
    ever : whether it does anywhere in a part.
    """
    plain = first(region.level().unwrapped())
    if plain is not None:
        return WhatItTakes(_height(plain), plain)
    wrap, rolled = (ever(part) for part in (region.level(), region.unwrapped()))
    if wrap and rolled:
        return WhatItTakes("crossed up or wrap", None)
    if wrap or rolled:
        return WhatItTakes("wrap" if wrap else "crossed up", None)
    return WhatItTakes("crossed up and wrap", None)


def _height(at: Pose) -> Takes:
    if at.travel == 0.0:
        return "ride height"
    return "both hanging" if at.travel < 0.0 else "both up"


def _first(past: PoseFunction, region: TravelRegion) -> Pose | None:
    return closest(FirstPast(past, region, way).nearest() for way in DIRECTIONS)


def _ever(past: PoseFunction, region: TravelRegion) -> bool:
    return extreme(past, region, "most").value >= 0.0
