"""The root of a trunnion as fatigue sees it: nominal bending times its notch."""

from dataclasses import dataclass
from math import cos, pi, sqrt
from typing import Final

from geometry.cross import CrossShape
from sim.parts.materials import Material
from sim.strength import Trunnion, joint_load

FILLET: Final = 0.08
"""Radius at the root over the trunnion's diameter (from memory; nobody measures it)."""

FILLET_BAND: Final = (0.05, 0.15)
"""Between which it may be (from memory)."""

PLASTIC: Final = 16.0 / (3.0 * pi)
"""Moment at which all of a round section yields, over that at which its outside does
[derivation]: the root of a core that is tough breaks at its strength times this."""


@dataclass(frozen=True)
class Root:
    """A trunnion's root at a bend of its joint."""

    trunnion: Trunnion
    step: float
    """The hub's diameter over the trunnion's."""
    bend: float
    """rad."""

    @classmethod
    def of(cls, shape: CrossShape, bend: float) -> "Root":
        """Root of a cross of the catalogue, hub and all."""
        return cls(Trunnion.of(shape), shape.hub_diameter / shape.trunnion_diameter, bend)

    def nominal(self, torque: float) -> float:
        """Bending stress (MPa) of the cap force T/(2R) of a torque (N mm) in the cross."""
        force = joint_load(torque, 0.0, self.trunnion.arm).cap_force
        return self.trunnion.root.bending(force * self.trunnion.lever)

    def notch(self, fillet: float = FILLET) -> float:
        """Local over nominal stress of a shoulder, with a fillet by its share of the diameter.

        A fit to finite elements [TIPTON, from memory]; the tests find it again. Hard steel feels
        all of it (from memory).
        """
        square = self.step**2
        over = -0.14 - 0.363 * square + 0.503 * square**2
        under = 1.0 - 2.39 * square + 3.368 * square**2
        return float(0.632 + 0.377 * self.step**-4.4 + sqrt(over / (under * fillet)))

    def breaks_at(self, steel: Material) -> float:
        """Torque in the shaft (N mm) at which the core breaks at the first pull."""
        return PLASTIC * steel.breaks * cos(self.bend) / self.nominal(1.0)
