"""How far a joint may bend: until metal meets, and until less is left than is wanted.

Everything that judges a joint goes by the same two curves, so it tells the same: `check`, one pose,
the travel map, the turn strip.
"""

from dataclasses import dataclass
from typing import Literal

from geometry.contact.touch import TouchCurve
from sim.findings import Verdict
from sim.head.hardware import EndHardware
from sim.rig.wanted import Wanted

Short = Literal["bend", "gap"]
"""What there is less of than wanted: bend left before metal meets, or gap between the metal."""


@dataclass(frozen=True)
class JointRoom:
    """The limits of one joint.

    Attributes
    ----------
    touch : when metal meets.
    keeps : up to which bend the gap wanted is left, the curve of that gap.
    wanted_bend : rad, bend wanted to be left before metal meets.
    """

    touch: TouchCurve
    keeps: TouchCurve
    wanted_bend: float

    @classmethod
    def of(cls, hardware: EndHardware, wanted: Wanted) -> "JointRoom":
        """Find the limits of a joint for what is wanted; from the cache where they are known.

        Raises ShapeError when its parts overlap before it bends.
        """
        return cls(hardware.touch(), hardware.touch(wanted.gap.mm), wanted.bend.rad)

    @property
    def clear_to(self) -> float:
        """Largest bend (rad) that leaves all that is wanted at every turn of the shaft."""
        return min(self.touch.certified_clear - self.wanted_bend, self.keeps.certified_clear)

    @property
    def reserve(self) -> float:
        """Bend (rad) from there to where metal meets: what has to be left to be clear."""
        return self.touch.certified_clear - self.clear_to

    @property
    def gap_governs(self) -> bool:
        """Whether the gap wanted runs short before the bend wanted does."""
        return self.keeps.certified_clear < self.touch.certified_clear - self.wanted_bend

    def left(self, bend: float) -> float:
        """Bend (rad) left to where metal meets at some turn; negative past it."""
        return self.touch.certified_clear - bend

    def verdict(self, bend: float) -> Verdict:
        """Verdict on a bend (rad), over a whole turn of the shaft."""
        if not self.left(bend) > 0.0:
            return "touches"
        return "clear" if bend <= self.clear_to else "close"

    def short_of(self, bend: float) -> Short | None:
        """What runs short at a bend (rad); the bend where both do, None where neither does."""
        if self.left(bend) < self.wanted_bend:
            return "bend"
        return "gap" if bend > self.keeps.certified_clear else None
