"""What grinding gains, and what it costs."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from geometry.mesh import Floats, Mesh

Way = Literal["driving", "driven", "shared"]
"""Who gives way: one yoke alone, or both by half of the overlap."""

Reason = Literal["wall", "hardware", "seat", "cross", "uncertain"]
"""Why grinding stops.
wall: the wall left would be under the least allowed.
hardware, seat: a surface would have to give way that is never ground; see `HARD`.
cross: the cross itself touches, whatever is ground off the yokes.
uncertain: the certificate did not confirm more."""


@dataclass(frozen=True)
class Stop:
    """What keeps a plan from the bend wanted.

    reason : the kind of thing.
    body : "driving", "driven" or "cross": whose it is.
    surface : its name; empty for a wall.
    bend : rad, the lowest bend looked at for which it was met.
    """

    reason: Reason
    body: str
    surface: str
    bend: float


@dataclass(frozen=True, eq=False)
class Cut:
    """What is ground off one yoke, in its yoke frame.

    volume : mm3 taken off.
    depth : mm, deepest below the old surface.
    deepest : (3,) mm, where.
    wall : mm left where the metal behind the ground surface is nearest to its limit; inf where
        none is near.
    limit : mm, what has to stay there: the least wall, or four fifths of what was there where
        the yoke was hardly thicker to begin with.
    thinnest : (3,) mm, where that is, on the ground surface.
    surfaces : names of the surfaces that are ground, most area first.
    contact, body : the yoke after grinding; what is ground is named "ground".
    chips : what was taken off, as closed pieces.
    """

    volume: float
    depth: float
    deepest: Floats
    wall: float
    limit: float
    thinnest: Floats
    surfaces: tuple[str, ...]
    contact: Mesh
    body: Mesh
    chips: Mesh

    def __post_init__(self) -> None:
        for name in ("deepest", "thinnest"):
            place = np.array(getattr(self, name), dtype=np.float64)
            place.flags.writeable = False
            object.__setattr__(self, name, place)


@dataclass(frozen=True, eq=False)
class Plan:
    """One way of grinding.

    way : who gives way.
    before, reached : rad, certified clear bend before and after.
    cuts : by "driving" and "driven", only where something is ground; not to be changed.
    gap : mm, smallest gap between the yokes seen over a turn at the bend reached.
    stop : what keeps it from the bend wanted; None when that is reached.
    """

    way: Way
    before: float
    reached: float
    cuts: dict[str, Cut]
    gap: float
    stop: Stop | None

    @property
    def gained(self) -> float:
        """Bend gained, rad."""
        return self.reached - self.before

    @property
    def volume(self) -> float:
        """Metal taken off both yokes, mm3."""
        return sum(cut.volume for cut in self.cuts.values())


@dataclass(frozen=True, eq=False)
class Relief:
    """What grinding gains at one joint.

    wanted : rad, the bend asked for.
    clearance : mm, kept all round at that bend.
    least_wall : mm, the thinnest wall allowed.
    before : rad, certified clear bend as it is.
    plans : each yoke alone, and both by half.
    """

    wanted: float
    clearance: float
    least_wall: float
    before: float
    plans: tuple[Plan, ...]

    def plan(self, way: Way) -> Plan:
        """Give the plan of one way."""
        return next(plan for plan in self.plans if plan.way == way)

    @property
    def already(self) -> bool:
        """Whether the joint is clear at the bend wanted as it is, so that nothing is ground."""
        return self.wanted <= self.before

    @property
    def enough(self) -> bool:
        """Whether some plan reaches the bend wanted."""
        return any(plan.stop is None for plan in self.plans)
