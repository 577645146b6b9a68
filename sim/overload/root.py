"""The root of a trunnion as fatigue sees it: nominal bending times its notch."""

from dataclasses import dataclass
from math import cos, pi
from typing import Final

import numpy as np

from geometry.cross import CrossShape
from sim.parts.materials import Material
from sim.strength import Trunnion, joint_load

FILLET: Final = 0.08
"""Radius at the root over the trunnion's diameter (from memory; nobody measures it)."""

FILLET_BAND: Final = (0.05, 0.15)
"""Between which it may be (from memory)."""

_STEPS: Final = (1.01, 1.03, 1.05, 1.07, 1.1, 1.2, 1.5, 2.0, 3.0, 6.0)
_FACTOR: Final = (
    0.91938, 0.98061, 0.98137, 0.97527, 0.95120, 0.97098, 0.93836, 0.90879, 0.89334, 0.87868,
)  # fmt: skip
_POWER: Final = (
    0.17032, 0.18381, 0.19653, 0.20958, 0.23757, 0.21796, 0.25759, 0.28598, 0.30860, 0.33243,
)  # fmt: skip
"""A and b of a shoulder in bending, A (r/d)^-b, by its step D/d [NORTON, from memory]."""

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
        """Local over nominal stress of a shoulder with a fillet, as a share of the diameter.

        Hard steel feels all of it (from memory).
        """
        factor, power = (np.interp(self.step, _STEPS, row) for row in (_FACTOR, _POWER))
        return max(1.0, float(factor * fillet**-power))

    def breaks_at(self, steel: Material) -> float:
        """Torque in the shaft (N mm) at which the core breaks at the first pull."""
        return PLASTIC * steel.breaks * cos(self.bend) / self.nominal(1.0)
