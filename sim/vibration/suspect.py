"""What a suspect is: something that may shake, how often, and whether the rig foretells it."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from types import MappingProxyType
from typing import ClassVar, Literal

from sim.remark import Remark
from sim.speed.orders import TurnsWith
from sim.vibration.case import Case
from sim.vibration.symptom import When

SuspectCode = Literal[
    "tyres",
    "balance",
    "joint-angles",
    "worn-joint",
    "wind-up",
    "whirl",
    "carrier",
    "axle-gears",
    "engine",
    "other-shaft",
]
"""Names of the suspects, in JSON."""

Says = Literal["yes", "near", "no", "untold"]
"""Whether the rig foretells a shake: it does; within the doubt of the limit; it does not; nothing
that is measured of a rig tells."""


@dataclass(frozen=True)
class Prediction:
    """What the rig's own numbers say of a suspect.

    Attributes
    ----------
    share : of the limit, where there is one; 1 is at it.
    why : the numbers behind it.
    """

    says: Says
    share: float | None = None
    why: Remark | None = None


UNTOLD = Prediction("untold")


def points(*, power: int, coast: int, always: int, takeoff: int) -> Mapping[When, int]:
    """Points for when it shakes."""
    return MappingProxyType({"power": power, "coast": coast, "any": always, "takeoff": takeoff})


class Suspect(ABC):
    """One thing that may shake.

    Class attributes
    ----------------
    code : its name.
    turns_with : what it turns with. orders : how often a turn it shakes; a span of them where
        `is_span`, since the number itself is not known.
    common : points for how often it is the cause at all.
    at : points for when it shakes. under_load : points where it takes weight or droop.
    least : Hz under which it is too slow to be felt.
    of_shaft : whether it is this rig's own shaft that shakes.

    All points are common practice, no source.
    """

    code: ClassVar[SuspectCode]
    turns_with: ClassVar[TurnsWith] = "shaft"
    orders: ClassVar[tuple[float, ...]]
    is_span: ClassVar[bool] = False
    common: ClassVar[int] = 0
    at: ClassVar[Mapping[When, int]]
    under_load: ClassVar[int] = 0
    least: ClassVar[float] = 0.0
    of_shaft: ClassVar[bool] = True

    def comes_in(self, case: Case) -> bool:  # noqa: ARG002  most may shake in any rig
        """Whether it may shake in such a rig at all."""
        return True

    @abstractmethod
    def predicted(self, case: Case) -> Prediction:
        """What the rig's own numbers say."""

    def frequencies(self, case: Case) -> tuple[float, ...]:
        """Hz of each of its orders; none where the speed is not known."""
        turning = getattr(case.turns, self.turns_with)
        return () if turning is None else tuple(o * turning / (2.0 * pi) for o in self.orders)
