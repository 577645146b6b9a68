"""How far a joint may bend: until metal meets, and until less is left than is wanted.

Everything that judges a joint goes by the same two curves, so it tells the same: `check`, one pose,
the travel map, the turn strip, the cures, the ticket.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from geometry.contact.touch import TouchCurve
from sim.findings import Verdict
from sim.hardware.head import EndHardware
from sim.rig.wanted import Wanted

Short = Literal["bend", "gap"]
"""What there is less of than wanted: bend left before metal meets, or gap between the metal."""


@dataclass(frozen=True, eq=False)
class JointRoom:
    """The parts of one joint and the limits of its bend, found when first asked for.

    Both curves come from the cache where they are known. Asking for one raises ShapeError when the
    parts overlap before the joint bends.

    Attributes
    ----------
    hardware : its parts.
    wanted : what is wanted to be left.
    """

    hardware: EndHardware
    wanted: Wanted

    @cached_property
    def touch(self) -> TouchCurve:
        """When metal meets."""
        return self.hardware.touch()

    @cached_property
    def keeps(self) -> TouchCurve:
        """Up to which bend the gap wanted is left, the curve of that gap."""
        return self.hardware.touch(self.wanted.gap.mm)

    @property
    def clear(self) -> float:
        """Certified clear bend, rad."""
        return self.touch.certified_clear

    @property
    def wanted_bend(self) -> float:
        """Bend wanted to be left before metal meets, rad."""
        return self.wanted.bend.rad

    @property
    def clear_to(self) -> float:
        """Largest bend (rad) that leaves all that is wanted at every turn of the shaft."""
        return min(self.clear - self.wanted_bend, self.keeps.certified_clear)

    @property
    def reserve(self) -> float:
        """Bend (rad) from there to where metal meets: what has to be left to be clear."""
        return self.clear - self.clear_to

    @property
    def gap_governs(self) -> bool:
        """Whether the gap wanted runs short before the bend wanted does."""
        return self.keeps.certified_clear < self.clear - self.wanted_bend

    def left(self, bend: float) -> float:
        """Bend (rad) left to where metal meets at some turn; negative past it."""
        return self.clear - bend

    def has_gap(self, bend: float) -> bool:
        """Whether the gap wanted is left over a turn at a bend (rad)."""
        return bend <= self.keeps.certified_clear

    def known_tight(self, bend: float) -> bool:
        """Whether it is known already, without finding the curve, that it is not."""
        return "keeps" in self.__dict__ and not self.has_gap(bend)

    def verdict(self, bend: float) -> Verdict:
        """Verdict on a bend (rad), over a whole turn of the shaft."""
        if not self.left(bend) > 0.0:
            return "touches"
        return "clear" if bend <= self.clear_to else "close"

    def short_of(self, bend: float) -> Short | None:
        """What runs short at a bend (rad); the bend where both do, None where neither does."""
        if self.left(bend) < self.wanted_bend:
            return "bend"
        return None if self.has_gap(bend) else "gap"
